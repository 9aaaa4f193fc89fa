/* Shared by the parts of the ejection search. */
#ifndef CORE_TIMETABLE_EJECT_INSIDE_H
#define CORE_TIMETABLE_EJECT_INSIDE_H

#include "core/timetable/eject.h"

/* To be later than a promise allows that hangs on it, at once and by the hour. */
#define EJECT_LATE_COST 30.
#define EJECT_LATE_HOUR_COST 2.
#define EJECT_DEAREST 1e18 /* no place at all */

struct eject {
    const struct shop *shop;
    struct eject_old old;
    struct standing now, base, current, best;
    double *price;    /* [tasks_n] of ejecting a task as it stands */
    double *worth;    /* [tasks_n] what it would cost to find another place: learned */
    double *worth0;   /* [tasks_n] as estimated at first */
    int *hard;        /* [tasks_n] times it had to eject another, in this trial */
    int64_t *room;    /* [tasks_n] minutes that all from this task on could shift by together */
    int64_t *latest;  /* [tasks_n] start after which a promise cannot be kept */
    int64_t *wanted;  /* [tasks_n] start after which that is unlikely: latest or before */
    double soft_cost; /* of being later than wanted */
    int *order;       /* [order_n] old tasks by start */
    int order_n;
    bool found;
    int64_t lateness; /* of best */
    double moved;     /* of best */
    double noise;     /* of what places cost, as a share */
    int64_t banned;   /* start that is not looked at; INT64_MIN */
    uint64_t places;  /* looked at so far */
    struct random *random;
};

/* The cheapest place of a loose task, and what it and those who give way cost; EJECT_DEAREST: none.
 */
double eject_seek(struct eject *e, int task, struct bid *out);

/* Starts that promises allow, and which of them are wanted: ease 0..1, from what all may shift by
 * together to as late as it can be. */
void eject_promises(struct eject *e);
void eject_want(struct eject *e, double ease);

#endif
