/* Laws of the recipe search: what is found, what is remembered, what is refused. */
#include "core/base/random.h"
#include "core/base/recall.h"
#include "test/unit/recipe_room.h"
#include <stdlib.h>

static double search(const struct recipe_problem *p, struct recipe_result *out) {
    enum status s = recipe_search(p, NULL, &arena, out, &why);
    CHECK(s == OK);
    return s ? NAN : out->best[0].difference;
}

/* A memory for one answer. */
static struct mind {
    struct recall_key key;
    char bytes[65536];
    size_t n, asked, given, open; /* open: questions that neither keep nor drop has ended */
} mind;

static void *one_find(void *ctx, struct recall_key key, const struct limit *limit, struct arena *a,
                      size_t *out_n) {
    struct mind *m = ctx;
    (void)limit;
    m->asked++;
    m->open++;
    if (!m->n || m->key.a != key.a || m->key.b != key.b) return NULL;
    m->given++;
    m->open--;
    *out_n = m->n;
    return memcpy(arena_take(a, m->n), m->bytes, m->n);
}

static void one_keep(void *ctx, struct recall_key key, const void *bytes, size_t n) {
    struct mind *m = ctx;
    m->key = key, m->n = n;
    m->open--;
    memcpy(m->bytes, bytes, n);
}

static void one_drop(void *ctx, struct recall_key key) {
    struct mind *m = ctx;
    (void)key;
    m->open--;
}

static bool stop_at_once(void *ctx) {
    return ctx == NULL;
}

static double no_variance(void *ctx, const int *parts, size_t n) {
    (void)ctx, (void)parts;
    return n ? 0 : 1;
}

static void test_recall(void) {
    struct recall recall = {one_find, one_keep, one_drop, &mind};
    struct limit limit = {.recall = &recall};
    struct recipe_problem p = problem_for((struct lab){50, 10, 0}, 3, 16);
    struct recipe_result r, again, fresh;
    CASE("what was found before is given again, equal to a search; another question is searched") {
        p.tradeoff = true, p.window = 1;
        CHECK(recipe_search(&p, &limit, &arena, &r, &why) == OK && mind.n && !mind.given);
        CHECK(recipe_search(&p, &limit, &arena, &again, &why) == OK && mind.given == 1);
        CHECK(recipe_search(&p, NULL, &arena, &fresh, &why) == OK);
        CHECK(again.best_n == fresh.best_n && again.tradeoff_n == fresh.tradeoff_n);
        CHECK(!memcmp(again.best, r.best, r.best_n * sizeof *r.best));
        CHECK(!memcmp(again.tradeoff, r.tradeoff, r.tradeoff_n * sizeof *r.tradeoff));
        for (size_t i = 0; i < fresh.best_n; i++)
            CHECK(again.best[i].expected_difference == fresh.best[i].expected_difference);
        CHECK(again.proof.points == fresh.proof.points && again.proof.kind == fresh.proof.kind);
        paints[2].pour_max = 3;
        CHECK(recipe_search(&p, &limit, &arena, &r, &why) == OK && mind.given == 1);
        paints[2].pour_max = 0;
        pigments[1].k[7] *= 1 + 1e-12;
        CHECK(recipe_search(&p, &limit, &arena, &r, &why) == OK && mind.given == 1);
        make_shelf();
    }
    CASE("a search that was stopped, or whose variance has no key, is not kept") {
        struct limit stop = {.recall = &recall, .stop = stop_at_once};
        mind.n = 0;
        CHECK(recipe_search(&p, &stop, &arena, &r, &why) == OK && r.proof.stopped && !mind.n);
        size_t asked = mind.asked;
        p.variance = no_variance;
        CHECK(recipe_search(&p, &limit, &arena, &r, &why) == OK && !mind.n && mind.asked == asked);
        p.variance_key = 5;
        CHECK(recipe_search(&p, &limit, &arena, &r, &why) == OK && mind.n);
        paints[0].use = RECIPE_MUST, paints[0].pour_min = 99; /* nothing fits */
        CHECK(recipe_search(&p, &limit, &arena, &r, &why) == E_IMPOSSIBLE);
        paints[0].use = RECIPE_MAY, paints[0].pour_min = 0;
        CHECK(mind.open == 0);
    }
}

static double wide_variance(void *ctx, const int *parts, size_t n) {
    (void)ctx, (void)parts, (void)n;
    return 25;
}

/* Paints are known unevenly: by ctx, one number a paint. */
static double uneven_variance(void *ctx, const int *parts, size_t n) {
    const double *of = ctx;
    double sum = 0, all = 0;
    for (size_t i = 0; i < n; i++) sum += parts[i] * of[i], all += parts[i];
    return all > 0 ? sum / all : 0;
}

