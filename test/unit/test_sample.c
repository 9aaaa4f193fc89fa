/* Learning from samples: what is hidden in simulated paints is found, doubt shrinks, bad samples
 * are named, nothing ever breaks. */
#include "core/base/random.h"
#include "core/color/color.h"
#include "core/color/sample.h"
#include "tables.h"
#include "test/check.h"

enum { PAINTS = 4 };

struct world {
    struct weights w;
    struct pigment truth[PAINTS];
    struct sample_paint known[PAINTS];
};

/* White, yellow, red, dark blue; the truth is stronger or weaker than what their colors suggest. */
static struct world world_make(void) {
    static const struct lab color[PAINTS] = {{96, 0, 2}, {80, 5, 80}, {40, 50, 30}, {22, 5, -25}};
    static const double strength[PAINTS] = {1, 0.5, 1.8, 2.5};
    struct world x = {.w = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D50)};
    for (int p = 0; p < PAINTS; p++) {
        struct pigment g = pigment_of_color(&x.w, color[p], NULL);
        x.known[p] = (struct sample_paint){
            .prior = g, .color = color[p], .color_sd = SAMPLE_COLOR_SD, .shape_sd = 1};
        for (int i = 0; i < SPECTRUM_BANDS; i++) {
            g.s[i] *= strength[p];
            g.k[i] *= strength[p];
        }
        x.truth[p] = g;
    }
    return x;
}

static struct lab truth_of(const struct world *x, const struct sample_mix *mix) {
    double v[PAINTS] = {0};
    for (size_t i = 0; i < mix->n; i++) v[mix->paint[i]] += mix->volume[i];
    struct spectrum r = pigment_mix_reflectance(x->truth, v, PAINTS);
    return lab_of_xyz(xyz_of_spectrum(&x->w, &r), x->w.white);
}

static struct sample_reading sample_of(const struct world *x, size_t p, size_t q, double a,
                                       double b) {
    struct sample_reading r = {.mix = {2, {p, q}, {a, b}}, .read_sd = 0.3};
    r.color = truth_of(x, &r.mix);
    return r;
}

