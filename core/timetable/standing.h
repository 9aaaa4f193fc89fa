/* A timetable that is changed task by task: one is taken out, put elsewhere, and what stands in its
 * way there is named before it has to give way.
 *
 * Every rule holds between the tasks that have a place; a hold counts from when both its first and
 * its last task have one. Set-ups are shared wherever the tool is still wet. */
#ifndef CORE_TIMETABLE_STANDING_H
#define CORE_TIMETABLE_STANDING_H

#include "core/timetable/decode.h"

struct standing {
    const struct shop *shop;
    struct stand *stand;          /* [tasks_n] */
    struct diary *diaries;        /* [persons_n] */
    struct level *levels;         /* [resources_n] */
    struct timetable_span *held;  /* [holds_n] what a hold takes; from == to: nothing */
    struct timetable_span *asked; /* [holds_n] of the bid at hand */
    int *loose, *loose_at;        /* open tasks without a place; where each is in the list */
    int *ragged;                  /* tasks whose set-up or clean-up is not what it must be now */
    int loose_n, ragged_n;
    struct shop_list holds_of; /* of each resource: its holds */
};

enum { BID_GIVES = 12 };

/* A place for a task, and who would have to give way. */
struct bid {
    struct stand at;
    int next; /* the task that would go on with its set-up; TIMETABLE_NONE */
    int gives[BID_GIVES], gives_n;
    double cost; /* sum of what those cost */
};

/* ---- to change it ---- */

bool standing_make(struct standing *s, const struct shop *shop, struct arena *arena);
void standing_copy(struct standing *to, const struct standing *from); /* both of one shop */

/* Fixed tasks stand; all open ones are loose. */
void standing_clear(struct standing *s);

/* Puts a loose task where it stood once, unless that breaks a rule. To be called in order of start,
 * then standing_settle: `follows` may have no place now, and who follows may not come. */
bool standing_resume(struct standing *s, int task, int person, int64_t start, int follows,
                     bool followed);

/* Those that give way are loose then, and `task` stands. */
void standing_put(struct standing *s, int task, const struct bid *bid);

void standing_take(struct standing *s, int task);
void standing_return(struct standing *s, int task, const struct stand *was); /* at once */

/* After takes: who lost a shared set-up gets one of its own, or is loose. */
void standing_settle(struct standing *s);

/* ---- to ask ---- */

/* Not before this, by dates and by what must come before and has a place. */
int64_t standing_earliest(const struct standing *s, int task);

/* The task with whose set-up a loose one that starts then could go on; TIMETABLE_NONE. */
int standing_wet(const struct standing *s, int task, int person, int64_t start);

/* Can a loose task start then with this person (TIMETABLE_NOBODY: it needs no hands)? false: not at
 * all, or only if what gives way costs `most` or more. price: [tasks_n], > 0; NULL: nobody does. */
bool standing_bid(struct standing *s, int task, int person, int64_t start, const double *price,
                  double most, struct bid *out);

/* The same where nobody gives way, and with the set-ups shared that are named. */
bool standing_fits(struct standing *s, int task, int person, int64_t start, int follows,
                   bool followed, struct bid *out);

/* What a hold takes if `task` stood at `at`. */
struct timetable_span standing_span(const struct standing *s, int hold, int task,
                                    const struct stand *at);

/* First block that begins at t or later. */
int standing_block(const struct diary *d, int64_t t);

static inline const struct timetable_setup *standing_row(const struct standing *s, int task) {
    int row = s->shop->p->tasks[task].setup;
    return row >= 0 ? &s->shop->p->setups[row] : NULL;
}

#endif
