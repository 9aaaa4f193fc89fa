/* A simulated shop: measured paints are the truth, the program knows their colors only. A recipe is
 * searched for, one sample is made and read, what it shows is learnt, and again. */
#include "bench/mixing.h"

#include "bench/recipe_shelf.h"
#include "core/base/random.h"
#include "core/color/color.h"
#include "core/recipe/recipe.h"
#include "tables.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { PAINTS = 8, ITEMS = 3, PARTS = 24, SAMPLES = 3, SHOPS_MAX = 2000 };

struct shop {
    struct pigment truth[PAINTS];
    struct sample_paint known[PAINTS];
    struct lab target;
    size_t white; /* lightest color */
    double noise; /* sd of a reading, per axis */
    struct random random;
};

/* Samples repeat the recipe in hand, or are chosen for what they tell of it. */
enum policy { REPEAT, CHOSEN, POLICIES };

static struct lab true_color(const struct weights *w, const struct shop *s,
                             const struct sample_mix *mix) {
    double volume[PAINTS] = {0};
    for (size_t i = 0; i < mix->n; i++) volume[mix->paint[i]] += mix->volume[i];
    struct spectrum r = pigment_mix_reflectance(s->truth, volume, PAINTS);
    return lab_of_xyz(xyz_of_spectrum(w, &r), w->white);
}

static struct lab read_color(struct shop *s, struct lab c) {
    return (struct lab){c.l + s->noise * random_normal(&s->random),
                        c.a + s->noise * random_normal(&s->random),
                        c.b + s->noise * random_normal(&s->random)};
}

/* The noise of a reading, which is one of Lab, in CIEDE2000 as the model wants it: root mean square
 * over directions. */
static double noise_of(const struct shop *s, struct lab c) {
    double u[3][3], square = 0;
    ciede2000_metric(c, u);
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++) square += u[i][k] * u[i][k];
    return s->noise * sqrt(square / 3);
}

/* Mixes what was asked, each pour off by 1 %, and reads it. */
static struct sample_reading make_sample(const struct weights *w, struct shop *s,
                                         const struct sample_mix *mix) {
    struct sample_mix poured = *mix;
    double sum = 0;
    for (size_t i = 0; i < mix->n; i++) {
        poured.volume[i] *= 1 + 0.01 * random_normal(&s->random);
        sum += mix->volume[i];
    }
    struct lab seen = read_color(s, true_color(w, s, &poured));
    return (struct sample_reading){*mix, seen, noise_of(s, seen), 0.01 * sum / (double)mix->n};
}

static void open_shop(const struct weights *w, const struct bench_shelf *all, struct shop *s) {
    size_t left[BENCH_PAINTS_MAX], n = all->n;
    for (size_t i = 0; i < n; i++) left[i] = i;
    for (size_t i = 0; i < PAINTS; i++) {
        size_t at = random_below(&s->random, (uint32_t)n);
        s->truth[i] = all->pigments[left[at]];
        left[at] = left[--n];
        struct sample_mix alone = {1, {i}, {1}};
        struct lab seen = read_color(s, true_color(w, s, &alone));
        s->known[i] =
            (struct sample_paint){.prior = pigment_of_color(w, seen, NULL),
                                  .color = seen,
                                  .color_sd = hypot(SAMPLE_DISCREPANCY, noise_of(s, seen)),
                                  .shape_sd = 1};
        if (!i || seen.l > s->known[s->white].color.l) s->white = i;
    }
    /* a color that three of them make in whole parts */
    struct sample_mix mix = {.n = ITEMS};
    int parts = PARTS - ITEMS;
    for (size_t i = 0; i < ITEMS; i++) {
        int more = i + 1 < ITEMS ? (int)random_below(&s->random, (uint32_t)parts + 1) : parts;
        do { /* three different ones */
            mix.paint[i] = random_below(&s->random, PAINTS);
        } while ((i > 0 && mix.paint[i] == mix.paint[0]) ||
                 (i > 1 && mix.paint[i] == mix.paint[1]));
        mix.volume[i] = 1 + more;
        parts -= more;
    }
    s->target = true_color(w, s, &mix);
}

/* The recipe that the present knowledge would choose. */
static bool choose(const struct weights *w, const struct shop *s, const struct sample_model *m,
                   struct arena *arena, struct sample_mix *out) {
    struct recipe_paint paint[PAINTS] = {0};
    for (size_t i = 0; i < PAINTS; i++) paint[i].pigment = &sample_pigments(m)[i];
    struct recipe_problem problem = {.paints = paint,
                                     .paints_n = PAINTS,
                                     .target = s->target,
                                     .items_max = ITEMS,
                                     .parts = PARTS,
                                     .objective = RECIPE_BY_EXPECTED,
                                     .variance = sample_recipe_variance,
                                     .variance_ctx = (void *)(uintptr_t)m,
                                     .best_max = 1,
                                     .d65 = w};
    struct recipe_result result;
    struct why why = {0};
    if (recipe_search(&problem, NULL, arena, &result, &why) != OK) {
        fprintf(stderr, "mixing: %s %s\n", why.field, why.text);
        return false;
    }
    *out = (struct sample_mix){.n = result.best[0].items_n};
    for (size_t i = 0; i < out->n; i++) {
        out->paint[i] = result.best[0].items[i].paint;
        out->volume[i] = result.best[0].items[i].parts;
    }
    return true;
}

