/* The reach of a shelf at a hue, against mixes drawn at random: none of up to five paints lies
 * outside the edge by more than the edge is sharp, and the edge is no wider than what is found. */
#include "core/base/random.h"
#include "core/color/color.h"
#include "core/recipe/extend.h"
#include "core/recipe/reach.h"
#include "core/recipe/recipe.h"
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
    const struct weights d65 = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D65);
    static struct munsell_book book;
    munsell_book_make(&tables_builtin, &book);
    const struct extend_ask shelf = {.paints = paints,
                                     .n = 4, /* white, black, orange, yellow */
                                     .d50 = &d50,
                                     .d65 = &d65,
                                     .book = &book,
                                     .items_max = 3,
                                     .parts = 16};
    CASE("a color that is mixed of the shelf and a deep purple-blue is brought near by just that") {
        struct extend e;
        struct extend_ask ask = shelf;
        const struct munsell chip = {75, 3, 10};
        struct pigment with[2] = {paints[0],
                                  pigment_of_color(&d50, munsell_color(&book, chip), NULL)};
        const double volume[2] = {4, 12};
        struct spectrum mix = pigment_mix_reflectance(with, volume, 2);
        ask.target = lab_of_xyz(xyz_of_spectrum(&d50, &mix), d50.white);
        CHECK(extend_find(&ask, NULL, &a, &e, NULL) == OK);
        CHECK(e.before > 5 && e.best.after < 3);
        CHECK(e.best.chip.hue == 75 && e.best.chip.value == 3);
    }
    CASE("what is said of the gain is what the search finds with that paint on the shelf") {
        struct extend e;
        struct extend_ask ask = shelf;
        ask.target = (struct lab){55, 10, -30};
        CHECK(extend_find(&ask, NULL, &a, &e, NULL) == OK);
        struct pigment five[5] = {paints[0], paints[1], paints[2], paints[3],
                                  pigment_of_color(&d50, e.best.color, NULL)};
        struct recipe_paint rows[5] = {{0}};
        for (int i = 0; i < 5; i++) rows[i].pigment = &five[i];
        struct recipe_problem p = {.paints = rows,
                                   .paints_n = 5,
                                   .target = lab_d65_of_d50(ask.target),
                                   .items_max = 3,
                                   .parts = 16,
                                   .d65 = &d65};
        struct recipe_result found;
        CHECK(recipe_search(&p, NULL, &a, &found, NULL) == OK);
        CHECK(found.proof.kind == RECIPE_OPTIMAL);
        CHECK_NEAR(found.best[0].difference, e.best.after, 1e-3);
        p.paints_n = 4;
        CHECK(recipe_search(&p, NULL, &a, &found, NULL) == OK);
        CHECK_NEAR(found.best[0].difference, e.before, 1e-9);
    }
    CASE(
        "a color that the shelf makes already: no paint gains; an empty shelf: the nearest paint") {
        struct extend e;
        struct extend_ask ask = shelf;
        const double volume[2] = {8, 8};
        struct spectrum mix = pigment_mix_reflectance(paints, volume, 2);
        ask.target = lab_of_xyz(xyz_of_spectrum(&d50, &mix), d50.white);
        CHECK(extend_find(&ask, NULL, &a, &e, NULL) == OK);
        CHECK(e.before < 0.1 && e.best.after > e.before - 0.1); /* D50 to D65 leaves a little */
        ask.n = 0;
        ask.target = munsell_color(&book, (struct munsell){0, 5, 0});
        CHECK(extend_find(&ask, NULL, &a, &e, NULL) == OK);
        CHECK(isinf(e.before) && e.best.after < 0.1 && e.best.chip.chroma == 0);
    }
    arena_free(&a);
    return check_done();
}
