/* Which cans to buy: the cheapest set of the sizes that a paint is sold in and that holds what is
 * short. Proven cheapest, by data/can_sizes.tsv. */
#ifndef CORE_WORK_CAN_SET_H
#define CORE_WORK_CAN_SET_H

#include "core/base/arena.h"
#include "core/work/job.h"
#include "tables.h"

enum { CAN_SIZES = 8 }; /* that one paint is sold in, at most */

struct can_size {
    const char *name; /* singular: "quart" */
    double ml, price; /* > 0; prices against each other */
};

/* Fills count[n] with the cheapest set of [n] sizes, 1 <= n <= CAN_SIZES, that holds need_ml
 * (0 .. 1e6), and returns its price. Branch and bound: once the cheapest size by volume is counted,
 * few of each smaller one can pay. */
double can_set_choose(const struct can_size *sizes, size_t n, double need_ml, int64_t *count);

struct can_set {
    int64_t cans;     /* 0: none is sold (a leftover), or nothing is wanted */
    double ml;        /* that they hold */
    double cost_cent; /* NAN: not known */
    bool estimated;   /* the cost: it holds other sizes than the one whose cost is known */
    const char *text; /* "1 gallon, 2 quarts"; NULL without memory or cans */
};

/* can: as on the shelf, NULL: of its class, id of data/product_classes.tsv, alone. Where the can
 * says no size, sizes are those of the units. The text is the arena's. */
struct can_set can_set_of(const struct tables *t, struct arena *arena, enum unit_system units,
                          const struct paint *can, const char *class, double need_ml);

#endif
