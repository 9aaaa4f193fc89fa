#include "core/color/pigment.h"

#include <math.h>

/* K for S = 1; reflectance is kept within 1e-5..1 so that it stays finite. */
static double ks_of_reflectance(double r) {
    double c = fmin(fmax(r, 1e-5), 1);
    return (1 - c) * (1 - c) / (2 * c);
}

double pigment_strength_of_lightness(double l) {
    return exp((fmin(fmax(l, 0), 100) - 100) / 100);
}

double pigment_tinting(const struct pigment *p) {
    double sum = 0;
    for (int i = 0; i < SPECTRUM_BANDS; i++) sum += p->k[i] + p->s[i];
    return sum / SPECTRUM_BANDS;
}

struct pigment pigment_of_spectrum(const struct spectrum *r, double strength) {
    struct pigment p;
    for (int i = 0; i < SPECTRUM_BANDS; i++) {
        p.s[i] = strength;
        p.k[i] = strength * fmax(ks_of_reflectance(r->at[i]), 1e-9);
    }
    return p;
}

struct pigment pigment_of_color(const struct weights *w, struct lab c, struct upsampled *out) {
    struct upsampled u = upsample_color(w, c);
    if (out) *out = u;
    return pigment_of_spectrum(&u.spectrum, pigment_strength_of_lightness(u.color.l));
}

struct pigment pigment_mix(const struct pigment *p, const double *volume, size_t n) {
    double sum = 0;
    for (size_t j = 0; j < n; j++) sum += volume[j];
    if (!(sum > 0)) return p[0];
    struct pigment m = {0};
    for (size_t j = 0; j < n; j++) {
        double share = volume[j] / sum;
        for (int i = 0; i < SPECTRUM_BANDS; i++) {
            m.k[i] += share * p[j].k[i];
            m.s[i] += share * p[j].s[i];
        }
    }
    return m;
}

struct spectrum pigment_reflectance(const struct pigment *p) {
    struct spectrum r;
    for (int i = 0; i < SPECTRUM_BANDS; i++) r.at[i] = reflectance_of_ks(p->k[i], p->s[i]);
    return r;
}

struct spectrum pigment_mix_reflectance(const struct pigment *p, const double *volume, size_t n) {
    struct pigment m = pigment_mix(p, volume, n);
    return pigment_reflectance(&m);
}
