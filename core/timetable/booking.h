/* What is taken already: the diary of a person and the level of a resource over time. */
#ifndef CORE_TIMETABLE_BOOKING_H
#define CORE_TIMETABLE_BOOKING_H

#include "core/timetable/timetable.h"

#include <stdbool.h>
#include <stdint.h>

#define BOOKING_FOREVER INT64_MAX

/* Blocks of one person in order of time; they do not overlap, but fixed ones may. */
struct diary_block {
    int64_t from, to;
    int task;
};
struct diary {
    struct diary_block *blocks; /* [room] */
    int n, room;
};

bool diary_make(struct diary *d, int room, struct arena *arena);
void diary_add(struct diary *d, int64_t from, int64_t to, int task); /* from < to, n < room */

/* A block that overlaps [from, to) and is not `but`; NULL when free. */
const struct diary_block *diary_clash(const struct diary *d, int64_t from, int64_t to, int but);

/* Earliest moment >= from with `length` free minutes behind it, block `but` not counted. */
int64_t diary_gap(const struct diary *d, int64_t from, int64_t length, int but);

/* Adds what is free of [from, to): what is fixed may overlap. */
void diary_fill(struct diary *d, int64_t from, int64_t to, int task);

/* Shortens or lengthens the block that begins at `from` to end at `to`; removes it when nothing is
 * left. */
void diary_end_at(struct diary *d, int64_t from, int64_t to);

/* Level of a resource as steps: from step[i].at on, step[i].level is taken. */
struct level_step {
    int64_t at;
    int64_t level;
};
struct level {
    struct level_step *steps; /* [room]; the first at INT64_MIN */
    int n, room;
    const struct level_step *empty; /* [empty_n] nothing but when it is shut */
    int empty_n;
    int64_t capacity;
};

/* Room for so many holds; where it is shut all of it is taken. */
bool level_make(struct level *l, int holds, const struct timetable_resource *of,
                struct arena *arena);
void level_clear(struct level *l);
void level_add(struct level *l, int64_t from, int64_t to, int64_t amount); /* amount may be < 0 */

int level_step_at(const struct level *l, int64_t t); /* last step at or before t */
int64_t level_last_change(const struct level *l);    /* INT64_MIN: always the same */

/* Earliest moment >= from at which the last obstacle to `amount` more within [from, to) ends;
 * `from` itself when there is none; BOOKING_FOREVER when it never ends. */
int64_t level_free(const struct level *l, int64_t from, int64_t to, int64_t amount);

#endif
