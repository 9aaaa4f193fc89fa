/* The inside of shop_order.h, for its own files. Moments are minutes since now, in 32 bits: a state
 * is then small enough to be kept before every task. */
#ifndef CORE_TIMETABLE_SHOP_ORDER_INSIDE_H
#define CORE_TIMETABLE_SHOP_ORDER_INSIDE_H

#include "core/timetable/shop_order.h"
#include "core/timetable/shop_order_room.h"

#include <string.h>

enum {
    AHEAD = 6,                /* a tool is left wet for one of its row so near in the order */
    WITHIN = 12,              /* a task goes on with one of its row so near before it */
    HORIZON_MOST = 90 * 1440, /* minutes */
    MOMENT_FAR = 1 << 29,     /* beyond every horizon; two of them can be added */
    TABLES_MOST = 12,         /* of drying times; others are reckoned each time */
    NEAR_SHIFT = 6,           /* windows are looked up by 64 minutes */
    DRY = 1,
    WET = 1 << TIMETABLE_MAX_PERSONS,
    STATES_MOST = 4 << 20, /* bytes of kept states; where more were needed, fewer are kept */
};

/* So many minutes after a moment, at the rates of a climate or by the clock. */
struct order_minutes {
    const uint16_t *table; /* of those begun at base: [base & mask]; NULL: reckon */
    const struct drying *drying;
    int32_t mask; /* 0: a table of one, by the clock, so that there is no branch between both */
    int32_t minutes;
    uint16_t few; /* the same if they are */
};

/* A lag from another open task: its minimum or its maximum. A maximum from what is not in the order
 * has from TIMETABLE_NONE, and is over at lasts.minutes. */
struct order_lag {
    struct order_minutes lasts;
    int32_t from;
    int32_t scuff; /* of a maximum; < 0: it must not be missed */
    bool from_start;
};

/* A hold that a task opens, ends, or both. */
struct order_hold {
    struct order_minutes lasts; /* on from the end of the work */
    size_t room_at;
    int32_t amount;
    int16_t hold;
    bool opens, ends, from_start;
    bool closed; /* by an open task */
};

struct order_window {
    int32_t from, to;
};
/* When a resource is shut; one far off at the end. */
struct order_shut {
    const struct order_window *spans; /* NULL: never */
    const uint16_t *near;             /* [horizon >> NEAR_SHIFT] first that ends after */
};

/* What is needed of a task each time it is put, side by side. */
struct order_task {
    double late, room; /* energy of a minute late, of a working minute at the start */
    int32_t earliest, due, work;
    int32_t latest;                   /* end that is wanted, in working minutes of all */
    int32_t setup, cleanup, keep_wet; /* minutes; 0 without a row */
    int32_t wait, max, max_past;      /* lags: minima wait..max - 1, maxima max..max_past - 1 */
    int32_t hold, hold_past;
    const struct order_shut *shut; /* of what the task alone holds; NULL: it is never shut */
    int32_t shut_hold;             /* that hold, with shut */
    uint32_t people;               /* bits of those who may */
    int16_t row;                   /* of setups; TIMETABLE_NONE */
    bool pausable, clock;          /* clock: takes nobody's time */
};

struct order_spot {
    int32_t start, end;
    int32_t person, follows; /* as in order_place */
};

struct order_person {
    struct order_window *windows; /* without what is fixed in them; one far off at their end */
    uint16_t *near;               /* [horizon >> NEAR_SHIFT] first window that ends after */
};

/* State between two tasks of an order: person_state of each person, then wet_state of each person
 * and row of set-ups, then room_state of each resource, in one block so that two can be compared.
 */
struct person_state {
    int32_t free;    /* works until then */
    int32_t pending; /* row of set-ups that is to be cleaned up before others; TIMETABLE_NONE */
};
struct wet_state { /* the last task of this person and row, in few bytes: most of a state are these
                    */
    int32_t end : 20; /* at most WET_MOST, beyond every horizon; -WET_MOST: none */
    uint32_t task : 12;
};
enum { WET_MOST = (1 << 19) - 1 };
_Static_assert(TIMETABLE_MAX_TASKS <= 1 << 12, "a task fits");
_Static_assert((int)HORIZON_MOST < (int)WET_MOST, "an end by the horizon fits");

