/* Measuring a recipe out, and correcting a batch that dried to another color. */
#include "core/base/random.h"
#include "core/base/units.h"
#include "core/recipe/correct.h"
#include "core/recipe/measure.h"
#include "test/unit/recipe_room.h"

static void test_measure(void) {
    const struct measure_item items[3] = {{5, 1.3, 1}, {2, 1.2, 3}, {1, 1.4, 40}};
    struct measure_kit kit = {MEASURE_BY_FL_OZ, .25, 0};
    struct measure_plan m;
    CASE("fluid ounces: 8 parts of 12 fl oz are 7 1/2, 3, 1 1/2; the strongest last, little by "
         "little") {
        CHECK(measure_make(&kit, items, 3, 12 * ML_PER_US_FL_OZ, .25, &arena, &m, &why) == OK);
        CHECK_NEAR(m.batch_ml, 12 * ML_PER_US_FL_OZ, 1e-6);
        CHECK_TEXT(m.amounts[0].text, "7 1/2 fl oz");
        CHECK_TEXT(m.amounts[1].text, "3 fl oz");
        CHECK_TEXT(m.amounts[2].text, "1 1/2 fl oz");
        CHECK_NEAR(m.ratio_error, 0, 0);
        CHECK(m.pours_n > 3 && m.pours[0].item == 0 && m.pours[1].item == 1);
        int steps = 0;
        for (size_t i = 2; i < m.pours_n; i++) {
            CHECK(m.pours[i].item == 2);
            CHECK(m.pours[i].check == (i + 1 < m.pours_n));
            steps += m.pours[i].steps;
        }
        CHECK(steps == 6);
        CHECK_TEXT(m.pours[m.pours_n - 1].mark, "12 fl oz");
    }
    CASE("spoons and cups: 1 cup is 16 tbsp is 48 tsp (NIST SP 811)") {
        struct measure_item one[2] = {{15, 0, 1}, {1, 0, 2}};
        kit = (struct measure_kit){.kind = MEASURE_BY_SPOON};
        CHECK(measure_make(&kit, one, 2, 8 * ML_PER_US_FL_OZ, 0, &arena, &m, &why) == OK);
        CHECK_TEXT(m.amounts[0].text, "3/4 cup + 3 tbsp");
        CHECK_TEXT(m.amounts[1].text, "1 tbsp");
        CHECK_NEAR(m.batch_ml, 8 * ML_PER_US_FL_OZ, 1e-6);
    }
    CASE("a scale: grams through density, marks add up") {
        kit = (struct measure_kit){.kind = MEASURE_BY_SCALE, .step = 1};
        CHECK(measure_make(&kit, items, 3, 400, .1, &arena, &m, &why) == OK);
        CHECK(m.batch_ml >= 400 && m.batch_ml <= 440 + 5 && m.ratio_error < .01);
        for (size_t i = 0; i < 3; i++) CHECK_NEAR(m.amounts[i].g, m.amounts[i].steps, 1e-9);
        CHECK_NEAR(m.pours[m.pours_n - 1].mark_g, m.amounts[0].g + m.amounts[1].g + m.amounts[2].g,
                   1e-9);
    }
    CASE("a small batch grows until the smallest pour can be measured") {
        kit = (struct measure_kit){MEASURE_BY_ML, 5, 10};
        CHECK(measure_make(&kit, items, 3, 30, .25, &arena, &m, &why) == OK);
        CHECK_NEAR(m.batch_ml, 80, 1e-9);
        CHECK_TEXT(m.amounts[2].text, "10 ml");
    }
    CASE("nothing is made too little, pours add up to amounts: 500 random plans") {
        struct random g;
        random_seed(&g, 9);
        for (int t = 0; t < 500; t++) {
            struct measure_item it[6];
            size_t n = 1 + random_below(&g, 6);
            for (size_t i = 0; i < n; i++)
                it[i] = (struct measure_item){1 + (int)random_below(&g, 30), .9 + random_unit(&g),
                                              random_unit(&g)};
            static const double step[] = {.125, 0, 5, 0}; /* fl oz, spoons, ml, drops */
            int kind = (int)random_below(&g, 4);
            kit = (struct measure_kit){(enum measure_kind)kind, step[kind], 0};
            double want = 20 + 2000 * random_unit(&g);
            CHECK(measure_make(&kit, it, n, want, .25, &arena, &m, &why) == OK);
            int poured[6] = {0};
            for (size_t i = 0; i < m.pours_n; i++) poured[m.pours[i].item] += m.pours[i].steps;
            for (size_t i = 0; i < n; i++) CHECK(poured[i] == m.amounts[i].steps && poured[i] > 0);
            CHECK(m.batch_ml >= want * (1 - 1e-6));
            CHECK_NEAR(m.pours[m.pours_n - 1].mark_ml, m.batch_ml, 1e-6 * m.batch_ml);
        }
    }
    CASE("bad input names the field") {
        kit = (struct measure_kit){.kind = MEASURE_BY_SCALE, .step = 1};
        struct measure_item bad[1] = {{1, 0, 1}};
        CHECK(measure_make(&kit, bad, 1, 100, .1, &arena, &m, &why) == E_MISSING);
        CHECK_TEXT(why.field, "/items/0/density_g_per_ml");
        CHECK(measure_make(&kit, items, 3, 0, .1, &arena, &m, &why) == E_DOMAIN);
        CHECK_TEXT(why.field, "/want_ml");
        kit.step = 0;
        CHECK(measure_make(&kit, items, 3, 100, .1, &arena, &m, &why) == E_DOMAIN);
        CHECK_TEXT(why.field, "/kit");
    }
}

