/* Paint as absorption and scattering per band, and what mixes of it reflect.
 *
 * Opaque two-constant theory: a mix by volume fractions c has K = sum c K_i, S = sum c S_i, and an
 * opaque layer of it reflects R = S / (S + K + sqrt(K (K + 2 S))). K and S are relative: the white
 * paint has S = 1, K is in the same unit; both > 0. Reflectance is that of a layer which hides
 * its ground and carries no gloss (specular component excluded).
 *
 * Source: KM1931. Pure functions, total on finite input. */
#ifndef CORE_COLOR_PIGMENT_H
#define CORE_COLOR_PIGMENT_H

#include "core/color/upsample.h"
#include <math.h>

struct pigment {
    double k[SPECTRUM_BANDS], s[SPECTRUM_BANDS];
};

/* One band of an opaque layer: 1 + q - sqrt(q^2 + 2 q), q = K / S, written so that dark mixes,
 * where q is large, do not cancel. */
static inline double reflectance_of_ks(double k, double s) {
    return s / (s + k + sqrt(k * (k + 2 * s)));
}

/* Strength that a paint is assumed to have when only its color is known: S relative to white, from
 * CSS lightness L* (any white and observer will do). ln S = (L - 100) / 100, standard deviation of
 * ln S 1 (fitted on measured paints). */
double pigment_strength_of_lightness(double l);

/* Tinting strength: how much a little of it changes a mix. Mean of K + S over the bands. */
double pigment_tinting(const struct pigment *p);

/* A paint of which an opaque layer reflects r; its scattering is `strength` (> 0) in all bands. */
struct pigment pigment_of_spectrum(const struct spectrum *r, double strength);

/* A paint known by its color only: the smoothest reflectance with that color and the strength that
 * goes with its lightness. *w and the color belong together. out as upsample_color. */
struct pigment pigment_of_color(const struct weights *w, struct lab c, struct upsampled *out);

/* Sum of [n] pigments by volume fraction (>= 0, any positive sum: they are scaled to 1). A sum of
 * 0 gives the first pigment; n >= 1. */
struct pigment pigment_mix(const struct pigment *p, const double *volume, size_t n);

/* What an opaque layer reflects. Reflection at its surface (SAUNDERSON1942) is left out, which is
 * right for paints known by their color only (measured: with it they came out worse). */
struct spectrum pigment_reflectance(const struct pigment *p);

/* Both at once: what the mix reflects. */
struct spectrum pigment_mix_reflectance(const struct pigment *p, const double *volume, size_t n);

#endif
