/* Recipes found before for the same problem (core/base/recall.h). */
#ifndef CORE_RECIPE_RECALL_H
#define CORE_RECIPE_RECALL_H

#include "core/base/limit.h"
#include "core/recipe/recipe.h"

/* False: not known, or nobody remembers; recipe_keep must follow. The problem must be a valid one.
 */
bool recipe_recalled(const struct recipe_problem *p, const struct limit *limit, struct arena *arena,
                     struct recipe_result *out);
/* After recipe_recalled has said no. r NULL: the search failed. One that was stopped is not kept:
 * another run may get further. */
void recipe_keep(const struct recipe_problem *p, const struct limit *limit, struct arena *arena,
                 const struct recipe_result *r);

#endif
