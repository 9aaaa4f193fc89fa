/* Builds timetables from lists of tasks, fast: every task in turn at its earliest fit, forward or
 * mirrored in time (serial schedule generation, Kolisch 1996). All resources of a moment lie in a
 * few machine words with a guard bit for each, so that one subtraction tests several at once. */
#ifndef CORE_TIMETABLE_SERIAL_H
#define CORE_TIMETABLE_SERIAL_H

#include "core/timetable/project_inside.h"

struct serial_link {
    int task, min;
};
struct serial_side { /* predecessors of each task, in one direction of time */
    int *first;
    struct serial_link *link;
};

struct serial {
    const struct project *p;
    struct serial_side side[2]; /* 0: forward, 1: mirrored */
    int words, length;          /* length: moments of `left` */
    uint64_t *use;              /* [tasks_n * words] */
    uint64_t *full, *guard;     /* [words] */
    uint64_t *left;             /* [length * words] what is left at each moment, with guards */
    int touched;                /* moments below this may differ from full */
    int *bucket, *other;        /* working memory of sorting */
};

/* For plain projects (project_net.plain). false: no memory. */
bool serial_make(struct serial *s, const struct project_net *w, struct arena *arena);

/* Start times for the tasks taken in order of `list`, in which predecessors come first (mirrored:
 * successors). Returns the makespan. */
int serial_build(struct serial *s, const int *list, bool mirrored, int *start);

/* From a timetable to one no longer: all moved to the right in order of their ends, then to the
 * left in order of their starts. list: in and out an order of tasks by start. Returns the makespan.
 * Source: Valls, Ballestin and Quintanilla 2005, EJOR 165, "Justification and RCPSP". */
int serial_justify(struct serial *s, int *list, int *start);

#endif
