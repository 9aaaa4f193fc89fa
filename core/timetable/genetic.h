/* Evolves lists of tasks toward short timetables; every child is justified twice.
 *
 * Source: Hartmann 1998, Naval Research Logistics 45 (activity lists); Valls et al. 2005, EJOR 165
 * (double justification); a stretch of time as what a child inherits after Debels and Vanhoucke
 * 2007, Operations Research 55, there the busiest one, here any. */
#ifndef CORE_TIMETABLE_GENETIC_H
#define CORE_TIMETABLE_GENETIC_H

#include "core/base/random.h"
#include "core/timetable/serial.h"

struct genetic {
    const struct project_net *net;
    struct serial serial;
    struct random random;
    int *lists;         /* [members * tasks_n] */
    int *ends;          /* [members] makespans */
    int *starts;        /* [members * tasks_n] */
    int members, grown; /* grown: members built so far */
    int *list, *start;  /* the child */
    int *best, best_end;
    int *missing, *ready;
    uint64_t idle; /* children since the last better one */
};

bool genetic_make(struct genetic *g, const struct project_net *net, uint64_t seed,
                  struct arena *arena);
/* Builds `most` timetables (three a child), fewer when one reaches the lower bound or stop().
 * below: makespan already known elsewhere. Returns how many were built. */
uint64_t genetic_run(struct genetic *g, int below, const struct limit *limit, uint64_t most);
int genetic_best(const struct genetic *g);
const int *genetic_start(const struct genetic *g);

#endif
