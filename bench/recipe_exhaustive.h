/* Every recipe of the grid, computed one by one with the search's own quick
 * kernel. */
#ifndef BENCH_RECIPE_EXHAUSTIVE_H
#define BENCH_RECIPE_EXHAUSTIVE_H

#include "core/recipe/recipe.h"

/* Smallest difference on the grid. */
double bench_exhaustive(const struct recipe_problem *p, struct arena *arena);

#endif
