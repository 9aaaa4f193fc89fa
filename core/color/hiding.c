#include "core/color/hiding.h"

#include "core/color/color.h"

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

static struct spectrum flat(double r) {
    struct spectrum s;
    for (int i = 0; i < SPECTRUM_BANDS; i++) s.at[i] = r;
    return s;
}

double hiding_contrast(const struct hiding_film *f, double um, const struct weights *w) {
    struct spectrum black = flat(HIDING_CHART_BLACK), white = flat(HIDING_CHART_WHITE);
    black = hiding_over(f, um, &black);
    white = hiding_over(f, um, &white);
    return xyz_of_spectrum(w, &black).y / xyz_of_spectrum(w, &white).y;
}

struct hiding hiding_coats(const struct hiding_film *f, const struct spectrum *ground,
                           double threshold, int max, const struct weights *w) {
    struct spectrum opaque = pigment_reflectance(f->paint, NULL);
    struct lab want = lab_of_xyz(xyz_of_spectrum(w, &opaque), w->white);
    struct spectrum black = flat(HIDING_CHART_BLACK);
    const struct spectrum *under = ground ? ground : &black;
    struct hiding h = {0};
    for (int coats = 1; coats <= max; coats++) {
        h.film_um = coats * f->coat_um;
        struct spectrum r = hiding_over(f, h.film_um, under);
        h.difference = ciede2000(want, lab_of_xyz(xyz_of_spectrum(w, &r), w->white));
        h.contrast = hiding_contrast(f, h.film_um, w);
        h.coats = coats;
        if (ground ? h.difference <= threshold : h.contrast >= HIDING_CONTRAST) return h;
    }
    h.coats = max + 1;
    return h;
}
