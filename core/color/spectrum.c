#include "core/color/spectrum.h"

#include "tables.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>

enum { LAST_NM = 780, LINES = LAST_NM - SPECTRUM_FIRST_NM + 1 };

static double power_of_row(const struct illuminants_row *r, enum light light) {
    const double power[LIGHTS] = {
        [LIGHT_D65] = r->d65,   [LIGHT_D50] = r->d50,       [LIGHT_A] = r->a, [LIGHT_FL2] = r->fl2,
        [LIGHT_FL11] = r->fl11, [LIGHT_LED_B3] = r->led_b3, [LIGHT_C] = r->c};
    return power[light];
}

/* Spectral power at a whole nanometer: linear between the rows of the table. */
static double power_at(const struct tables *t, enum light light, int nm) {
    size_t i = 1;
    while (i + 1 < t->illuminants_n && t->illuminants[i].nm < nm) i++;
    const struct illuminants_row *lo = &t->illuminants[i - 1], *hi = &t->illuminants[i];
    double u = (double)(nm - lo->nm) / (hi->nm - lo->nm);
    return (1 - u) * power_of_row(lo, light) + u * power_of_row(hi, light);
}

/* How the reflectance at `nm` is made from the grid's bands: Lagrange through four neighbors, three
 * in the first and last interval, the last band beyond the grid. */
static void interpolate(int nm, double share[SPECTRUM_BANDS]) {
    const double at = (double)(nm - SPECTRUM_FIRST_NM) / SPECTRUM_STEP_NM;
    for (int i = 0; i < SPECTRUM_BANDS; i++) share[i] = 0;
    int left = (int)at;
    if (left >= SPECTRUM_BANDS - 1) {
        share[SPECTRUM_BANDS - 1] = 1;
        return;
    }
    int from = left > 0 ? left - 1 : 0;
    int to = left + 2 < SPECTRUM_BANDS ? left + 2 : SPECTRUM_BANDS - 1;
    for (int i = from; i <= to; i++) {
        share[i] = 1;
        for (int j = from; j <= to; j++)
            if (j != i) share[i] *= (at - j) / (i - j);
    }
}

struct weights weights_make(const struct tables *t, enum observer observer, enum light light) {
    assert(t->observers_n >= LINES && t->observers[0].nm == SPECTRUM_FIRST_NM && light < LIGHTS);
    struct weights w = {0};
    double total = 0;
    for (int line = 0; line < LINES; line++) {
        const struct observers_row *o = &t->observers[line];
        double share[SPECTRUM_BANDS], power = power_at(t, light, o->nm);
        double x = observer == OBSERVER_10 ? o->x_10 : o->x_2;
        double y = observer == OBSERVER_10 ? o->y_10 : o->y_2;
        double z = observer == OBSERVER_10 ? o->z_10 : o->z_2;
        interpolate(o->nm, share);
        total += power * y;
        for (int i = 0; i < SPECTRUM_BANDS; i++) {
            w.x[i] += share[i] * power * x;
            w.y[i] += share[i] * power * y;
            w.z[i] += share[i] * power * z;
        }
    }
    for (int i = 0; i < SPECTRUM_BANDS; i++) {
        w.white.x += w.x[i] /= total;
        w.white.y += w.y[i] /= total;
        w.white.z += w.z[i] /= total;
    }
    return w;
}

struct xyz xyz_of_spectrum(const struct weights *w, const struct spectrum *r) {
    struct xyz c = {0, 0, 0};
    for (int i = 0; i < SPECTRUM_BANDS; i++) {
        c.x += w->x[i] * r->at[i];
        c.y += w->y[i] * r->at[i];
        c.z += w->z[i] * r->at[i];
    }
    return c;
}

/* Slope at value[i] of a cubic that keeps the data's shape: 0 at an extreme, else the harmonic mean
 * of the two chords (Fritsch and Butland 1984: Brodlie's formula, for equal steps). */
static double shape_slope(const double *value, size_t n, size_t i) {
    if (i == 0 || i + 1 == n) return i == 0 ? value[1] - value[0] : value[n - 1] - value[n - 2];
    double a = value[i] - value[i - 1], b = value[i + 1] - value[i];
    return a * b <= 0 ? 0 : 2 * a * b / (a + b);
}

static double value_at(const double *value, size_t n, double at) {
    if (at <= 0) return value[0];
    if (at >= (double)(n - 1)) return value[n - 1];
    size_t i = (size_t)at;
    double u = at - (double)i, m0 = shape_slope(value, n, i), m1 = shape_slope(value, n, i + 1);
    double u2 = u * u, u3 = u2 * u;
    return (2 * u3 - 3 * u2 + 1) * value[i] + (u3 - 2 * u2 + u) * m0 +
           (3 * u2 - 2 * u3) * value[i + 1] + (u3 - u2) * m1;
}

enum status spectrum_resample(double first_nm, double step_nm, const double *value, size_t n,
                              struct spectrum *out, struct why *why) {
    if (!isfinite(first_nm))
        return why_say(why, E_MISSING, "/first_nm",
                       "A spectrum needs the wavelength of its first value. Write it in nm: 400.");
    if (!isfinite(step_nm))
        return why_say(why, E_MISSING, "/step_nm",
                       "A spectrum needs the step between its values. Write it in nm: 10.");
    if (!(step_nm >= 0.5 && step_nm <= 20))
        return why_say(why, E_DOMAIN, "/step_nm",
                       "A step of %g nm between values is outside its range. Write 0.5 to 20.",
                       step_nm);
    if (n < 16 || n > 2000)
        return why_say(why, E_MISSING, "",
                       "A spectrum of %zu values says too little. Give 16 to 2000 values that "
                       "cover 400 to 700 nm.",
                       n);
    if (first_nm > 400 || first_nm + step_nm * (double)(n - 1) < 700 || first_nm < 100)
        return why_say(why, E_DOMAIN, "",
                       "A spectrum from %g to %g nm does not cover what the eye sees. Give at "
                       "least 400 to 700 nm.",
                       first_nm, first_nm + step_nm * (double)(n - 1));
    for (size_t i = 0; i < n; i++)
        if (!(value[i] >= -0.05 && value[i] <= 1.5)) {
            char field[32];
            snprintf(field, sizeof field, "/values/%zu", i);
            return why_say(why, E_DOMAIN, field,
                           "A reflectance of %g cannot be. Write fractions from 0 to 1.", value[i]);
        }
    struct spectrum r;
    for (int i = 0; i < SPECTRUM_BANDS; i++) {
        double nm = SPECTRUM_FIRST_NM + SPECTRUM_STEP_NM * i, sum = 0, weight = 0;
        /* finer than the grid: the mean over a triangle of +-10 nm, as a 10-nm instrument sees it
         */
        int half = step_nm < SPECTRUM_STEP_NM ? (int)(SPECTRUM_STEP_NM / step_nm) : 0;
        for (int j = -half; j <= half; j++) {
            double off = j * step_nm, share = 1 - fabs(off) / SPECTRUM_STEP_NM;
            if (share <= 0 && j) continue;
            sum += share * value_at(value, n, (nm + off - first_nm) / step_nm);
            weight += share;
        }
        r.at[i] = fmin(fmax(sum / weight, 0), 1);
    }
    *out = r;
    return OK;
}
