#include "core/color/hiding.h"

#include <math.h>

/* One band. x = S times thickness. The hyperbolic form loses its digits where nothing is absorbed
 * (b -> 0); b coth(b x) -> 1/x then. */
static double over(double ks, double x, double ground) {
    if (x <= 0) return ground;
    double a = 1 + ks, b = sqrt(ks * (ks + 2)), bx = b * x;
    double bc = bx < 1e-6 ? 1 / x : bx > 350 ? b : b / tanh(bx);
    return (1 - ground * (a - bc)) / (a - ground + bc);
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
