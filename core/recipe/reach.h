/* What a shelf can make at one hue: from the weakest to the strongest color at every lightness.
 *
 * Colors of mixes lie in a solid whose surface is made of mixes of three paints; where those sheets
 * cut the half-plane of the hue is the edge of the reach. Each triple is laid out as small
 * triangles in shares that are weighted by the paints' strength, so that a strong one does not
 * jump. The edge is good to about one unit of chroma; what a recipe really reaches the search alone
 * proves (core/recipe/recipe.h).
 *
 * Source: KM1931 for the mixing; own method. */
#ifndef CORE_RECIPE_REACH_H
#define CORE_RECIPE_REACH_H

#include "core/base/arena.h"
#include "core/color/pigment.h"

#include <stdbool.h>

enum { REACH_ROWS = 50, REACH_PAINTS_MAX = 16 };
#define REACH_STEP 2.0 /* lightness a row: row i is at 1 + 2 i */

struct reach {
    double low[REACH_ROWS], high[REACH_ROWS]; /* chroma; low > high: nothing at that lightness */
};

/*  paints   [n], n >= 1; of more than REACH_PAINTS_MAX those that reach farthest toward the hue,
 *           and the lightest and darkest, are taken
 *  w        observer and light of the Lab
 *  hue_deg  of the half-plane
 * False: no memory. Cost: 560 triples of 66 mixes at most, some tens of milliseconds. */
bool reach_at_hue(const struct pigment *paints, size_t n, const struct weights *w, double hue_deg,
                  struct arena *a, struct reach *out);

/* From low to high at a lightness, by interpolation; false where nothing is reached. */
bool reach_chroma(const struct reach *r, double l, double *out_low, double *out_high);

#endif
