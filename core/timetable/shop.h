/* A timetable problem, checked and prepared: the form that all parts of the solver share. */
#ifndef CORE_TIMETABLE_SHOP_H
#define CORE_TIMETABLE_SHOP_H

#include "core/timetable/climate.h"
#include "core/timetable/hours.h"
#include "core/timetable/timetable.h"

/* Index lists in one array: those of i are item[first[i]] .. item[first[i + 1] - 1]. */
struct shop_list {
    int *first, *item;
};

struct shop {
    const struct timetable_problem *p;
    struct hours *hours;         /* [persons_n] */
    struct drying *dryings;      /* [climates_n] */
    struct shop_list lags_in;    /* of each task: lags to it */
    struct shop_list lags_out;   /* lags from it */
    struct shop_list holds_at;   /* of each task: holds that it opens or closes */
    struct shop_list same_setup; /* of each row of setups: the tasks that name it */
    int *blocked_by;             /* [tasks_n] task with the unknown wait, or TIMETABLE_NONE */
    int blocked_n;
    int64_t
        *tail; /* [tasks_n] fewest clock minutes from a task's start to the end of all after it */
    int64_t *earliest_end; /* [tasks_n] end not before this, likewise */
    int64_t *earliest; /* [tasks_n] start not before this, by lags, hours and what it holds alone */
};

/* Checks every range and reference, finds what is blocked and what contradicts; *out_shop and its
 * arrays are the arena's. Errors: as timetable_solve, but E_LIMIT. */
enum status shop_make(const struct timetable_problem *p, struct arena *arena, struct shop *out_shop,
                      struct why *why);

/* Can this person do the task, by name and skills? */
bool shop_may(const struct timetable_problem *p, int task, int person);

static inline int64_t later(int64_t a, int64_t b) {
    return a > b ? a : b;
}

/* Moment from which a lag counts, of a task placed at start..end. */
static inline int64_t lag_base(const struct timetable_lag *lag, int64_t start, int64_t end) {
    return lag->from_start ? start : end;
}
static inline const struct drying *lag_drying(const struct shop *s,
                                              const struct timetable_lag *lag) {
    return lag->climate == TIMETABLE_NONE ? NULL : &s->dryings[lag->climate];
}
static inline int64_t lag_dry(const struct shop *s, const struct timetable_lag *lag, int64_t base) {
    return drying_after(lag_drying(s, lag), base, lag->min_min);
}
static inline int64_t lag_latest(const struct shop *s, const struct timetable_lag *lag,
                                 int64_t base) {
    return drying_after(lag_drying(s, lag), base, lag->max_min);
}

/* Names for messages: "task 3 (sand the top)". */
const char *shop_task_name(const struct timetable_problem *p, int task, char text[96]);
const char *shop_lag_name(const struct timetable_problem *p, int lag, char text[96]);

/* E_IMPOSSIBLE with the two facts named when lags contradict each other; fills nothing else. */
enum status network_check(const struct shop *s, struct arena *arena, struct why *why);

#endif
