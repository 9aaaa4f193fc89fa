/* A batch that dried to another color: what to add to it, or to start again.
 *
 * What is in the batch stays. The problem's paints say how many parts of each
 * it holds (in_batch); its parts and parts_last are set here. Paints should be
 * those of the refitted model (what the batch's reading taught), else the same
 * mistake is computed twice. */
#ifndef CORE_RECIPE_CORRECT_H
#define CORE_RECIPE_CORRECT_H

#include "core/recipe/recipe.h"

struct correct_problem {
    struct recipe_problem recipe; /* paints with in_batch; target; items_max counts added paints */
    double batch_ml;              /* what the batch holds, > 0 */
    double need_ml;               /* what must be there in the end, >= 0 */
    double most_ml;               /* vessel, or as much as can be used; >= batch_ml */
    double good;                  /* a difference (objective) that is good enough, > 0 */
};

enum correct_advice {
    CORRECT_LEAVE, /* good enough as it is, and enough of it */
    CORRECT_ADD,
    CORRECT_RESTART, /* a fresh batch costs less than what would have to be added,
                        or adding cannot do it */
    CORRECT_NEITHER  /* nothing comes within `good`; `add` is the nearest */
};

struct correction {
    enum correct_advice advice;
    struct recipe add; /* least addition that is good enough, else the nearest
                          within most_ml */
    double add_ml, after_ml;
    double more_ml;      /* what it makes beyond need_ml */
    double add_cent;     /* cost of what is added */
    struct recipe fresh; /* from nothing, on a grid of as many parts as the batch's */
    double fresh_ml, fresh_cent;
    struct recipe_proof proof; /* of the addition: nothing nearer can be had by
                                  adding up to most_ml */
    struct recipe_proof fresh_proof;
};

/* Errors: as recipe_search, and E_MISSING where the batch holds nothing. limit
 * is given to each of the two searches. cost_cent of the paints is per part; a
 * part is batch_ml / parts in the batch.
 */
enum status correct_batch(const struct correct_problem *problem, const struct limit *limit,
                          struct arena *arena, struct correction *out, struct why *why);

#endif
