/* Looks for better timetables of a shop by moving tasks in the order in which they are placed.
 *
 * Lateness and finish hardly ever change with one move, so what the search descends is how far
 * tasks are beyond the ends that a finish at the closing time before would need, and how early the
 * drying places are put to use. */
#ifndef CORE_TIMETABLE_SHOP_SEARCH_H
#define CORE_TIMETABLE_SHOP_SEARCH_H

#include "core/base/random.h"
#include "core/timetable/decode.h"
#include "core/timetable/shop_stagger.h"

struct shop_search {
    struct decoder *d;
    struct random random;
    double *rank, *best_rank, *trial; /* [tasks_n] */
    int64_t *latest, target; /* [tasks_n] working minutes by which each should be over for a finish
                                at target */
    double *room;            /* [tasks_n] share of all holding that it opens; sum 1, or all 0 */
    double *cost;            /* [tasks_n] part of energy that each has where it stands */
    struct stagger stagger;
    int *order; /* [tasks_n] open tasks by start in the current one */
    int order_n;
    struct timetable_score best;       /* of best_rank */
    double energy;                     /* of rank */
    struct manner manner, best_manner; /* of rank, of best_rank */
    bool found;
    uint64_t steps;
    bool stopped;
};

/* Errors: E_MEMORY. */
enum status shop_search_make(struct shop_search *s, struct decoder *d, uint64_t seed,
                             struct arena *arena);

/* Priority rules; found says whether there is a timetable; decode of best_rank gives it. */
void shop_search_begin(struct shop_search *s, const struct limit *limit);

/* Moves, until the limit, or until `bound` is reached and no sitting has been saved for long. */
void shop_search_run(struct shop_search *s, const struct limit *limit,
                     const struct timetable_score *bound);

#endif
