/* The reach of a shelf at a hue, against mixes drawn at random: none of up to five paints lies
 * outside the edge by more than the edge is sharp, and the edge is no wider than what is found. */
#include "core/base/random.h"
#include "core/color/color.h"
#include "core/recipe/reach.h"
#include "tables.h"
#include "test/check.h"

#include <math.h>

enum { PAINTS = 8, MIXES = 20000 };
#define SHARP 2.0 /* chroma units; the drawn edge is not sharper */

int main(void) {
    const struct weights d50 = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D50);
    static const struct lab colors[PAINTS] = {
        {98, 0, 2},   {16, 1, 1},    {70, 25, 55},  {90, -2, 90},
        {40, 55, 30}, {26, 12, -50}, {32, -40, 15}, {45, 15, 18},
    };
    struct pigment paints[PAINTS];
    struct arena a;
    struct random rnd;
    arena_init(&a, alloc_heap(), 0);
    random_seed(&rnd, 11);
    for (int i = 0; i < PAINTS; i++) paints[i] = pigment_of_color(&d50, colors[i], NULL);

    CASE("no mix of up to five paints lies beyond the edge, and the edge is met") {
        for (int h = 0; h < 360; h += 45) {
            struct reach r;
            double found[REACH_ROWS] = {0};
            CHECK(reach_at_hue(paints, PAINTS, &d50, h, &a, &r));
            int beyond = 0, seen = 0;
            for (int m = 0; m < MIXES; m++) {
                double volume[PAINTS] = {0};
                for (int k = 0; k < 5; k++)
                    volume[random_below(&rnd, PAINTS)] += exp(8 * random_unit(&rnd) - 8);
                struct spectrum s = pigment_mix_reflectance(paints, volume, PAINTS);
                struct lch c = lch_of_lab(lab_of_xyz(xyz_of_spectrum(&d50, &s), d50.white));
                double low, high, off = remainder(c.h - h, 360);
                if (fabs(off) * M_PI / 180 * c.c > 0.5 || fabs(off) > 90) continue;
                seen++;
                if (!reach_chroma(&r, c.l, &low, &high) || c.c > high + SHARP || c.c < low - SHARP)
                    beyond++;
                int row = (int)((c.l - 1) / REACH_STEP + 0.5);
                if (row >= 0 && row < REACH_ROWS) found[row] = fmax(found[row], c.c);
            }
            CHECK(seen > 20 && beyond <= seen / 200);
            for (int i = 1; i < REACH_ROWS - 1; i++) { /* the edge is steep: rows beside count */
                double high = fmax(r.high[i], fmax(r.high[i - 1], r.high[i + 1]));
                if (found[i] > 0) CHECK(high >= found[i] - SHARP);
            }
        }
    }
    CASE("one paint and two paints are a point and a line; nothing is reached elsewhere") {
        struct reach r;
        double low, high;
        struct lch one = lch_of_lab(colors[5]);
        CHECK(reach_at_hue(&paints[5], 1, &d50, one.h + 120, &a, &r));
        CHECK(!reach_chroma(&r, 50, &low, &high));
        struct pigment two[2] = {paints[0], paints[1]}; /* white and black: no hue but a trace */
        CHECK(reach_at_hue(two, 2, &d50, 200, &a, &r));
        for (int i = 0; i < REACH_ROWS; i++)
            if (r.low[i] <= r.high[i]) CHECK(r.high[i] < 8);
    }
    CASE("more paints reach no less") {
        struct reach few, all;
        CHECK(reach_at_hue(paints, 4, &d50, 80, &a, &few));
        CHECK(reach_at_hue(paints, PAINTS, &d50, 80, &a, &all));
        for (int i = 0; i < REACH_ROWS; i++)
            if (few.low[i] <= few.high[i]) CHECK(all.high[i] >= few.high[i] - 1e-9);
    }
    arena_free(&a);
    return check_done();
}
