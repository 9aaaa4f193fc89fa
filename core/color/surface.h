/* How the sheen of a dried surface changes what is seen of the paint below it.
 *
 * Air to film reflects about 4 % of white light whatever the paint (Fresnel, index 1.5). A glossy
 * surface sends that light off in one direction, which an eye and an instrument with excluded gloss
 * turn away from; a flat one scatters it into every direction, where it lightens and grays the
 * color, dark ones most. Between them, the share that is scattered falls with 60 degree gloss.
 *
 * Source: FRESNEL for the 4 %; that the scattered share is 1 - gloss / 70 is common practice, a
 * rough one: two coats of the paint itself decide. */
#ifndef CORE_COLOR_SURFACE_H
#define CORE_COLOR_SURFACE_H

#include "core/color/spectrum.h"

#define SURFACE_FRESNEL 0.04 /* ((n - 1) / (n + 1))^2, n = 1.5 */

/* Middles of the levels that ASTM D523 gloss is sorted into for furniture. */
#define SURFACE_GLOSS_FLAT 2.5
#define SURFACE_GLOSS_SATIN 27.5

/* Share of the surface's reflection that is scattered; gloss_60 in gloss units >= 0. 0..1. */
double surface_scattered(double gloss_60);

/* Reflectance of the same film with another gloss; every band stays within 0..1. */
struct spectrum surface_seen(const struct spectrum *r, double gloss_from, double gloss_to);

#endif