int main(void) {
    const struct world x = world_make();
    struct arena arena;
    const struct sample_model *m = NULL;
    struct sample_prediction before, after;
    const struct sample_mix wanted = {3, {0, 2, 3}, {4, 1, 1}};
    struct sample_reading reading[6] = {sample_of(&x, 0, 3, 1, 1), sample_of(&x, 0, 2, 1, 1),
                                        sample_of(&x, 0, 1, 1, 1), sample_of(&x, 2, 3, 1, 1),
                                        sample_of(&x, 0, 3, 4, 1), sample_of(&x, 0, 2, 4, 1)};
    arena_init(&arena, alloc_heap(), 0);

    CASE("without samples the paints are as their colors suggest") {
        CHECK(sample_fit(&x.w, x.known, PAINTS, NULL, 0, NULL, &arena, &m, NULL) == OK);
        CHECK(sample_predict(m, &wanted, &before, NULL) == OK);
        CHECK(before.expected > 0 && before.limit90 > before.expected && before.variance > 0);
        CHECK_NEAR(sample_pigments(m)[2].s[10], x.known[2].prior.s[10], 1e-9);
    }
    CASE("samples bring the prediction near and lessen the doubt") {
        CHECK(sample_fit(&x.w, x.known, PAINTS, reading, 6, NULL, &arena, &m, NULL) == OK);
        CHECK(sample_predict(m, &wanted, &after, NULL) == OK);
        struct lab t = truth_of(&x, &wanted);
        CHECK(ciede2000(after.color, t) < 1);
        CHECK(ciede2000(after.color, t) < ciede2000(before.color, t));
        CHECK(after.expected < before.expected);
    }
    CASE("the fast variance is the prediction's, and does not change with the unit of volume") {
        const double v[PAINTS] = {4, 0, 1, 1}, v2[PAINTS] = {40, 0, 10, 10};
        const int parts[PAINTS] = {4, 0, 1, 1};
        CHECK_NEAR(sample_variance(m, v, PAINTS), after.variance, 1e-9 * after.variance);
        CHECK_NEAR(sample_variance(m, v2, PAINTS), after.variance, 1e-9 * after.variance);
        CHECK_NEAR(sample_recipe_variance((void *)(size_t)m, parts, PAINTS), after.variance,
                   1e-9 * after.variance);
    }
    CASE("length of a doubt equal in three directions: tables of F (F.90(3, 6) = 3.289) and of the "
         "normal distribution, from memory") {
        double mean, limit90, d = sample_discrepancy(m), axis = sqrt(4 + d * d);
        sample_doubt(m, 0, 3 * 4, &mean, &limit90);
        CHECK_NEAR(limit90 / axis, sqrt(3 * 3.289), .03);
        /* sqrt(8 / pi), and sqrt(3) G(5/2) / G(3) for Student's t with 6 degrees of freedom */
        CHECK_NEAR(mean / axis, 1.5958 * 1.1512, .03);
        sample_doubt(m, 10 * axis, 3 * 4, &mean, &limit90); /* far off only the way there counts */
        CHECK_NEAR(limit90 / axis, 10 + 1.2816 + 1. / 10, .15);
    }
    CASE("the same input gives the same fit") {
        const struct sample_model *again = NULL;
        CHECK(sample_fit(&x.w, x.known, PAINTS, reading, 6, NULL, &arena, &again, NULL) == OK);
        CHECK(!memcmp(sample_pigments(m), sample_pigments(again), PAINTS * sizeof(struct pigment)));
    }
    CASE("one sample with a wrong color is named, the good ones are not") {
        struct sample_reading bad[7];
        struct sample_verdict verdict[7];
        memcpy(bad, reading, sizeof reading);
        bad[6] = sample_of(&x, 0, 3, 2, 1);
        bad[6].color.l += 25;
        CHECK(sample_fit(&x.w, x.known, PAINTS, bad, 7, NULL, &arena, &m, NULL) == OK);
        sample_judge(m, verdict);
        for (int i = 0; i < 6; i++) CHECK(!verdict[i].contradicts);
        CHECK(verdict[6].contradicts && verdict[6].difference > verdict[6].limit90);
    }
    CASE("a sample's limit never falls below the noise of one, whatever its pours and its like") {
        /* a white, a black, an ochre, a blue as their cans say; white read as gray, and one mix of
         * white and black read as gray and as red */
        static const struct lab can[PAINTS] = {
            {94.7, -.3, 3}, {10.2, .6, .3}, {60, 15, 48}, {25.9, 19, -54}};
        static const struct lab card[5] = {
            {66, 2, -27}, {83.5, 1.5, 27}, {58.7, .3, -1.6}, {58.7, .3, -1.6}, {54.3, 80.8, 69.9}};
        struct sample_paint paint[PAINTS];
        struct sample_reading poured[5] = {sample_of(&x, 0, 3, 8, 1),
                                           sample_of(&x, 0, 2, 4, 1),
                                           sample_of(&x, 0, 1, 8, 1),
                                           {.mix = {1, {0}, {5}}},
                                           sample_of(&x, 0, 1, 8, 1)};
        struct sample_verdict verdict[5];
        for (int p = 0; p < PAINTS; p++)
            paint[p] = (struct sample_paint){.prior = pigment_of_color(&x.w, can[p], NULL),
                                             .color = can[p],
                                             .color_sd = SAMPLE_COLOR_SD,
                                             .shape_sd = 1};
        for (int i = 0; i < 5; i++) {
            poured[i].color = card[i];
            poured[i].read_sd = 1.2;
            poured[i].pour_sd = 0.05;
        }
        CHECK(sample_fit(&x.w, paint, PAINTS, poured, 5, NULL, &arena, &m, NULL) == OK);
        sample_judge(m, verdict);
        /* 90 % of the length of three readings that are off by 1 each: sqrt(6.25), chi-squared */
        for (int i = 0; i < 5; i++) CHECK(verdict[i].limit90 > 2.5);
    }
    CASE("the next sample lowers what is expected, fits the measure and tints the dark paint "
         "first") {
        struct sample_candidate best[5];
        struct sample_next ask = {wanted, 0, 12, 0.3};
        CHECK(sample_fit(&x.w, x.known, PAINTS, NULL, 0, NULL, &arena, &m, NULL) == OK);
        size_t n = sample_next_best(m, &ask, best, 5);
        CHECK(n == 4); /* three pairs and the recipe */
        for (size_t i = 0; i < n; i++) {
            int sum = 0;
            for (size_t k = 0; k < best[i].n; k++)
                sum += best[i].parts[k], CHECK(best[i].parts[k] >= 1);
            CHECK(sum <= 12 && best[i].after < best[i].now);
        }
        /* the recipe itself tells most; of the pairs the dark paint's tints do */
        CHECK(best[0].n == wanted.n);
        CHECK(best[1].tint && (best[1].paint[0] == 3 || best[1].paint[1] == 3));
    }
    CASE("another can begins with what the first taught, and its own cards say where it differs") {
        /* paint PAINTS is a new can of the dark blue, a tenth stronger than the lot before */
        struct sample_paint two[PAINTS + 1];
        struct sample_prediction old, new, alone, later;
        struct sample_reading its = sample_of(&x, 0, 3, 1, 1);
        const struct sample_mix was = {2, {0, 3}, {4, 1}}, is = {2, {0, PAINTS}, {4, 1}},
                                masstone = {1, {3}, {1}}, of_new = {1, {PAINTS}, {1}};
        double apart, later_apart;
        for (int p = 0; p < PAINTS; p++) two[p] = x.known[p];
        two[PAINTS] = x.known[3];
        CHECK(sample_fit(&x.w, two, PAINTS + 1, reading, 6, NULL, &arena, &m, NULL) == OK);
        CHECK(sample_predict(m, &is, &alone, NULL) == OK); /* under a name of its own: nothing */
        two[PAINTS].another_can = true;
        two[PAINTS].of = 3;
        two[PAINTS].color.l = NAN;
        CHECK(sample_fit(&x.w, two, PAINTS + 1, reading, 6, NULL, &arena, &m, NULL) == OK);
        CHECK(sample_predict(m, &was, &old, NULL) == OK);
        CHECK(sample_predict(m, &is, &new, NULL) == OK);
        CHECK_NEAR(ciede2000(old.color, new.color), 0, 1e-6);
        CHECK(new.expected > old.expected &&new.expected < 1.3 * old.expected);
        CHECK(ciede2000(new.color, truth_of(&x, &was)) <
              ciede2000(alone.color, truth_of(&x, &was)));
        CHECK(new.expected < 0.7 * alone.expected);
        /* alone, two lots dry somewhat apart */
        CHECK(sample_apart(m, &masstone, &of_new, &apart, NULL) == OK);
        CHECK(apart > 0.3 && apart < 1.1);
        CHECK(sample_apart(m, &masstone, &masstone, &apart, NULL) == OK);
        CHECK_NEAR(apart, 0, 1e-9);
        CHECK(sample_apart(m, &was, &is, &apart, NULL) == OK);
        /* its own card, read as of a stronger lot, draws it there, and the old can hardly */
        const struct sample_mix stronger = {2, {0, 3}, {1, 1.1}};
        its.mix.paint[1] = PAINTS;
        its.color = truth_of(&x, &stronger);
        its.read_sd = 0.1;
        struct sample_reading all[7];
        for (int i = 0; i < 6; i++) all[i] = reading[i];
        all[6] = its;
        CHECK(sample_fit(&x.w, two, PAINTS + 1, all, 7, NULL, &arena, &m, NULL) == OK);
        CHECK(sample_predict(m, &is, &later, NULL) == OK);
        CHECK(later.color.l < new.color.l &&later.expected < new.expected);
        CHECK(sample_apart(m, &was, &is, &later_apart, NULL) == OK);
        const struct pigment *learnt = sample_pigments(m);
        CHECK(pigment_tinting(&learnt[PAINTS]) > pigment_tinting(&learnt[3]));
        /* no can of a can, none of a paint that is not there */
        two[3].another_can = true;
        CHECK(sample_fit(&x.w, two, PAINTS + 1, all, 7, NULL, &arena, &m, NULL) == E_REFERENCE);
        two[3].another_can = false;
        two[PAINTS].of = PAINTS + 1;
        CHECK(sample_fit(&x.w, two, PAINTS + 1, all, 7, NULL, &arena, &m, NULL) == E_REFERENCE);
    }
    CASE("the lots of any color dry between half a unit and one apart (COLORTOL: 0.5 is what "
         "suppliers "
         "keep to, below 1.0 a good match)") {
        /* light, middle and dark, gray and strong */
        static const struct lab can[PAINTS + 4] = {{95, 0, 3},    {82, 4, 78}, {60, 15, 48},
                                                   {48, 58, 38},  {40, 8, 15}, {30, 12, -45},
                                                   {35, -30, -5}, {12, 0.5, 0}};
        double sum = 0;
        for (int i = 0; i < PAINTS + 4; i++) {
            struct sample_paint lots[2] = {{.prior = pigment_of_color(&x.w, can[i], NULL),
                                            .color = can[i],
                                            .color_sd = SAMPLE_COLOR_SD,
                                            .shape_sd = 1},
                                           {.another_can = true, .color = {NAN, 0, 0}}};
            const struct sample_mix one = {1, {0}, {1}}, other = {1, {1}, {1}};
            double apart;
            lots[1].prior = lots[0].prior;
            lots[1].color_sd = SAMPLE_COLOR_SD;
            lots[1].shape_sd = 1;
            CHECK(sample_fit(&x.w, lots, 2, NULL, 0, NULL, &arena, &m, NULL) == OK);
            CHECK(sample_apart(m, &one, &other, &apart, NULL) == OK);
            CHECK(apart > 0.15 && apart < 1.5); /* whites least */
            sum += apart / (PAINTS + 4);
        }
        CHECK(sum > 0.5 && sum < 1);
    }
    CASE("in a tint two lots of a dark paint differ as pigments within a tenth of strength do: .08 "
         "(ISO1248)") {
        const struct lab white = {96, 0, 2}, blue = {22, 5, -30};
        struct sample_paint can[3] = {
            {.prior = pigment_of_color(&x.w, white, NULL), .color = white},
            {.prior = pigment_of_color(&x.w, blue, NULL), .color = blue},
            {.prior = pigment_of_color(&x.w, blue, NULL), .color = {NAN, 0, 0}}};
        for (int i = 0; i < 3; i++) can[i].color_sd = SAMPLE_COLOR_SD, can[i].shape_sd = 1;
        can[2].another_can = true, can[2].of = 1;
        const struct sample_mix tint = {2, {0, 1}, {20, 1}}, lot = {2, {0, 2}, {20, 1}};
        double apart, square = 0;
        CHECK(sample_fit(&x.w, can, 3, NULL, 0, NULL, &arena, &m, NULL) == OK);
        CHECK(sample_apart(m, &tint, &lot, &apart, NULL) == OK);
        for (int way = -1; way <= 1; way += 2) { /* worked out apart: all of its K off by that */
            struct pigment two[2] = {can[0].prior, can[1].prior};
            const double volume[2] = {20, 1};
            const struct spectrum was = pigment_mix_reflectance(two, volume, 2);
            for (int b = 0; b < SPECTRUM_BANDS; b++) two[1].k[b] *= exp(way * SAMPLE_LOT_STRENGTH);
            const struct spectrum is = pigment_mix_reflectance(two, volume, 2);
            const double off = ciede2000(lab_of_xyz(xyz_of_spectrum(&x.w, &was), x.w.white),
                                         lab_of_xyz(xyz_of_spectrum(&x.w, &is), x.w.white));
            square += off * off / 2;
        }
        CHECK(apart > 0.7 * sqrt(square) && apart < 1.4 * sqrt(square));
    }
    CASE("500 samples that contradict each other give finite numbers and wide doubt") {
        static struct sample_reading mess[500];
        struct random r;
        random_seed(&r, 1);
        for (int i = 0; i < 500; i++) {
            mess[i] = sample_of(&x, random_below(&r, PAINTS), random_below(&r, PAINTS), 1,
                                1 + random_unit(&r));
            mess[i].color = (struct lab){100 * random_unit(&r), 100 * random_unit(&r) - 50,
                                         100 * random_unit(&r) - 50};
        }
        CHECK(sample_fit(&x.w, x.known, PAINTS, mess, 500, NULL, &arena, &m, NULL) == OK);
        CHECK(sample_predict(m, &wanted, &after, NULL) == OK);
        CHECK(isfinite(after.color.l) && isfinite(after.expected) && isfinite(after.limit90));
        static struct sample_verdict verdict[500];
        sample_judge(m, verdict);
        for (int i = 0; i < 500; i++)
            CHECK(isfinite(verdict[i].difference) && isfinite(verdict[i].limit90));
        CHECK(sample_discrepancy(m) > 1.5);
    }
    CASE("wrong input is named and leaves the output alone") {
        const struct sample_model *out = NULL;
        struct why why = {0};
        struct sample_reading wrong = reading[0];
        CHECK(sample_fit(&x.w, x.known, 0, NULL, 0, NULL, &arena, &out, &why) == E_MISSING);
        wrong.mix.paint[1] = PAINTS;
        CHECK(sample_fit(&x.w, x.known, PAINTS, &wrong, 1, NULL, &arena, &out, &why) ==
              E_REFERENCE);
        CHECK_TEXT(why.field, "/samples/0/items/1");
        wrong = reading[0];
        wrong.mix.volume[0] = -1;
        CHECK(sample_fit(&x.w, x.known, PAINTS, &wrong, 1, NULL, &arena, &out, &why) == E_DOMAIN);
        wrong = reading[0];
        wrong.color.a = NAN;
        CHECK(sample_fit(&x.w, x.known, PAINTS, &wrong, 1, NULL, &arena, &out, &why) == E_DOMAIN);
        CHECK(!out);
    }
    CASE("memory that runs out is an error at every allocation") {
        for (size_t bytes = 1000; bytes < 400000; bytes += 20000) {
            struct arena tight;
            const struct sample_model *out = NULL;
            arena_init(&tight, alloc_heap(), bytes);
            enum status s = sample_fit(&x.w, x.known, PAINTS, reading, 6, NULL, &tight, &out, NULL);
            CHECK(s == OK ? out != NULL : s == E_MEMORY && !out);
            arena_free(&tight);
        }
    }
    arena_free(&arena);
    return check_done();
}