static void test_correct(void) {
    struct correct_problem c = {.batch_ml = 300, .need_ml = 300, .most_ml = 600, .good = 1};
    struct correction k;
    struct recipe made;
    struct recipe_item old[2] = {{0, 10}, {4, 2}}, wanted[3] = {{0, 10}, {4, 2}, {5, 2}};
    CASE("what was left out is what is added, and no more") {
        c.recipe = problem_for((struct lab){50, 0, 0}, 2, 12);
        CHECK(recipe_judge(&c.recipe, wanted, 3, &made, &why) == OK);
        c.recipe.target = made.lab;
        paints[0].in_batch = 10, paints[4].in_batch = 2;
        c.good = .2;
        CHECK(correct_batch(&c, NULL, &arena, &k, &why) == OK);
        CHECK(k.add.items_n == 1 && k.add.items[0].paint == 5 && k.add.items[0].parts == 2);
        CHECK_NEAR(k.add_ml, 50, 1e-9);
        CHECK_NEAR(k.more_ml, 50, 1e-9);
        CHECK(k.advice == CORRECT_ADD && k.proof.kind == RECIPE_OPTIMAL);
        c.good = 2.5, c.recipe.items_max = 3; /* a fresh one would do too, but costs more */
        CHECK(correct_batch(&c, NULL, &arena, &k, &why) == OK);
        CHECK(k.fresh.difference <= 2.5 && k.fresh_cent > k.add_cent && k.advice == CORRECT_ADD);
        c.good = .2, c.recipe.items_max = 2;
        c.need_ml = 362; /* 14.5 parts of 25 ml: the half is poured as a whole */
        CHECK(correct_batch(&c, NULL, &arena, &k, &why) == OK);
        CHECK(k.after_ml >= 362 && k.after_ml < 362 + 25 + 1e-9);
        CHECK_NEAR(k.more_ml, k.after_ml - 362, 1e-9); /* over what is needed, not over the batch */
        c.need_ml = 300;
    }
    CASE("a batch that is right is left alone") {
        c.recipe.target = (struct lab){0, 0, 0};
        make_shelf();
        CHECK(recipe_judge(&c.recipe, old, 2, &made, &why) == OK);
        c.recipe.target = made.lab;
        paints[0].in_batch = 10, paints[4].in_batch = 2;
        CHECK(correct_batch(&c, NULL, &arena, &k, &why) == OK);
        CHECK(k.advice == CORRECT_LEAVE && k.add.items_n == 0);
    }
    CASE("far too dark: start again") {
        make_shelf();
        struct recipe_item light[2] = {{0, 11}, {3, 1}};
        CHECK(recipe_judge(&c.recipe, light, 2, &made, &why) == OK);
        c.recipe.target = made.lab;
        c.most_ml = 400;
        paints[0].in_batch = 10, paints[1].in_batch = 2;
        CHECK(correct_batch(&c, NULL, &arena, &k, &why) == OK);
        CHECK(k.advice == CORRECT_RESTART);
        CHECK_NEAR(k.fresh.difference, 0, 1e-9);
        CHECK_NEAR(k.fresh_ml, 300, 1e-9);
    }
    CASE("an empty batch is an error that says so") {
        make_shelf();
        CHECK(correct_batch(&c, NULL, &arena, &k, &why) == E_MISSING);
    }
}

int main(void) {
    recipe_open();
    test_measure();
    test_correct();
    arena_free(&arena);
    return check_done();
}
