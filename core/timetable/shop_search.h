/* Looks for better timetables of a shop: priority rules, then moves in an order (shop_order.h) by
 * simulated annealing, the best orders offered to a decoder.
 *
 * Lateness and finish hardly ever change with one move, so what the search descends is how far
 * tasks are beyond the ends that a finish at the closing time before would need, and how early the
 * drying places are put to use. */
#ifndef CORE_TIMETABLE_SHOP_SEARCH_H
#define CORE_TIMETABLE_SHOP_SEARCH_H

#include "core/base/random.h"
#include "core/timetable/decode.h"
#include "core/timetable/shop_moves.h"

/* A timetable, by what the decoder was given. */
struct shop_found {
    struct timetable_score score;
    struct manner manner;
    double *rank; /* [tasks_n], as the others */
    int64_t *not_before;
    int *keep_person, *go_on_with;
};

struct shop_search {
    struct decoder *d;
    struct random random;
    struct shop_found best;
    bool found;              /* there is a best */
    bool hands_scarce;       /* hands, not places, bound the finish */
    double *trial;           /* [tasks_n] ranks */
    int64_t *latest, target; /* [tasks_n] working minutes by which each should be over for a finish
                                at target */
    double *room;            /* [tasks_n] share of all holding that it opens; sum 1, or all 0 */
    struct stagger stagger;
    uint64_t steps, orders; /* timetables built, and orders tried as far as they count as such */
    bool stopped;
};

/* Errors: E_MEMORY. */
enum status shop_search_make(struct shop_search *s, struct decoder *d, uint64_t seed,
                             struct arena *arena);

/* Priority rules; found says whether there is a timetable. */
void shop_search_begin(struct shop_search *s, const struct limit *limit);

/* Moves, until the limit, or until `bound` is reached and no sitting has been saved for long.
 * Errors: E_MEMORY. */
enum status shop_search_run(struct shop_search *s, const struct limit *limit,
                            const struct timetable_score *bound, struct arena *arena);

/* The best timetable into the decoder; false only if there is none. */
bool shop_search_best(struct shop_search *s);

#endif