static void test_search(void) {
    struct recipe_result r, q;
    struct recipe_problem p;
    CASE("a mix on the grid is found again, exactly") {
        struct recipe_item items[3] = {{0, 7}, {3, 2}, {4, 3}};
        struct recipe made;
        p = problem_for((struct lab){50, 0, 0}, 3, 12);
        CHECK(recipe_judge(&p, items, 3, &made, &why) == OK);
        p.target = made.lab;
        CHECK_NEAR(search(&p, &r), 0, 1e-9);
        CHECK(r.best[0].items_n == 3 && r.best[0].items[1].paint == 3 &&
              r.best[0].items[1].parts == 2);
        CHECK(r.proof.kind == RECIPE_OPTIMAL && !r.out_of_reach);
    }
    CASE("more paints or a doubled grid never do worse; the unit of K and S does not matter") {
        p = problem_for((struct lab){62, -14, -8}, 2, 8);
        double d2 = search(&p, &r);
        p.items_max = 3;
        double d3 = search(&p, &r);
        p.parts = 16;
        double d16 = search(&p, &q);
        CHECK(d3 <= d2 + 1e-12 && d16 <= d3 + 1e-12);
        for (int i = 0; i < PAINTS; i++)
            for (int b = 0; b < SPECTRUM_BANDS; b++)
                pigments[i].k[b] *= 1e-6, pigments[i].s[b] *= 1e-6;
        CHECK_NEAR(search(&p, &r), d16, 1e-9);
        make_shelf();
    }
    CASE("paints of two binders never go together; what must be in says of which") {
        p = problem_for((struct lab){62, -14, -8}, 3, 12);
        double mixed = search(&p, &r);
        for (int i = 0; i < PAINTS; i++) paints[i].binder = i % 2;
        CHECK(search(&p, &r) >= mixed - 1e-12);
        for (size_t k = 0; k < r.best_n; k++)
            for (size_t i = 1; i < r.best[k].items_n; i++)
                CHECK(r.best[k].items[i].paint % 2 == r.best[k].items[0].paint % 2);
        paints[3].use = RECIPE_MUST;
        search(&p, &r);
        CHECK(r.best[0].items[0].paint % 2 == 1);
        paints[0].use = RECIPE_MUST;
        CHECK(recipe_search(&p, NULL, &arena, &q, &why) == E_IMPOSSIBLE);
        CHECK_TEXT(why.field, "/paints");
        paints[0].use = RECIPE_MAY, paints[0].in_batch = 2; /* a batch of the other binder */
        CHECK(recipe_search(&p, NULL, &arena, &q, &why) == E_IMPOSSIBLE);
        make_shelf();
    }
    CASE("by expected difference the bound tells nothing of the reach") {
        p = problem_for((struct lab){50, 0, 0}, 3, 12);
        p.objective = RECIPE_BY_EXPECTED;
        p.variance = wide_variance;
        CHECK(recipe_search(&p, NULL, &arena, &r, &why) == OK);
        CHECK(r.proof.bound > 2 && r.best[0].difference < 2 && !r.out_of_reach);
    }
    CASE("for each recipe there is a trade-off as near by day and as near under other lights") {
        struct upsampled up;
        struct random random;
        random_seed(&random, 3);
        for (int i = 0; i < 200; i++) {
            double of[PAINTS];
            for (int k = 0; k < PAINTS; k++) of[k] = 40 * random_unit(&random);
            p = problem_for((struct lab){20 + 70 * random_unit(&random),
                                         80 * random_unit(&random) - 40,
                                         80 * random_unit(&random) - 40},
                            3, 12);
            p.variance_ctx = of;
            pigment_of_color(&d65, p.target, &up);
            p.target = up.color;
            p.target_reflectance = &up.spectrum;
            p.objective = RECIPE_BY_EXPECTED;
            p.variance = uneven_variance;
            p.tradeoff = true;
            p.window = 3;
            p.best_max = RECIPE_BEST_MAX;
            CHECK(recipe_search(&p, NULL, &arena, &r, &why) == OK);
            for (size_t k = 0; k < r.best_n; k++) {
                const struct recipe *b = &r.best[k];
                bool there = recipe_objective_of(&p, b) > r.proof.bound + p.window;
                for (size_t j = 0; j < r.tradeoff_n && !there; j++)
                    there = r.tradeoff[j].difference <= b->difference + 1e-9 &&
                            r.tradeoff[j].metamerism <= b->metamerism + 1e-9;
                CHECK(there);
            }
        }
    }
    CASE("a target far outside the shelf: the nearest, and it says so") {
        p = problem_for((struct lab){60, 110, -110}, 3, 12);
        CHECK(search(&p, &r) > 10);
        CHECK(r.out_of_reach && r.proof.kind == RECIPE_OPTIMAL);
    }
    CASE("metamerism: none to the mix's own spectrum, unknown without a target spectrum") {
        struct recipe_item items[2] = {{0, 5}, {2, 3}};
        const struct pigment two[2] = {pigments[0], pigments[2]};
        struct spectrum own = pigment_mix_reflectance(two, (double[]){5, 3}, 2);
        struct recipe made;
        p = problem_for(lab_of_xyz(xyz_of_spectrum(&d65, &own), d65.white), 2, 8);
        CHECK(recipe_judge(&p, items, 2, &made, &why) == OK && isnan(made.metamerism));
        p.target_reflectance = &own;
        CHECK(recipe_judge(&p, items, 2, &made, &why) == OK);
        CHECK_NEAR(made.metamerism, 0, 1e-9);
        CHECK_NEAR(made.difference, 0, 1e-9);
    }
    CASE("interrupted by steps: twice the same, the bound holds, something is returned") {
        p = problem_for((struct lab){55, 12, -6}, 4, 24);
        double best = search(&p, &r);
        for (uint64_t steps = 1; steps < 6000; steps *= 3) {
            struct limit limit = {.steps = steps};
            struct recipe_result one, two;
            CHECK(recipe_search(&p, &limit, &arena, &one, &why) == OK);
            CHECK(recipe_search(&p, &limit, &arena, &two, &why) == OK);
            CHECK(one.best_n && one.proof.bound <= best && one.best[0].difference >= best);
            CHECK(one.proof.bound == two.proof.bound &&
                  one.best[0].difference == two.best[0].difference);
        }
    }
}

