#include "core/color/hiding.h"

#include <math.h>

/* One band. x = S times thickness. The hyperbolic form loses its digits where nothing is absorbed
 * (b -> 0); b coth(b x) -> 1/x then. */
static double over(double ks, double x, double ground) {
    if (x <= 0) return ground;
    double a = 1 + ks, b = sqrt(ks * (ks + 2)), bx = b * x;
    double bc = bx < 1e-6 ? 1 / x : b / tanh(bx);
    return (1 - ground * (a - bc)) / (a - ground + bc);
}

struct pigment hiding_paint(const struct pigment *p) {
    const double least = (1 - HIDING_WHITEST) * (1 - HIDING_WHITEST) / (2 * HIDING_WHITEST);
    struct pigment real = *p;
    for (int i = 0; i < SPECTRUM_BANDS; i++) real.k[i] = fmax(p->k[i], least * p->s[i]);
    return real;
}

struct spectrum hiding_over(const struct hiding_film *f, double um, const struct spectrum *ground) {
    struct spectrum r;
    for (int i = 0; i < SPECTRUM_BANDS; i++)
        r.at[i] = over(f->paint->k[i] / f->paint->s[i],
                       f->paint->s[i] * f->white_scatter_per_um * um, ground->at[i]);
    return r;
}

struct hiding_seen hiding_after(const struct hiding_film *f, int coats,
                                const struct spectrum *ground, const struct weights *w) {
    struct spectrum seen = hiding_over(f, coats * f->coat_um * HIDING_THIN_PLACES, ground),
                    opaque = pigment_reflectance(f->paint);
    struct xyz xyz = xyz_of_spectrum(w, &seen);
    double full = xyz_of_spectrum(w, &opaque).y;
    return (struct hiding_seen){xyz, fmin(xyz.y, full) / fmax(xyz.y, full)};
}

int hiding_coats(const struct hiding_film *f, const struct spectrum *ground, int most,
                 const struct weights *w) {
    int coats = 1;
    while (coats <= most && !(hiding_after(f, coats, ground, w).contrast >= HIDING_CONTRAST))
        coats++;
    return coats;
}

double hiding_chart(const struct hiding_film *f, double um, const struct weights *w) {
    struct spectrum black, white;
    for (int i = 0; i < SPECTRUM_BANDS; i++) {
        black.at[i] = HIDING_CHART_BLACK;
        white.at[i] = HIDING_CHART_WHITE;
    }
    black = hiding_over(f, um, &black);
    white = hiding_over(f, um, &white);
    return xyz_of_spectrum(w, &black).y / xyz_of_spectrum(w, &white).y;
}

/* ln of the scale at which so many coats just hide; far out where no paint lies it is cut off. */
static double ln_scale(const struct hiding_film *f, int coats, const struct weights *w) {
    double low = -6, high = 6;
    for (int i = 0; i < 50; i++) {
        const double at = (low + high) / 2;
        struct hiding_film g = *f;
        g.white_scatter_per_um *= exp(at);
        if (hiding_chart(&g, coats * g.coat_um * HIDING_THIN_PLACES, w) >= HIDING_CONTRAST)
            high = at;
        else
            low = at;
    }
    return (low + high) / 2;
}

static double normal_density(double z) {
    return exp(-z * z / 2) / 2.5066282746310002; /* sqrt(2 pi) */
}

/* Share of the standard normal between a and b > a; in the upper tail from that end, where the
 * difference of two numbers near 1 has no digits left. */
static double normal_between(double a, double b) {
    const double root2 = 1.4142135623730951;
    return a > 0 ? (erfc(a / root2) - erfc(b / root2)) / 2
                 : (erfc(-b / root2) - erfc(-a / root2)) / 2;
}

struct hiding_scale hiding_learn(const struct hiding_film *f, int coats, const struct weights *w) {
    const double low = ln_scale(f, coats, w),
                 high = coats > 1 ? ln_scale(f, coats - 1, w) : INFINITY;
    const double a = low / HIDING_SPREAD, b = high / HIDING_SPREAD, share = normal_between(a, b);
    double mean = a > 0 ? a : b; /* beyond all digits the near end */
    if (share > 1e-200) mean = (normal_density(a) - normal_density(b)) / share;
    mean = fmin(fmax(mean, a), b);
    return (struct hiding_scale){exp(mean * HIDING_SPREAD), exp(low), exp(high)};
}
