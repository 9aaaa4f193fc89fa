/* Looks for better timetables of a shop by moving tasks in the order in which they are placed. */
#ifndef CORE_TIMETABLE_SHOP_SEARCH_H
#define CORE_TIMETABLE_SHOP_SEARCH_H

#include "core/base/random.h"
#include "core/timetable/decode.h"

struct shop_search {
    struct decoder *d;
    struct random random;
    double *rank, *best_rank, *trial; /* [tasks_n] */
    int *order;                       /* [tasks_n] open tasks by start in the current one */
    int order_n;
    struct timetable_score best; /* of best_rank */
    double energy;               /* of rank */
    bool found, best_keeps;      /* best_keeps: decoder.keep_windows of the best */
    uint64_t steps;
    bool stopped;
};

/* Errors: E_MEMORY. */
enum status shop_search_make(struct shop_search *s, struct decoder *d, uint64_t seed,
                             struct arena *arena);

/* Priority rules, then moves, until the limit, or until `bound` is reached and no sitting has been
 * saved for long. found says whether there is a timetable; decode of best_rank gives it. */
void shop_search_run(struct shop_search *s, const struct limit *limit,
                     const struct timetable_score *bound);

#endif
