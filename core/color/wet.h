/* What a wet paint will dry to, from the shop's own pairs of readings.
 *
 * Paint changes as it dries, each kind in its own way, so nothing is assumed: two numbers are
 * learnt from mixes that were read wet and again dry, a shift of lightness and a factor of chroma;
 * the hue stays. Least squares, shrunk towards no change as a few noisy pairs deserve:
 *
 *     shift  = sum (L_dry - L_wet) / (n + (1.2 / 5)^2)
 *     factor = (sum C_dry C_wet + (1.5 / 0.15)^2) / (sum C_wet^2 + (1.5 / 0.15)^2)
 *
 * (readings off by 1.2 in lightness, 1.5 in chroma; paints usually shift by some 5 and 15 %: common
 * practice). How far a prediction is off is what the pairs say of each other, each predicted from
 * the rest; that three of them agree by chance is allowed for (three more that are off by 1.5). */
#ifndef CORE_COLOR_WET_H
#define CORE_COLOR_WET_H

#include "core/base/status.h"
#include "core/color/difference.h"

#include <stddef.h>

enum { WET_PAIRS_LEAST = 3, WET_PAIRS_MAX = 1000 };

struct wet_pair {
    struct lab wet, dry; /* of one mix, same white */
};

struct wet_shift {
    double lightness; /* dry is lighter by so much L* */
    double chroma;    /* dry has so many times the chroma, > 0 */
    double expected;  /* difference to expect of what it predicts, CIEDE2000 */
    size_t pairs;
};

/* Errors: E_MISSING (fewer than WET_PAIRS_LEAST pairs), E_DOMAIN (a color that is not finite,
 * field "/2"), E_TOO_LARGE. *out is untouched on failure. */
enum status wet_learn(const struct wet_pair *pairs, size_t n, struct wet_shift *out,
                      struct why *why);

/* The color that this wet one should dry to. */
struct lab wet_dried(const struct wet_shift *s, struct lab wet);

#endif
