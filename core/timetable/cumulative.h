/* A resource of limited capacity: what must be running at a moment (between latest start and
 * earliest end) leaves no room for more (time-table propagation), with reasons.
 *
 * Source: Schutt, Feydy, Stuckey and Wallace 2011, Constraints 16, "Explaining the cumulative
 * propagator": reasons name one moment only. */
#ifndef CORE_TIMETABLE_CUMULATIVE_H
#define CORE_TIMETABLE_CUMULATIVE_H

#include "core/timetable/learn.h"

struct cumulative_task {
    int var;
    int32_t duration, use; /* both > 0 */
};

struct cumulative {
    struct cumulative_task *tasks;
    int tasks_n;
    int32_t capacity, origin, length; /* starts and ends lie in origin..origin+length */
    int32_t *height;                  /* [length + 2] */
    int *covering;                    /* [tasks_n] working memory */
};

/* Propagator: ctx is the struct cumulative. */
bool cumulative_run(struct learn *e, void *ctx);

#endif
