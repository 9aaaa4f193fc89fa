/* The search with proof: every set of paints, every cell of parts of it, until nothing is left that
 * could beat what the archive holds. Inside core/recipe only.
 *
 *   archive   filled already with good recipes (seed.h): the better, the less is left to do
 *   limit     one step is one cell bounded or one recipe computed
 *   out       bound, points and cells; kind is the caller's, grid_points known before
 *   out_done  false: ended by the limit
 *
 * Errors: E_MEMORY. */
#ifndef CORE_RECIPE_PROVE_H
#define CORE_RECIPE_PROVE_H

#include "core/recipe/archive.h"

enum status prove(const struct mixture *m, struct archive *archive, const struct limit *limit,
                  struct arena *arena, struct recipe_proof *out, bool *out_done);

#endif
