/* Good recipes fast, without proof: every pair of paints, then descent from the
 * best of them by moving parts from one paint to another and by swapping
 * paints. The proof that follows throws away the more the better these are.
 * Inside core/recipe only. */
#ifndef CORE_RECIPE_SEED_H
#define CORE_RECIPE_SEED_H

#include "core/recipe/archive.h"

/* Fills the archive; counts its work in *points and ends when the limit does.
 * starts: descents. */
void seed_search(const struct mixture *m, struct archive *archive, const struct limit *limit,
                 int starts, uint64_t *points, bool *stopped);

#endif
