/* Mends a timetable by ejection: who cannot stay takes another's place where that is cheapest, and
 * who is ejected looks for a place in turn.
 *
 * What it costs to eject a task is estimated once for each, and learned again and again while the
 * mending is tried from the start (after Korf 1990, Artif. Intell. 42, "Real-time heuristic
 * search"); within one trial a task that was hard to place is the dearer to eject (Nagata and
 * Braysy 2009, Oper. Res. Lett. 37). Then a few that moved are put back or taken out, and mended
 * again (annealing over ruin and recreate, Schrimpf et al. 2000, J. Comput. Phys. 159). */
#ifndef CORE_TIMETABLE_EJECT_H
#define CORE_TIMETABLE_EJECT_H

#include "core/base/random.h"
#include "core/timetable/standing.h"

/* The timetable in force, as far as it says something of open tasks. */
struct eject_old {
    const struct timetable_place **was; /* [tasks_n] NULL: new */
    int *follows;                       /* [tasks_n] whose set-up it went on with */
    double *weight;                     /* [tasks_n] by which what it costs to move it counts */
    double *rank;                       /* [tasks_n] the lowest looks for a place first */
};

struct eject;

/* Working memory; NULL where there is none left. What old names is the caller's, and must last. */
struct eject *eject_make(const struct shop *shop, struct eject_old old, struct arena *arena);

/* Looks at about so many places (some 3,000 a millisecond). The timetable that is least late,
 * then moves least; NULL when none keeps every rule.
 *
 *   start  [tasks_n] a timetable to be better than, NULL: none */
const struct standing *eject_run(struct eject *e, const struct stand *start, uint64_t places,
                                 const struct limit *limit, struct random *random);

/* What it costs people that a task that stood at `was` moves to this start and person: promises
 * most, then what comes soon. 0: it stands where it stood. */
double move_cost(const struct timetable_problem *p, int task, const struct timetable_place *was,
                 int64_t start, int person);

#endif
