/* Films over grounds, and spectra brought to the grid: the limits of the law, one worked by hand,
 * and input that cannot be. */
#include "core/color/color.h"
#include "core/color/hiding.h"
#include "core/color/upsample.h"
#include "tables.h"
#include "test/check.h"

#include <math.h>

static struct spectrum flat(double r) {
    struct spectrum s;
    for (int i = 0; i < SPECTRUM_BANDS; i++) s.at[i] = r;
    return s;
}

static struct pigment paint_of(double k, double s) {
    struct pigment p;
    for (int i = 0; i < SPECTRUM_BANDS; i++) p.k[i] = k, p.s[i] = s;
    return p;
}

static void films(const struct weights *w) {
    const struct pigment gray = paint_of(0.5, 1), clear = paint_of(0, 1e-9), white = paint_of(0, 1);
    const struct spectrum black = flat(0), half = flat(0.5);
    struct hiding_film film = {&gray, 0.1, 20};
    CASE("no film shows the ground, a thick one hides it") {
        CHECK_NEAR(hiding_over(&film, 0, &half).at[7], 0.5, 1e-12);
        const double opaque = reflectance_of_ks(0.5, 1);
        CHECK_NEAR(hiding_over(&film, 1e5, &half).at[7], opaque, 1e-9);
        CHECK_NEAR(hiding_over(&film, 1e5, &black).at[7], opaque, 1e-9);
        CHECK_NEAR(opaque, 1.5 - sqrt(1.25), 1e-12); /* R = 1 + q - sqrt(q^2 + 2 q), q = 1/2 */
    }
    CASE("a film that only scatters: R = S x / (S x + 1) over black (Kubelka and Munk 1931)") {
        film.paint = &white;
        CHECK_NEAR(hiding_over(&film, 10, &black).at[0], 0.5, 1e-9);  /* S x = 1 */
        CHECK_NEAR(hiding_over(&film, 30, &black).at[0], 0.75, 1e-9); /* S x = 3 */
        film.paint = &clear;
        CHECK_NEAR(hiding_over(&film, 100, &half).at[0], 0.5, 1e-6);
    }
    CASE("thin layers upon each other are one layer") {
        film.paint = &gray;
        const struct spectrum first = hiding_over(&film, 12, &half);
        CHECK_NEAR(hiding_over(&film, 7, &first).at[3], hiding_over(&film, 19, &half).at[3], 1e-12);
    }
    CASE("more coats hide more; at last all") {
        const struct spectrum dark = flat(0.02);
        double last = 0;
        for (int coats = 1; coats < 40; coats++) {
            double c = hiding_after(&film, coats, &dark, w).contrast;
            CHECK(c >= last && c <= 1 + 1e-12);
            last = c;
        }
        CHECK(last > 0.999);
    }
    CASE("a coat is judged where it is thinnest, at .6 of its mean (by hand: S x = .1 x 20 x .6, "
         "R = S x / (S x + 1) over black)") {
        film.paint = &white;
        CHECK_NEAR(hiding_after(&film, 1, &black, w).xyz.y, 1.2 / 2.2, 1e-6);
        CHECK_NEAR(hiding_after(&film, 3, &black, w).xyz.y, 3.6 / 4.6, 1e-6);
    }
    CASE("coats are the least number that reaches 0.98, and none too few") {
        const struct spectrum dark = flat(0.05), same = pigment_reflectance(&gray);
        film.white_scatter_per_um = HIDING_WHITE_SCATTER_PER_UM;
        film.paint = &white;
        const int coats = hiding_coats(&film, &dark, 40, w);
        CHECK(coats > 1 && coats <= 40);
        CHECK(hiding_after(&film, coats, &dark, w).contrast >= HIDING_CONTRAST);
        CHECK(hiding_after(&film, coats - 1, &dark, w).contrast < HIDING_CONTRAST);
        CHECK(hiding_coats(&film, &dark, coats - 1, w) == coats); /* most + 1: fewer do not do */
        film.paint = &gray;
        CHECK(hiding_coats(&film, &same, 12, w) == 1);
    }
    CASE("no paint is as white as a screen: (1 - R)^2 / (2 R) at R = .94 is the least it absorbs, "
         "and "
         "a white over a white primer takes two coats, not six") {
        const struct lab screen = {100, 0, 0}, primer = {95, 0, 2};
        struct weights d50 = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D50);
        const struct pigment wished = pigment_of_color(&d50, screen, NULL),
                             paint = hiding_paint(&wished), own = hiding_paint(&gray);
        const struct spectrum below = upsample_color(&d50, primer).spectrum;
        struct hiding_film coat = {&paint, HIDING_WHITE_SCATTER_PER_UM, 38};
        CHECK_NEAR(pigment_reflectance(&paint).at[9], 0.94, 1e-6);
        CHECK_NEAR(own.k[9], gray.k[9], 0); /* what absorbs more stays as it is */
        CHECK(hiding_coats(&coat, &below, 12, &d50) == 2);
        coat.paint = &wished;
        CHECK(hiding_coats(&coat, &below, 12, &d50) > 5); /* what was said before */
    }
    CASE("a white house paint hides the chart's black from its white at about 45 um (ISO 6504-3; "
         "thickness from memory)") {
        /* what is fed in is the paint of HIDING_WHITE_SCATTER_PER_UM with a white's absorption */
        const struct pigment house = pigment_of_spectrum((const struct spectrum[]){flat(0.9)}, 1);
        const struct spectrum chart_black = flat(0.02), chart_white = flat(0.80);
        struct hiding_film one = {&house, HIDING_WHITE_SCATTER_PER_UM, 45};
        const struct spectrum b = hiding_over(&one, 45, &chart_black),
                              w80 = hiding_over(&one, 45, &chart_white);
        CHECK_NEAR(xyz_of_spectrum(w, &b).y / xyz_of_spectrum(w, &w80).y, 0.98, 0.01);
        CHECK_NEAR(hiding_chart(&one, 45, w), xyz_of_spectrum(w, &b).y / xyz_of_spectrum(w, &w80).y,
                   1e-12);
    }
    CASE("contrast ratio of a film that only scatters, in closed form (Kubelka and Munk 1931)") {
        /* K = 0, x = S times thickness: R over Rg = (x (1 - Rg) + Rg) / (x (1 - Rg) + 1) */
        struct hiding_film one = {&white, 0.1, 20};
        for (double x = 0.5; x < 40; x *= 2) {
            const double b = (x * 0.98 + 0.02) / (x * 0.98 + 1),
                         w80 = (x * 0.2 + 0.8) / (x * 0.2 + 1);
            CHECK_NEAR(hiding_chart(&one, x / 0.1, w), b / w80, 1e-6);
        }
    }
    CASE(
        "coats that were needed on a chart tell how much a paint scatters, and no more than that") {
        const struct pigment ochre = paint_of(0.4, 0.8);
        struct hiding_film f = {&ochre, HIDING_WHITE_SCATTER_PER_UM, 25};
        double last = INFINITY;
        for (int coats = 1; coats <= 8; coats++) {
            const struct hiding_scale h = hiding_learn(&f, coats, w);
            struct hiding_film at = f;
            CHECK(h.low <= h.scale && h.scale <= h.high && h.scale < last);
            /* with the least scattering that fits, so many coats just do; with less they do not */
            at.white_scatter_per_um = f.white_scatter_per_um * h.low * 1.001;
            CHECK(hiding_chart(&at, coats * 25 * HIDING_THIN_PLACES, w) >= HIDING_CONTRAST);
            at.white_scatter_per_um = f.white_scatter_per_um * h.low * 0.999;
            CHECK(hiding_chart(&at, coats * 25 * HIDING_THIN_PLACES, w) < HIDING_CONTRAST);
            last = h.scale;
        }
        /* what was to be expected anyway says little; what was not draws the scale along */
        int expected = 1;
        while (hiding_chart(&f, expected * 25 * HIDING_THIN_PLACES, w) < HIDING_CONTRAST)
            expected++;
        const struct hiding_scale as = hiding_learn(&f, expected, w);
        CHECK(as.low <= 1 && as.high >= 1 && as.scale > 0.6 && as.scale < 1.7);
        CHECK(hiding_learn(&f, 2 * expected + 1, w).scale < 0.7);
        CHECK(isfinite(hiding_learn(&f, 1000, w).scale) && hiding_learn(&f, 1000, w).scale > 0);
    }
}

