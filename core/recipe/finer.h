/* Whether it is the measuring grid, and not the paints, that a color is out of reach of: next to
 * white a sixteenth of a strong paint is too much, and a hundredth is right. */
#ifndef CORE_RECIPE_FINER_H
#define CORE_RECIPE_FINER_H

#include "core/recipe/recipe.h"

/* What to do then; %d: the parts it takes, %d: the parts at hand. */
#define RECIPE_FINER_TEXT                                                                          \
    "These paints reach this color in %d parts, not in %d: beside the rest the least of one of "   \
    "them is too much. Measure in smaller steps, by drops or on a scale; or let it down first, 1 " \
    "part of it in 9 of the palest, and pour ten times as much of that."
/* The coarsest grid of 2, 4, 8 ... times the problem's parts on which the same paints come within
 * its reach; 0: none of up to RECIPE_PARTS_MAX parts, or something is in the batch already.
 * How little can be poured of a paint is left aside, how much there is of it is not.
 *
 *   limit   of each grid; a search that it ends may miss a recipe, then a finer grid is asked
 *
 * Errors: as recipe_search, but E_IMPOSSIBLE is no error. Cost: a search by difference a grid. */
enum status recipe_finer(const struct recipe_problem *problem, const struct limit *limit,
                         struct arena *arena, int *out_parts, struct why *why);

/* Recipes of exactly k out of n paints in so many parts: C(n, k) C(parts - 1, k - 1). */
double recipe_points(double n, double k, double parts);

#endif
