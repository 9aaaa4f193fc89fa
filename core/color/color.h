/* Colors in the notations that people and programs use, and the ways between them.
 *
 * struct xyz        Y = 1 for the perfect white; the function's name says which white
 * struct lab        CIE 1976, L 0..100; relative to the white that was used. "Lab D50" without more
 *                   is CSS Lab: 2 degree observer, white XYZ_D50. Lab computed from a spectrum
 *                   under D65 differs from Lab D50 adapted to D65 (median .5): say which.
 * struct lch        the same in polar form; h in degrees, 0..360
 * struct oklab      L 0..1, of XYZ D65
 * struct rgb        0..1 inside the gamut; linear or encoded as the function says
 *
 * Pure functions, total on finite input, no errors. Sources: CSS4 (CSS Color 4, section 17, sample
 * code: matrices and whites), CIE15 (Lab), IEC61966 (sRGB), OKLAB. */
#ifndef CORE_COLOR_COLOR_H
#define CORE_COLOR_COLOR_H

#include "core/color/difference.h"
#include "core/color/spectrum.h"

#include <stdbool.h>

struct lch {
    double l, c, h;
};

struct oklab {
    double l, a, b;
};

struct rgb {
    double r, g, b;
};

/* Chromaticities (.3457, .3585) and (.3127, .3290): the whites of CSS, not those of weights_make.
 */
extern const struct xyz XYZ_D50, XYZ_D65;

struct lab lab_of_xyz(struct xyz c, struct xyz white);
struct xyz xyz_of_lab(struct lab c, struct xyz white);
struct lch lch_of_lab(struct lab c);
struct lab lab_of_lch(struct lch c);

/* Bradford adaptation between XYZ_D65 and XYZ_D50 */
struct xyz xyz_d50_of_d65(struct xyz c);
struct xyz xyz_d65_of_d50(struct xyz c);
/* Bradford adaptation between any two whites */
struct xyz xyz_adapt(struct xyz c, struct xyz from_white, struct xyz to_white);

/* Lab D50 <-> Lab D65 (white XYZ_D65), 2 degree, Bradford */
struct lab lab_d65_of_d50(struct lab c);
struct lab lab_d50_of_d65(struct lab c);

struct oklab oklab_of_xyz_d65(struct xyz c);
struct xyz xyz_d65_of_oklab(struct oklab c);
struct lch oklch_of_oklab(struct oklab c); /* l 0..1, c about 0..0.4 */
struct oklab oklab_of_oklch(struct lch c);

enum rgb_space { RGB_SRGB, RGB_DISPLAY_P3 };

/* Transfer curve of both spaces, odd around 0 (values outside 0..1 are kept). */
struct rgb rgb_encode(struct rgb linear);
struct rgb rgb_decode(struct rgb encoded);
struct xyz xyz_d65_of_rgb(enum rgb_space space, struct rgb linear);
struct rgb rgb_of_xyz_d65(enum rgb_space space, struct xyz c); /* linear */

struct lab lab_of_srgb(struct rgb encoded); /* Lab D50 */

/* The nearest thing a screen can show: encoded, every channel 0..1. Colors outside the gamut lose
 * chroma in OkLCh at constant lightness and hue until clipping is below what is seen (0.02).
 * out_mapped, if not NULL: whether that was needed. Source: CSS4 section 14.2. */
struct rgb rgb_show(enum rgb_space space, struct lab d50, bool *out_mapped);

#endif