struct order_inside {
    const struct shop *s;
    struct order_weights weights;
    double per_beyond, per_mean_end;
    int64_t now;
    int32_t horizon; /* minutes from now */
    int persons_n;
    int32_t *worked;              /* [horizon] of all, since now */
    uint16_t *dries[TABLES_MOST]; /* [horizon] minutes, begun then; NULL: too many */
    struct {
        int climate;
        int64_t minutes;
    } dries_as[TABLES_MOST];
    int tables_n;
    struct order_task *tasks; /* [tasks_n] */
    struct order_lag *lags;   /* minima and maxima to each task */
    struct order_hold *holds;
    struct order_shut *shut;    /* [resources_n] */
    int *before_first, *before; /* [tasks_n + 1]; tasks that must come earlier in the order */
    int *after_first, *after;   /* likewise; tasks that a lag from this one leads to */
    struct order_person *persons;
    int32_t *cleanup, *keep_wet; /* [setups_n] minutes */
    struct order_spot *spots;    /* [tasks_n] places of the order in hand */
    int16_t *rows;               /* [n] of set-ups in the order; none like them WITHIN places before
                                    it and AHEAD behind it, so that nobody looks where it ends */

    /* What is kept of the order that stands, at places 0..n of it. */
    size_t state_size, wet_at, rooms_at; /* bytes of a state; where its parts begin */
    size_t *room_at;                     /* [resources_n] */
    int stride;                          /* a state is kept at every 2^stride-th place */
    char **kept,
        **tried; /* [(n >> stride) + 1] states before a place, of what stands and of a try */
    double *kept_energy, *tried_energy; /* [n + 1] of all before */
    uint32_t *kept_asked, *tried_asked; /* [n] what left_wet told of each person's tool there: bits
 WET or DRY << person */

    /* A try. */
    char *state; /* the one in hand */
    uint32_t asked;
    uint64_t *stale;             /* bits of places in the order that must be put anew */
    int *done;                   /* [n] places in the order that were */
    struct order_spot *spot_was; /* [n] of their tasks before */
    int done_n;
    int moved_until; /* tools are perhaps another person's for those up to there in the order */

    int *task_was;      /* [n] */
    int *given, *stack; /* [n] for order_mend */
    bool *mended;       /* [tasks_n] */
};

static inline struct person_state *persons_of(char *state) {
    return (struct person_state *)state;
}
static inline struct wet_state *wet_of(const struct order_inside *x, char *state, int q, int row) {
    return (struct wet_state *)(state + x->wet_at) + q * x->s->p->setups_n + row;
}

static inline struct wet_state wet_since(int32_t end, int task) {
    return (struct wet_state){(end < WET_MOST ? end : WET_MOST) & WET_MOST, (uint32_t)task & 0xfff};
}

/* Is the tool of this row left wet at k, since the next of the row, near in the order, goes on
 * with it? */
static inline bool order_left_wet(const struct order_inside *x, const struct order *o, int k,
                                  int32_t row) {
    uint32_t same = 0; /* without a way out, which nobody could foresee */
    for (int j = 1; j <= AHEAD; j++) same |= (uint32_t)(x->rows[k + j] == row) << j;
    return same && o->goes_on[o->task[k + __builtin_ctz(same)]];
}

/* Minutes from now, at most MOMENT_FAR of them. */
static inline int32_t order_moment(const struct order_inside *x, int64_t t) {
    if (t > x->now + MOMENT_FAR) return MOMENT_FAR;
    if (t < x->now - MOMENT_FAR) return -MOMENT_FAR;
    return (int32_t)(t - x->now);
}

/* The moment at which what lasts so long from `base` is over. */
static inline int32_t order_after(const struct order_inside *x, const struct order_minutes *m,
                                  int32_t base) {
    if (m->table && base >= 0 && base < x->horizon) return base + m->table[base & m->mask];
    if (!m->drying) return base + m->minutes;
    return order_moment(x, drying_after(m->drying, x->now + base, m->minutes));
}

/* Puts task i, k-th of the order, into the state in hand; what it adds to the energy, INFINITY: no
 * place by the horizon. */
double order_put(struct order *o, int k, int i);

#endif