static struct sample_mix next_sample(const struct sample_model *m, const struct shop *s,
                                     const struct sample_mix *recipe, enum policy policy) {
    struct sample_next ask = {*recipe, s->white, PARTS, noise_of(s, s->target)};
    struct sample_candidate best;
    if (policy == REPEAT || !sample_next_best(m, &ask, &best, 1)) return *recipe;
    struct sample_mix mix = {.n = best.n};
    for (size_t i = 0; i < best.n; i++) {
        mix.paint[i] = best.paint[i];
        mix.volume[i] = best.parts[i];
    }
    return mix;
}

/* True difference of the recipe in hand after 0..SAMPLES samples. */
static bool run_shop(const struct weights *w, struct shop *s, enum policy policy,
                     double off[SAMPLES + 1]) {
    struct sample_reading reading[SAMPLES];
    for (size_t n = 0; n <= SAMPLES; n++) {
        const struct sample_model *m;
        struct sample_mix recipe;
        struct arena arena;
        arena_init(&arena, alloc_heap(), 0);
        bool ok = sample_fit(w, s->known, PAINTS, reading, n, NULL, &arena, &m, NULL) == OK &&
                  choose(w, s, m, &arena, &recipe);
        if (ok) {
            off[n] = ciede2000(true_color(w, s, &recipe), s->target);
            struct sample_mix next = next_sample(m, s, &recipe, policy);
            if (n < SAMPLES) reading[n] = make_sample(w, s, &next);
        }
        arena_free(&arena);
        if (!ok) return false;
    }
    return true;
}

/* ---- the table ---- */

/* How far a sorted share of this many shops is off by chance: the spread of what other shops, drawn
 * from these with replacement, would give (Efron 1979). Takes copies; `off` stays as it is. */
static double chance(const double *off, int shops, double share) {
    enum { DRAWS = 400 };
    static double drawn[SHOPS_MAX];
    struct random random;
    double sum = 0, squares = 0;
    random_seed(&random, 1);
    for (int d = 0; d < DRAWS; d++) {
        for (int i = 0; i < shops; i++) drawn[i] = off[random_below(&random, (uint32_t)shops)];
        double v = bench_quantile(drawn, (size_t)shops, share);
        sum += v;
        squares += v * v;
    }
    return sqrt(fmax(squares / DRAWS - sum * sum / DRAWS / DRAWS, 0));
}

static void print_row(const char *name, double off[SAMPLES + 1][SHOPS_MAX], int shops, double share,
                      const double asked[SAMPLES + 1]) {
    static double sorted[SHOPS_MAX];
    printf("  %-28s", name);
    for (int k = 0; k <= SAMPLES; k++) {
        for (int i = 0; i < shops; i++) sorted[i] = off[k][i];
        double reached = bench_quantile(sorted, (size_t)shops, share);
        printf("  %5.2f +-%.2f", reached, chance(off[k], shops, share));
        if (k)
            printf(" (%.1f)", asked[k]);
        else
            printf("      ");
    }
    printf("\n");
}

int mixing_shop(const char *ks_csv, int shops, int first) {
    /* Nothing is asked before the first sample */
    static const double asked[2][2][SAMPLES + 1] = {{{7.1, 2.7, 1.8, 1.4}, {15.7, 7.5, 5.9, 5.6}},
                                                    {{6.9, 3.3, 2.6, 2.2}, {15.2, 8.2, 6.9, 6.5}}};
    static const char *const policies[POLICIES] = {"the recipe again", "chosen"};
    static double off[SAMPLES + 1][SHOPS_MAX];
    struct bench_shelf *all = calloc(1, sizeof *all);
    const struct weights w = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D65);
    if (!all || !bench_shelf_read(all, ks_csv) || all->n < PAINTS || shops < 1 ||
        shops > SHOPS_MAX) {
        fprintf(stderr, "mixing: %s: not in the data folder, or not 1 to %d shops\n", ks_csv,
                SHOPS_MAX);
        free(all);
        return 1;
    }
    printf("%s: true difference after 0, 1, 2, 3 samples, %d shops, +- standard error by "
           "bootstrap (asked)\n",
           ks_csv, shops);
    for (int noisy = 0; noisy < 2; noisy++)
        for (int policy = 0; policy < POLICIES; policy++) {
            for (int i = 0; i < shops; i++) {
                double d[SAMPLES + 1];
                struct shop s = {.noise = noisy ? 1.5 : 0.3};
                random_seed(&s.random, (uint64_t)first + (uint64_t)i); /* the same for both */
                open_shop(&w, all, &s);
                if (!run_shop(&w, &s, (enum policy)policy, d)) return free(all), 1;
                for (int k = 0; k <= SAMPLES; k++) off[k][i] = d[k];
            }
            printf("readings off by %.1f, samples: %s\n", noisy ? 1.5 : 0.3, policies[policy]);
            print_row("median", off, shops, 0.5, asked[noisy][0]);
            print_row("90 % below", off, shops, 0.9, asked[noisy][1]);
        }
    free(all);
    return 0;
}
