/* A project prepared: what its solver's parts share. */
#ifndef CORE_TIMETABLE_PROJECT_INSIDE_H
#define CORE_TIMETABLE_PROJECT_INSIDE_H

#include "core/timetable/project.h"

enum { NO_LAG = INT32_MIN / 2, PAIRS_MOST_TASKS = 500 };

struct project_net {
    const struct project *p;
    int *head;   /* [tasks_n] earliest start by lags */
    int *tail;   /* [tasks_n] least time from a task's start to the end of all */
    int horizon; /* if there is a timetable, there is one that ends by then */
    int bound;   /* none ends earlier */
    bool plain;  /* minimum lags only, without a circle: any order of tasks gives a timetable */
    int *lag;    /* [tasks_n * tasks_n] least start[j] - start[i], NO_LAG; NULL for large ones */
    struct project_pair { /* two tasks that cannot run together, order open */
        int a, b;
    } * pairs;
    int pairs_n;
};

static inline bool project_clash(const struct project *p, int a, int b) {
    if (!p->duration[a] || !p->duration[b]) return false;
    for (int r = 0; r < p->resources_n; r++)
        if (p->use[a * p->resources_n + r] + p->use[b * p->resources_n + r] > p->capacity[r])
            return true;
    return false;
}

/* *out_feasible false: lags or needs contradict, proved. Errors: E_MEMORY. */
enum status project_prepare(const struct project *p, struct arena *arena, struct project_net *out,
                            bool *out_feasible);

int project_makespan(const struct project *p, const int *start);

#endif
