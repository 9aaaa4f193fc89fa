/* What one would do without a search of our own: sequential quadratic
 * programming (SLSQP of nlopt) over the shares of all paints from many starts,
 * the largest shares kept, optimized again, rounded to the grid. */
#ifndef BENCH_RECIPE_OPTIMIZER_H
#define BENCH_RECIPE_OPTIMIZER_H

#include "core/recipe/recipe.h"

bool bench_optimizer_there(void); /* false: built without nlopt */
/* Difference of the best rounded recipe of so many starts. */
double bench_optimizer(const struct recipe_problem *p, int starts, uint64_t seed);

#endif
