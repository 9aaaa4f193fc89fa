/* The search with proof against brute force on small random shelves: every kind of problem, both
 * kernels, interrupted searches. Shelves and targets are random; no outside data is needed. */
#include "tables.h"
#include "test/check.h"
#include "test/model/recipe_brute.h"

enum { PAINTS = 9 };

struct shop {
    struct pigment pigments[PAINTS];
    struct recipe_paint paints[PAINTS];
    struct recipe_problem problem;
    struct random r;
};

static struct weights d65, light_a, led;

/* Smooth random spectra, strengths from 1/30 to 1, some nearly white, some nearly black. */
static void random_pigment(struct random *r, struct pigment *out) {
    double level = random_unit(r) * 6 - 4, wave = 1 + 2.5 * random_unit(r),
           turn = 6.3 * random_unit(r);
    double swing = 2.5 * random_unit(r), strength = exp(-3.4 * random_unit(r)),
           slope = random_unit(r) - .5;
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        double t = b / 35.;
        out->s[b] = strength * exp(slope * (t - .5) + .2 * sin(3 * turn * t));
        out->k[b] = out->s[b] * exp(level + swing * sin(wave * 3.1 * t + turn));
    }
}

static double random_variance(void *ctx, const int *parts, size_t n) {
    const double *per_paint = ctx;
    double v = 0, sum = 0;
    for (size_t i = 0; i < n; i++) sum += parts[i];
    for (size_t i = 0; i < n; i++) v += per_paint[i] * parts[i] / sum;
    return v;
}

static int below(struct random *r, uint32_t n) {
    return (int)random_below(r, n);
}

/* kind: 0 plain, 1 pours and stock, 2 add-only, 3 expected difference, 4 trade-off set */
static void random_shop(struct shop *s, uint64_t seed, int kind, double *variances) {
    struct random *r = &s->r;
    memset(s, 0, sizeof *s);
    random_seed(r, seed);
    size_t n = 3 + (size_t)below(r, PAINTS - 2);
    for (size_t i = 0; i < n; i++) {
        random_pigment(r, &s->pigments[i]);
        s->paints[i] = (struct recipe_paint){.pigment = &s->pigments[i], .cost_cent = below(r, 40)};
        variances[i] = random_unit(r);
        if (kind == 1) s->paints[i].pour_min = below(r, 4), s->paints[i].pour_max = below(r, 12);
        if (kind == 1 && s->paints[i].pour_max) s->paints[i].pour_max += s->paints[i].pour_min;
        if (kind == 1 && !below(r, 6)) s->paints[i].use = RECIPE_NEVER;
        if (kind == 2 && !below(r, 2)) s->paints[i].in_batch = 1 + below(r, 5);
        if (kind == 4) s->paints[i].leftover = !below(r, 3);
    }
    if (seed % 3 == 0) /* two or three binders; what is in a batch is of one */
        for (size_t i = 0; i < n; i++)
            s->paints[i].binder = s->paints[i].in_batch ? 0 : below(r, 3);
    if (kind == 1 && !below(r, 3)) s->paints[below(r, (uint32_t)n)].use = RECIPE_MUST;
    struct recipe_problem *p = &s->problem;
    *p = (struct recipe_problem){
        .paints = s->paints, .paints_n = n, .d65 = &d65, .a = &light_a, .led = &led};
    p->items_max = 1 + below(r, 4);
    p->parts = 4 + below(r, p->items_max > 3 ? 9 : 17);
    int batch = 0;
    for (size_t i = 0; i < n; i++) batch += s->paints[i].in_batch;
    if (kind == 2) p->parts = batch + below(r, 6), p->parts_last = p->parts + below(r, 5);
    if (kind == 2 && !batch) p->parts = 6, p->parts_last = 9;
    if (kind == 3) {
        p->objective = RECIPE_BY_EXPECTED;
        p->variance = random_variance;
        p->variance_ctx = variances;
        p->pour_sd_parts = below(r, 2) * .1;
    }
    if (kind == 4) p->tradeoff = true, p->window = 6 * random_unit(r);
    if (kind == 4 && !below(r, 3))
        p->paints_n = n, s->paints[0].in_batch = 3, p->parts_last = p->parts + 3;
    if (below(r, 2)) { /* a target that mixes reach, more or less; else any color */
        double parts[RECIPE_SHELF_MAX] = {0};
        for (size_t i = 0; i < n; i++) parts[i] = random_unit(r) < .4 ? random_unit(r) : 0;
        parts[0] += .1;
        p->target = brute_color(p, parts);
    } else {
        p->target = (struct lab){100 * random_unit(r), 120 * random_unit(r) - 60,
                                 120 * random_unit(r) - 60};
    }
}

