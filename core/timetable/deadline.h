/* Until when each task must be over for all to be over by a given finish. */
#ifndef CORE_TIMETABLE_DEADLINE_H
#define CORE_TIMETABLE_DEADLINE_H

#include "core/timetable/shop.h"

/* Is it still to be placed? */
static inline bool shop_open(const struct shop *s, int i) {
    return s->p->tasks[i].state == TIMETABLE_OPEN && s->blocked_by[i] == TIMETABLE_NONE;
}

/* latest[tasks_n]: end that no timetable with this finish, and with weighted lateness `late` at
 * most, exceeds, by minimum lags, hours and what each holds alone; late INT64_MAX: any.
 * false: some task would have to start before it can, so that there is no such timetable. */
bool deadlines(const struct shop *s, int64_t finish, int64_t late, int64_t *latest);

/* First moment >= t at which open task i can end. */
int64_t task_end_from(const struct shop *s, int i, int64_t t);

/* First moment >= t at which all can be over: the end of a task that may be the last. */
int64_t over_from(const struct shop *s, int64_t t);

/* Latest start of a task that must end by `end`, over all who may do it; INT64_MIN: none. */
int64_t start_before(const struct shop *s, int i, int64_t end);

/* Last closing time before t: end of a window of somebody's while nobody else is at work;
 * INT64_MIN: none. */
int64_t closing_before(const struct shop *s, int64_t t);

/* Working minutes of all persons in (-inf, t). */
int64_t all_worked(const struct shop *s, int64_t t);

#endif