static void check_fails(struct recipe_problem p, enum status want, const char *field) {
    struct recipe_result r = {.best_n = 77};
    CHECK(recipe_search(&p, NULL, &arena, &r, &why) == want);
    CHECK_TEXT(why.field, field);
    CHECK(r.best_n == 77);
}

static void test_errors(void) {
    const struct recipe_problem good = problem_for((struct lab){50, 0, 0}, 2, 8);
    struct recipe_problem p;
    CASE("bad problems: the field, and nothing touched") {
        p = good, p.paints_n = 0, check_fails(p, E_MISSING, "/paints");
        p = good, p.target.a = NAN, check_fails(p, E_DOMAIN, "/target");
        p = good, p.items_max = 0, check_fails(p, E_DOMAIN, "/items_max");
        p = good, p.parts = 0, check_fails(p, E_DOMAIN, "/parts");
        p = good, p.parts_last = 3, check_fails(p, E_DOMAIN, "/parts_last");
        p = good, p.d65 = NULL, check_fails(p, E_MISSING, "/d65");
        paints[2].cost_cent = -1, check_fails(good, E_DOMAIN, "/paints/2"), make_shelf();
        paints[1].in_batch = 9, check_fails(good, E_IMPOSSIBLE, "/parts"), make_shelf();
        for (int i = 0; i < 3; i++) paints[i].use = RECIPE_MUST;
        check_fails(good, E_IMPOSSIBLE, "/items_max"), make_shelf();
        for (int i = 0; i < PAINTS; i++) paints[i].pour_max = 2;
        check_fails(good, E_IMPOSSIBLE, "/parts"), make_shelf();
        pigments[4].s[7] = 0, check_fails(good, E_DOMAIN, "/paints/4"), make_shelf();
    }
}

struct counted {
    int left;
};

static void *counted_get(void *ctx, size_t bytes) {
    struct counted *c = ctx;
    return c->left-- > 0 ? malloc(bytes) : NULL;
}

static void counted_put(void *ctx, void *block) {
    (void)ctx;
    free(block);
}

static void test_memory(void) {
    CASE("the n-th allocation fails: E_MEMORY, nothing touched") {
        struct recipe_problem p = problem_for((struct lab){50, 5, 5}, 3, 10);
        p.tradeoff = true;
        p.window = 5;
        enum status s = E_MEMORY;
        for (int n = 0; n < 50 && s == E_MEMORY; n++) {
            struct counted c = {n};
            struct arena small;
            struct recipe_result r = {.best_n = 77};
            arena_init(&small, (struct alloc){counted_get, counted_put, &c}, 0);
            s = recipe_search(&p, NULL, &small, &r, &why);
            CHECK(s == OK || (s == E_MEMORY && r.best_n == 77));
            arena_free(&small);
        }
        CHECK(s == OK);
    }
}

int main(void) {
    recipe_open();
    test_search();
    test_recall();
    test_errors();
    test_memory();
    arena_free(&arena);
    return check_done();
}
