/* What the parts of the bound by drying places share. */
#ifndef CORE_TIMETABLE_ROOM_INSIDE_H
#define CORE_TIMETABLE_ROOM_INSIDE_H

#include "core/base/limit.h"
#include "core/timetable/lp.h"
#include "core/timetable/shop.h"

enum {
    ROOM_CLASSES = 96,
    ROOM_NODES = 64, /* minutes at which sequences are cut */
    ROOM_RULES = 160,
    ROOM_DEPTHS = 8, /* beyond, order is not looked at */
    ROOM_COLUMNS = 2000,
    ROOM_ENTRIES = 60000,
    ROOM_ITEMS = 12000 /* starts in all columns */
};

/* Holds that take a place for the same time from the same start, whatever their dates. */
struct room_kind {
    int hold;       /* one of them */
    int32_t *until; /* [minutes_n] of a start: first working minute with the place free; -1: no
                       start */
    int64_t *takes; /* [minutes_n] minutes from a start until then */
};

/* Those of a kind that may start on the same days. */
struct room_class {
    int kind;
    int n;            /* how many */
    int64_t from, to; /* first and last start of any */
    int first, past;  /* the same as working minutes */
    int work;         /* minutes in a row that hands are on it; 0: not known */
    int depth;        /* holds that must come before it, as far as is known */
    bool after;       /* each of them follows another hold */
    bool before;      /* each has one that follows it, `gap` working minutes after its end */
    int gap;
    int64_t weight; /* minutes that one takes a place at least */
    int64_t price;
    const int32_t *until; /* of the kind */
    int64_t *earns;       /* [minutes_n] what a sequence gets for a start there */
};

/* A hold as the classes see it. */
struct room_hold {
    int kind;  /* -1: does not count */
    int class; /* likewise */
    int first, past;
    int follows, followed; /* holds; -1: none. Each has one follower at most */
    int gap, depth;
};

/* What all sequences together must keep to; sum over starts <= most. */
enum room_rule_kind {
    RULE_HANDS, /* minutes of hands in [at, to) */
    RULE_ORDER, /* starts of depth index + 1 before `at`, less those of depth `index` ready by then
                 */
    RULE_EARLY, /* starts of class `index` before `at` */
    RULE_LATE,  /* starts of class `index` at `at` or later */
};
struct room_rule {
    enum room_rule_kind kind;
    int index, at, to;
    int64_t most, price;
};

struct room_item {
    int class, start;
};

struct room {
    const struct shop *s;
    int64_t late;     /* weighted lateness that is allowed */
    int64_t *latest;  /* [tasks_n] ends for the finish in question */
    int64_t *minutes; /* [minutes_n] when somebody is at work */
    int minutes_n;
    struct room_kind kinds[ROOM_CLASSES];
    struct room_class classes[ROOM_CLASSES];
    int kinds_n, classes_n;
    struct room_hold *holds; /* [holds_n] */
    int64_t *value;          /* [minutes_n + 1] most that a sequence to each minute earns */
    int32_t *by;             /* class that ends this sequence, -1: it waits */
    int32_t *since;          /* where that class began */
    bool *fresh; /* [setups_n] tasks of this row are set up within the window they lie in, or go on
                    with one that is */
    /* of the prices */
    struct lp lp;
    int nodes[ROOM_NODES], nodes_n;
    struct room_rule rules[ROOM_RULES];
    int rules_n;
    int *item_first; /* [ROOM_COLUMNS + 1] of each column */
    struct room_item *items;
    int64_t *nothing;            /* [minutes_n + 2] zeros: no such price */
    int64_t *paid;               /* [minutes_n + 1] price of one pair of hands before each minute */
    double *sums;                /* [minutes_n + 2] */
    int64_t *order[ROOM_DEPTHS]; /* [minutes_n + 2] price of a start of depth d + 1 at each minute,
                                    and what one of depth d that is ready by then gets */
};

/* Room for all that is done until then; *r and its arrays are the arena's. Errors: E_MEMORY. */
enum status room_make(struct room *r, const struct shop *s, int64_t until, struct arena *arena);
enum status room_prices_make(struct room *r, struct arena *arena);

/* Classes of the holds that take `amount` or more of the resource and must end by r->latest;
 * linked: what follows what is told apart. false: too many, or none. */
bool room_classes(struct room *r, int resource, int32_t amount, bool linked);

/* How much of a rule a start uses up, and how much there is of it. */
int64_t room_rule_uses(const struct room *r, const struct room_rule *rule, int class, int start);
int64_t room_rule_most(const struct room *r, const struct room_rule *rule);

/* Proven that the classes do not fit into so many places? `rounds` of better prices at most;
 * rules are looked for that often. */
bool room_overfull(struct room *r, int64_t places, int rounds, int looks,
                   const struct limit *limit);

#endif
