/* Laws of spectra, upsampling, pigments and hiding. */
#include "core/base/random.h"
#include "core/color/color.h"
#include "core/color/hiding.h"
#include "core/color/pigment.h"
#include "core/color/surface.h"
#include "tables.h"
#include "test/check.h"

static int valid(const struct spectrum *r) {
    for (int i = 0; i < SPECTRUM_BANDS; i++)
        if (!(r->at[i] >= 0 && r->at[i] <= 1)) return 0;
    return 1;
}

int main(void) {
    const struct weights d50 = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D50);
    const struct weights d65 = weights_make(&tables_builtin, OBSERVER_10, LIGHT_D65);
    struct random rnd;
    random_seed(&rnd, 7);

    CASE("a perfect white is Lab 100 0 0 under every light") {
        struct spectrum one;
        for (int i = 0; i < SPECTRUM_BANDS; i++) one.at[i] = 1;
        for (int o = 0; o < OBSERVERS; o++)
            for (int l = 0; l < LIGHTS; l++) {
                struct weights w = weights_make(&tables_builtin, (enum observer)o, (enum light)l);
                struct lab c = lab_of_xyz(xyz_of_spectrum(&w, &one), w.white);
                CHECK_NEAR(c.l, 100, 1e-9);
                CHECK_NEAR(fabs(c.a) + fabs(c.b), 0, 1e-9);
            }
    }
    CASE("colors of mixes of real-like reflectances are met exactly and stay within 0..1") {
        for (int n = 0; n < 300; n++) {
            struct spectrum r;
            double z = random_normal(&rnd), step = 0;
            for (int i = 0; i < SPECTRUM_BANDS; i++) {
                step = 0.8 * step + 0.15 * random_normal(&rnd);
                z += step;
                r.at[i] = 0.01 + 0.97 / (1 + exp(-z));
            }
            struct lab c = lab_of_xyz(xyz_of_spectrum(&d65, &r), d65.white);
            struct upsampled u = upsample_color(&d65, c);
            CHECK(u.reached && u.difference < 1e-6 && valid(&u.spectrum));
        }
    }
    CASE("the corners of sRGB are colors a paint can nearly have") {
        int missed = 0;
        for (int i = 0; i < 512; i++) {
            struct rgb c = {(i & 7) / 7.0, (i >> 3 & 7) / 7.0, (i >> 6) / 7.0};
            struct upsampled u = upsample_color(&d50, lab_of_srgb(c));
            CHECK(valid(&u.spectrum) && isfinite(u.difference));
            CHECK(u.difference < 0.6);
            if (u.difference > 1e-6) missed++;
        }
        CHECK(missed <= 4); /* black, white and two next to black */
    }
    CASE("a color no paint can have gives the nearest and says so") {
        struct lab far[] = {{50, 120, 0}, {90, -120, 80}, {20, 60, -140}, {120, 0, 0},
                            {-10, 5, 5},  {60, 150, 150}, {50, 1e6, 0},   {1e9, 0, 0}};
        for (size_t i = 0; i < sizeof far / sizeof *far; i++) {
            struct upsampled u = upsample_color(&d50, far[i]);
            CHECK(valid(&u.spectrum) && !u.reached && isfinite(u.difference));
            CHECK_NEAR(ciede2000(far[i], u.color), u.difference, 1e-9);
        }
    }
    CASE("a flat surface lightens and grays, dark colors most; there and back is the same") {
        CHECK_NEAR(SURFACE_FRESNEL, pow((1.5 - 1) / (1.5 + 1), 2), 1e-12); /* FRESNEL, n = 1.5 */
        CHECK_NEAR(surface_scattered(0), 1, 0);
        CHECK_NEAR(surface_scattered(90), 0, 0);
        CHECK_NEAR(surface_scattered(35), 0.5, 1e-12); /* 1 - gloss / 70: common practice */
        struct lab dark = {25, -15, -10}, pale = {85, -15, -10};
        double moved[2];
        for (int i = 0; i < 2; i++) {
            struct spectrum r = upsample_color(&d50, i ? pale : dark).spectrum;
            struct spectrum flat = surface_seen(&r, SURFACE_GLOSS_SATIN, SURFACE_GLOSS_FLAT);
            struct spectrum back = surface_seen(&flat, SURFACE_GLOSS_FLAT, SURFACE_GLOSS_SATIN);
            struct lab was = lab_of_xyz(xyz_of_spectrum(&d50, &r), d50.white);
            struct lab now = lab_of_xyz(xyz_of_spectrum(&d50, &flat), d50.white);
            CHECK(now.l > was.l && lch_of_lab(now).c < lch_of_lab(was).c && valid(&flat));
            moved[i] = ciede2000(was, now);
            for (int k = 0; k < SPECTRUM_BANDS; k++) CHECK_NEAR(back.at[k], r.at[k], 1e-12);
        }
        CHECK(moved[0] > 2 * moved[1]);
    }
    return check_done();
}