/* Each row of the proven trade-off set is in brute force's, and the other way round. */
static bool tradeoff_agrees(const struct brute *w, const struct recipe_result *got) {
    double most = brute_best(w) + w->p->window;
    size_t wanted = 0, found = 0;
    for (size_t i = 0; i < w->n; i++) {
        const struct brute_row *row = &w->rows[i];
        bool beaten = row->objective > most - 1e-9, same = false;
        for (size_t j = 0; !beaten && j < w->n; j++) beaten = brute_beats(&w->rows[j], row);
        if (beaten) continue;
        wanted++;
        for (size_t j = 0; j < got->tradeoff_n && !same; j++) {
            const struct recipe *r = &got->tradeoff[j];
            same = r->proven && fabs(r->difference - row->objective) < 1e-9 &&
                   (int)r->items_n == row->n && fabs(r->cost_cent - row->cost) < 1e-9 &&
                   r->leftover_parts == row->leftover && r->poured_parts == row->poured;
        }
        found += same;
    }
    size_t proven = 0;
    for (size_t j = 0; j < got->tradeoff_n; j++)
        proven += got->tradeoff[j].proven && got->tradeoff[j].difference < most - 1e-9;
    return found == wanted && proven <= wanted;
}

static bool judged_right(const struct recipe_problem *p, const struct recipe *r, double objective) {
    double parts[RECIPE_SHELF_MAX] = {0};
    int poured = 0;
    for (size_t i = 0; i < r->items_n; i++)
        parts[r->items[i].paint] = r->items[i].parts, poured += r->items[i].parts;
    double d = ciede2000(p->target, brute_color(p, parts));
    double mine = p->objective == RECIPE_BY_EXPECTED ? r->expected_difference : r->difference;
    return fabs(d - r->difference) < 1e-9 && fabs(mine - objective) < 1e-9 &&
           poured == r->poured_parts;
}

/* One random case: 0 agrees, 1 mismatch, 2 nothing to pour (and the search says so). */
static int run_case(uint64_t seed, int kind) {
    struct shop s;
    struct brute w;
    struct recipe_result got = {0}, plain = {0};
    struct why why;
    double variances[PAINTS];
    struct arena arena;
    random_shop(&s, seed, kind, variances);
    arena_init(&arena, alloc_heap(), 0);
    brute_all(&w, &s.problem);
    enum status status = recipe_search(&s.problem, NULL, &arena, &got, &why);
    int bad;
    if (!w.n) {
        bad = status == E_IMPOSSIBLE ? 2 : 1;
    } else {
        double best = brute_best(&w);
        s.problem.no_simd = true;
        bad = status || recipe_search(&s.problem, NULL, &arena, &plain, &why);
        bad = bad || got.proof.kind != RECIPE_OPTIMAL || fabs(got.proof.bound - best) > 1e-9 ||
              got.proof.grid_points != (double)w.n ||
              !judged_right(&s.problem, &got.best[0], best) ||
              plain.proof.bound != got.proof.bound || plain.proof.cells != got.proof.cells ||
              plain.proof.points != got.proof.points;
        if (kind == 4 && !bad) bad = !tradeoff_agrees(&w, &got);
        struct limit limit = {.steps = 1 + (uint64_t)below(&s.r, 400)};
        if (!bad)
            bad = recipe_search(&s.problem, &limit, &arena, &got, &why) ||
                  got.proof.bound > best + 1e-9;
    }
    free(w.rows);
    arena_free(&arena);
    return bad;
}

static void run_cases(const char *name, int kind, int cases) {
    int ran = 0, mismatches = 0;
    CASE(name) {
        for (uint64_t seed = 1; ran < cases && seed < 10000; seed++) {
            int bad = run_case(seed * 5 + (uint64_t)kind, kind);
            if (bad != 2) ran++;
            if (bad == 1 && mismatches++ < 5) printf("%s: seed %d differs\n", name, (int)seed);
        }
        CHECK(ran == cases);
        CHECK(mismatches == 0);
    }
}

int main(void) {
    d65 = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D65);
    light_a = weights_make(&tables_builtin, OBSERVER_2, LIGHT_A);
    led = weights_make(&tables_builtin, OBSERVER_2, LIGHT_LED_B3);
    run_cases("plain: 300 random cases as brute force", 0, 300);
    run_cases("smallest pour, stock, wanted and unwanted paints: 300 cases", 1, 300);
    run_cases("add-only, ranges of totals: 200 cases", 2, 200);
    run_cases("expected difference: 200 cases", 3, 200);
    run_cases("trade-off set: 200 cases", 4, 200);
    return check_done();
}
