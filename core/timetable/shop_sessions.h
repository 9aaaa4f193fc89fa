/* How often tools must be set up at least. */
#ifndef CORE_TIMETABLE_SHOP_SESSIONS_H
#define CORE_TIMETABLE_SHOP_SESSIONS_H

#include "core/timetable/shop.h"

struct session_need {
    int tasks;   /* open ones of the row */
    int free;    /* fixed ones, each of which another may go on with */
    int at_once; /* tasks that one session can hold at most; INT32_MAX: any number */
};

/* need[setups_n]. A session is a run of tasks of one row and person, each begun while the tool is
 * still wet from the one before: one set-up in front of the first, one clean-up behind the last.
 *
 * Where no task of the row may pause, a session cannot outlast a run of windows with breaks no
 * longer than the tool stays wet. Where each takes some of a resource until it is dry, no more can
 * be begun in such a run than that often as one place is free again, times the places. */
void sessions_needed(const struct shop *s, struct session_need *need);

/* Fewest sessions for so many of a row's tasks; each ends in a clean-up. */
static inline int sessions_runs(const struct session_need *need, int tasks) {
    return tasks / need->at_once + (tasks % need->at_once > 0);
}

/* Fewest set-ups, as sessions that go on with a fixed task need none. */
static inline int sessions_least(const struct session_need *need, int tasks) {
    int n = sessions_runs(need, tasks) - need->free;
    return n > 0 ? n : 0;
}

#endif
