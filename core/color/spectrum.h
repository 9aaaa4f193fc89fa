/* Reflectance on a fixed grid, and the weights that turn it into a color.
 *
 * Grid: 36 bands, 380..730 nm by 10; reflectance is a fraction, 0..1 for anything that does not
 * fluoresce. Tristimulus values are scaled so that the perfect white has Y = 1 under every light.
 *
 * Weights of a 10-nm grid are summed from the CIE tables at 1 nm with the reflectance taken as the
 * local cubic through four neighbors (quadratic at the ends), so that measured 10-nm data give the
 * same color as the 1-nm sum would; what lies beyond 730 nm goes with the last band. Some weights
 * are therefore slightly below 0 where the eye is nearly blind: bounds must look at their sign.
 *
 * Source: CIE15 (tables, summation over 380..780 nm); ASTM E2022 for the interpolation. */
#ifndef CORE_COLOR_SPECTRUM_H
#define CORE_COLOR_SPECTRUM_H

#include "core/base/status.h"

#include <stddef.h>

enum { SPECTRUM_BANDS = 36, SPECTRUM_FIRST_NM = 380, SPECTRUM_STEP_NM = 10 };

struct spectrum {
    double at[SPECTRUM_BANDS];
};

struct xyz { /* Y = 1 for the perfect white */
    double x, y, z;
};

enum observer { OBSERVER_2, OBSERVER_10, OBSERVERS };
enum light { LIGHT_D65, LIGHT_D50, LIGHT_A, LIGHT_FL2, LIGHT_FL11, LIGHT_LED_B3, LIGHT_C, LIGHTS };

/* One observer under one light. white = the sums: the color of the perfect white. */
struct weights {
    double x[SPECTRUM_BANDS], y[SPECTRUM_BANDS], z[SPECTRUM_BANDS];
    struct xyz white;
};

struct tables;

/* Sums the weights of one observer and light from the shipped tables (observers, illuminants).
 * Cost: about 20,000 multiplications; make them once and hand them on. Cannot fail: a table that
 * lacks rows is a programmer error. */
struct weights weights_make(const struct tables *t, enum observer observer, enum light light);

struct xyz xyz_of_spectrum(const struct weights *w, const struct spectrum *r);

/* Reflectance given at other wavelengths, brought to the grid.
 *
 *   first_nm, step_nm   where value[0] lies and how far apart they are; 0.5 <= step <= 20
 *   value               [n] reflectance, each finite, -0.05..1.5 (readings overshoot a little;
 *                       what is outside 0..1 is clipped)
 *   out                 on the grid; beyond the given range the end value goes on
 *   why                 field "", "/first_nm", "/step_nm" or "/values/3"; NULL if nobody asks
 *
 * Steps up to 10 nm are averaged over the band's 10 nm (triangle) when finer than the grid, wider
 * steps are joined by a shape-keeping cubic, so that the result never leaves the range of its
 * neighbors. The given range must cover 400..700 nm and hold at least 16 values (20 nm apart).
 * Errors: E_DOMAIN (a value or the wavelengths outside their range), E_MISSING (too few,
 * or no wavelengths). */
enum status spectrum_resample(double first_nm, double step_nm, const double *value, size_t n,
                              struct spectrum *out, struct why *why);

#endif
