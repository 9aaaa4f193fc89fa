/* The smoothest reflectance that has a given color: what is assumed of a paint, or of any surface,
 * that is known by its color only.
 *
 * Among all reflectances with exactly that color, the one with the least sum of squared steps of
 * atanh(2 R - 1) between neighboring bands. R stays within UPSAMPLE_LEAST..1 - UPSAMPLE_LEAST: no
 * paint is blacker or whiter. On measured paint-outs its error was .012..06 rms.
 *
 * Not every color can be a paint's: under a given light there is an outermost, most colorful color
 * of each lightness and hue. For a color beyond it the result is the nearest one that can be.
 *
 * Source: BURNS2020 (least slope squared of the hyperbolic tangent), solved by a damped
 * Gauss-Newton continuation and finished by Newton on the stationary point. */
#ifndef CORE_COLOR_UPSAMPLE_H
#define CORE_COLOR_UPSAMPLE_H

#include "core/color/difference.h"
#include "core/color/spectrum.h"

#include <stdbool.h>

#define UPSAMPLE_LEAST 0.001
#define UPSAMPLE_REACHED 0.05 /* far below what is seen */

struct upsampled {
    struct spectrum spectrum;
    struct lab color;  /* the color it really has, under the same weights */
    double difference; /* CIEDE2000 to what was asked */
    bool reached; /* difference < UPSAMPLE_REACHED; otherwise no paint can have the color asked for
                   */
};

/*   w    observer and light of the color
 *   c    Lab relative to w->white (CSS Lab D50 goes with observer 2 and light D50); finite
 *
 * Never fails: spectrum is within 0..1 and the difference is stated. Cost: about 0.05 ms, 0.3 ms
 * for a color out of reach; no allocation. */
struct upsampled upsample_color(const struct weights *w, struct lab c);

#endif
