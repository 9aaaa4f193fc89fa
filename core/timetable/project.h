/* The bare scheduling problem of the published sets, and its solver: tasks with whole durations,
 * lags between starts (minimum and, as negative ones backwards, maximum), renewable resources;
 * least makespan.
 *
 * Source: Brucker et al. 1999, EJOR 112 (notation); Bartusch, Moehring and Radermacher 1988
 * (maximum lags as arcs). */
#ifndef CORE_TIMETABLE_PROJECT_H
#define CORE_TIMETABLE_PROJECT_H

#include "core/base/arena.h"
#include "core/base/limit.h"
#include "core/base/status.h"

#include <stdbool.h>
#include <stdint.h>

/* start[to] >= start[from] + min; min may be negative. */
struct project_arc {
    int from, to, min;
};

struct project {
    int tasks_n, resources_n, arcs_n;
    const int *duration; /* [tasks_n] 0..100 000 */
    const int *use;      /* [tasks_n * resources_n], task by task, >= 0 */
    const int *capacity; /* [resources_n] >= 0 */
    const struct project_arc *arcs;
};

enum { PROJECT_MAX_TASKS = 4000, PROJECT_MAX_RESOURCES = 64, PROJECT_MAX_HORIZON = 1 << 24 };

enum project_status {
    PROJECT_UNKNOWN,    /* no timetable found, none proved impossible */
    PROJECT_FEASIBLE,   /* makespan not proved least */
    PROJECT_OPTIMAL,    /* proved least */
    PROJECT_INFEASIBLE, /* proved: there is none */
};

struct project_answer {
    enum project_status status;
    int *start; /* [tasks_n]; NULL without a timetable */
    int makespan, lower_bound;
    bool stopped; /* by limit.stop */
    uint64_t steps;
};

/* limit.steps counts timetables built plus conflicts met. Errors: E_DOMAIN (malformed),
 * E_TOO_LARGE, E_MEMORY. Infeasible is an answer here, not an error. */
enum status project_solve(const struct project *p, struct limit limit, uint64_t seed,
                          struct arena *arena, struct project_answer *out, struct why *why);

#endif
