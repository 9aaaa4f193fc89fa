/* The tasks of a shop in an order, each put after what stands of its person and its places, none
 * into a gap: much quicker than a decoder (decode.h), and a small change of the order changes
 * little. What comes out is close to a timetable, not always one: a decoder given the places as
 * wishes has the last word.
 *
 * A change is evaluated from where the order differs; it ends early where its energy is too high
 * already, or where all is as it was again. */
#ifndef CORE_TIMETABLE_SHOP_ORDER_H
#define CORE_TIMETABLE_SHOP_ORDER_H

#include "core/timetable/shop.h"

/* What counts how much in the energy that is descended. Minutes are working minutes of a person. */
struct order_weights {
    double late;       /* a weighted minute late */
    double beyond;     /* a minute beyond the end that the target asks of a task */
    double mean_end;   /* of the mean end of all tasks */
    double room_start; /* of the mean start of what takes room, by how much it takes */
    double setup;      /* one more set-up */
    double sitting;    /* one more sitting */
    double broken;     /* a task that was to go on with a wet tool and cannot */
};

struct order_place {
    int64_t start, end;
    int person, follows; /* TIMETABLE_NOBODY, TIMETABLE_NONE: none */
};

struct order {
    const struct shop *shop;
    int n;                     /* open tasks */
    int *task;                 /* [n] in order */
    int *at;                   /* [tasks_n] where in the order; -1: not in it */
    struct order_place *place; /* [tasks_n] of the order as it stands */
    bool *goes_on; /* [tasks_n] with the tool of the last of its row, if near: that is left wet */
    double energy; /* likewise; INFINITY: it comes to no timetable */
    struct order_inside *inside;
};

/* horizon: moment by which all should be over; orders that end later come to nothing.
 * room: [tasks_n] share of all holding that each task opens.
 * Errors: E_MEMORY; E_TOO_LARGE: the horizon is too far off. */
enum status order_make(struct order *o, const struct shop *shop, int64_t horizon,
                       const double *room, const struct order_weights *weights,
                       struct arena *arena);

/* All anew, from tasks in an order; those that lags want earlier come earlier. rank: [tasks_n] */
void order_set(struct order *o, const double *rank);

/* All open tasks in some order: those that lags want earlier are put in front of what waits for
 * them. */
void order_mend(struct order *o, int *tasks);

/* The same of the tasks at lo..hi, all others standing as they stand. */
void order_mend_within(struct order *o, int lo, int hi, int *tasks);

/* The ends that are wanted: latest[tasks_n], in working minutes of all (all_worked). */
void order_aim(struct order *o, const int64_t *latest);

/* The tasks at lo..hi in another order, which must keep to the lags among them; task `turned`, if
 * any, at lo..hi, goes on with a wet tool if it did not, and the reverse. true: the energy is at
 * most `most`, and this stands; false: nothing has changed. */
bool order_try(struct order *o, int lo, int hi, const int *tasks, int turned, double most);

/* Must a come before b, by a lag or a hold between the two? */
bool order_before(const struct order *o, int a, int b);

#endif