static void resampled(void) {
    double v[400];
    struct spectrum r = flat(0.77);
    struct why why = {0};
    CASE("what is on the grid stays; straight lines stay straight at any step") {
        for (int step = 1; step <= 20; step += step < 5 ? 4 : 5) {
            const size_t n = (size_t)(360 / step) + 1;
            for (size_t i = 0; i < n; i++) v[i] = 0.1 + 0.001 * step * (double)i;
            CHECK(spectrum_resample(380, step, v, n, &r, NULL) == OK);
            for (int i = 1; i < SPECTRUM_BANDS - 1; i++) /* at the ends the mean is one-sided */
                CHECK_NEAR(r.at[i], 0.1 + 0.01 * i, 1e-9);
        }
    }
    CASE("a coarse spectrum never leaves the range of its neighbors") {
        for (size_t i = 0; i < 16; i++) v[i] = i % 3 ? 0.9 : 0.02;
        CHECK(spectrum_resample(400, 20, v, 16, &r, NULL) == OK);
        for (int i = 0; i < SPECTRUM_BANDS; i++) CHECK(r.at[i] >= 0.02 && r.at[i] <= 0.9);
    }
    CASE("between the bands of a coarse instrument the slope is the harmonic mean of the chords "
         "(Fritsch and Butland 1984), 0 where they turn (by hand: .1 .2 .5 .5 at 20 nm)") {
        for (size_t i = 0; i < 16; i++) v[i] = i < 2 ? 0.1 * (double)(i + 1) : 0.5;
        CHECK(spectrum_resample(400, 20, v, 16, &r, NULL) == OK);
        CHECK_NEAR(r.at[(430 - SPECTRUM_FIRST_NM) / SPECTRUM_STEP_NM], .35 + .15 / 8, 1e-12);
    }
    CASE(
        "a finer instrument's band is the mean over a triangle of +-10 nm (by hand: one of five)") {
        double line[81] = {0};
        line[25] = 1; /* 505 nm of 380, 385, ... */
        line[40] = 1; /* 580 nm */
        CHECK(spectrum_resample(380, 5, line, 81, &r, NULL) == OK);
        CHECK_NEAR(r.at[(580 - SPECTRUM_FIRST_NM) / SPECTRUM_STEP_NM], 1 / 2., 1e-12);
        CHECK_NEAR(r.at[(570 - SPECTRUM_FIRST_NM) / SPECTRUM_STEP_NM], 0, 1e-12);
        CHECK_NEAR(r.at[(500 - SPECTRUM_FIRST_NM) / SPECTRUM_STEP_NM], 1 / 4., 1e-12);
        CHECK_NEAR(r.at[(510 - SPECTRUM_FIRST_NM) / SPECTRUM_STEP_NM], 1 / 4., 1e-12);
    }
    CASE("three points, half a range, percent and nonsense are refused, the output untouched") {
        r = flat(0.77);
        CHECK(spectrum_resample(400, 100, v, 3, &r, &why) == E_DOMAIN);
        CHECK(spectrum_resample(400, 10, v, 3, &r, &why) == E_MISSING &&
              strstr(why.text, "3 values"));
        CHECK(spectrum_resample(450, 10, v, 31, &r, &why) == E_DOMAIN && strstr(why.text, "450"));
        CHECK(spectrum_resample(405, 10, v, 31, &r, &why) == E_DOMAIN && strstr(why.text, "405"));
        for (size_t i = 0; i < 31; i++) v[i] = 50;
        CHECK(spectrum_resample(400, 10, v, 31, &r, &why) == E_DOMAIN);
        CHECK_TEXT(why.field, "/values/0");
        for (size_t i = 0; i < 31; i++) v[i] = 0.5;
        v[30] = NAN;
        CHECK(spectrum_resample(400, 10, v, 31, &r, &why) == E_DOMAIN);
        CHECK_TEXT(why.field, "/values/30");
        CHECK(spectrum_resample(NAN, 10, v, 31, &r, &why) == E_MISSING);
        CHECK_TEXT(why.field, "/first_nm");
        CHECK(spectrum_resample(400, NAN, v, 31, &r, NULL) == E_MISSING);
        CHECK(r.at[9] == 0.77);
    }
}

int main(void) {
    const struct weights w = weights_make(&tables_builtin, OBSERVER_10, LIGHT_D65);
    films(&w);
    resampled();
    return check_done();
}
