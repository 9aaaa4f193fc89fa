/* The next sample worth making.
 *
 * A reading of test mix c turns the covariance V of the recipe's color into
 * V - B (C + N)^-1 B' with C the doubt of the test mix, B how both vary together, N the noise of
 * the reading (the linear model around the optimum): no fit is needed to know what it would gain.
 */
#include "core/base/linear.h"
#include "core/color/color.h"
#include "core/color/sample_model.h"

#include <math.h>
#include <string.h>

static const double DARK = 35; /* L*: below it a paint's own color says nothing of its tints */

struct seen {
    struct sample_mix mix;
    double jacobian[3][SAMPLE_ITEM_COLUMNS];
};

static void look(const struct sample_model *m, const struct sample_mix *mix, struct seen *out) {
    struct sample_slope slope;
    double u[3][3];
    out->mix = *mix;
    sample_mix_color(m, mix, &slope);
    sample_mix_slope(m, &slope);
    ciede2000_metric(slope.color, u);
    sample_mix_jacobian(m, mix, &slope, u, out->jacobian);
}

static double expected(const struct sample_model *m, double c[3][3]) {
    double sum[3][3], mean, q90;
    memcpy(sum, c, sizeof sum);
    for (int r = 0; r < 3; r++) sum[r][r] += m->discrepancy * m->discrepancy;
    sample_length(sum, 0, &mean, &q90);
    return mean;
}

/* Expected difference of the recipe once the test mix has been read. */
static double expected_after(const struct sample_model *m, struct seen *recipe, double now[3][3],
                             struct seen *test, double read_sd) {
    double both[3][3], c[3][3], after[3][3];
    sample_carry(m, &recipe->mix, recipe->jacobian, &test->mix, test->jacobian, both);
    sample_carry(m, &test->mix, test->jacobian, &test->mix, test->jacobian, c);
    for (int r = 0; r < 3; r++) c[r][r] += m->discrepancy * m->discrepancy + read_sd * read_sd;
    memcpy(after, now, sizeof after);
    if (!cholesky_factor(&c[0][0], 3)) return expected(m, after);
    for (int r = 0; r < 3; r++) cholesky_forward(&c[0][0], 3, both[r]);
    for (int r = 0; r < 3; r++)
        for (int s = 0; s < 3; s++)
            for (int k = 0; k < 3; k++) after[r][s] -= both[r][k] * both[s][k];
    return expected(m, after);
}

struct choice {
    const struct sample_model *m;
    const struct sample_next *ask;
    struct seen recipe;
    double now[3][3], now_expected;
    struct sample_candidate *out;
    size_t n, cap;
};

/* Keeps the list sorted by what is left of the doubt. */
static void keep(struct choice *c, const struct sample_candidate *one) {
    size_t at = c->n;
    while (at > 0 && c->out[at - 1].after > one->after) at--;
    if (at >= c->cap) return;
    size_t last = c->n < c->cap ? c->n : c->cap - 1;
    memmove(c->out + at + 1, c->out + at, (last - at) * sizeof *c->out);
    c->out[at] = *one;
    if (c->n < c->cap) c->n++;
}

/* What the test mix would leave of the doubt; false when it cannot be made. */
static bool judge(struct choice *c, struct sample_candidate *one) {
    struct sample_mix mix = {.n = one->n}, fractions;
    struct seen test;
    for (size_t i = 0; i < one->n; i++) {
        mix.paint[i] = one->paint[i];
        mix.volume[i] = one->parts[i];
    }
    if (sample_mix_check(&mix, c->m->paints_n, &fractions, "", NULL) != OK) return false;
    look(c->m, &fractions, &test);
    one->now = c->now_expected;
    one->after = expected_after(c->m, &c->recipe, c->now, &test, c->ask->read_sd);
    return true;
}

/* A paint, or the one that it is another can of. */
static size_t first_can(const struct sample_model *m, size_t paint) {
    return m->paints[paint].another_can ? m->paints[paint].of : paint;
}

static double lightness(const struct sample_model *m, size_t paint) {
    return m->paints[first_can(m, paint)].color.l;
}

/* Does a sample show this paint, out of any can, thinned with something lighter? */
static bool tint_known(const struct sample_model *m, size_t paint) {
    for (size_t i = 0; i < m->readings_n; i++) {
        const struct sample_mix *mix = &m->readings[i].mix;
        bool has = false, lighter = false;
        for (size_t j = 0; j < mix->n; j++) {
            has |= first_can(m, mix->paint[j]) == first_can(m, paint);
            lighter |= lightness(m, mix->paint[j]) > 60;
        }
        if (has && lighter) return true;
    }
    return false;
}

static void consider_pair(struct choice *c, size_t p, size_t q) {
    static const int ratios[][2] = {{1, 1}, {1, 2}, {2, 1}, {1, 3}, {3, 1},  {1, 4}, {4, 1},
                                    {1, 6}, {6, 1}, {1, 8}, {8, 1}, {1, 12}, {12, 1}};
    const bool tint = (q == c->ask->white && lightness(c->m, p) < DARK && !tint_known(c->m, p)) ||
                      (p == c->ask->white && lightness(c->m, q) < DARK && !tint_known(c->m, q));
    struct sample_candidate best = {.after = INFINITY};
    for (size_t i = 0; i < sizeof ratios / sizeof *ratios; i++) {
        struct sample_candidate one = {.n = 2, .paint = {p, q}, .tint = tint};
        one.parts[0] = ratios[i][0];
        one.parts[1] = ratios[i][1];
        if (one.parts[0] + one.parts[1] > c->ask->parts_max || !judge(c, &one)) continue;
        if (one.after < best.after) best = one;
    }
    if (best.n) keep(c, &best);
}

/* The recipe itself in at most parts_max whole parts, no paint left out. */
static void consider_recipe(struct choice *c) {
    const struct sample_mix *r = &c->recipe.mix;
    struct sample_candidate best = {0};
    double best_error = INFINITY;
    for (int total = (int)r->n; total <= c->ask->parts_max; total++) {
        struct sample_candidate one = {.n = r->n};
        double error = 0;
        for (size_t i = 0; i < r->n; i++) {
            one.paint[i] = r->paint[i];
            one.parts[i] = (int)fmax(1, round(r->volume[i] * total));
            error = fmax(error, fabs(log(one.parts[i] / (r->volume[i] * total))));
        }
        if (error < best_error - 1e-9) best_error = error, best = one;
    }
    if (best.n && judge(c, &best)) keep(c, &best);
}

/* A tint that gains at least half of what the best does goes first: see the header. */
static void tints_first(struct choice *c) {
    for (size_t i = 1; i < c->n; i++) {
        struct sample_candidate one = c->out[i];
        if (c->out[0].tint || !one.tint) continue;
        if (one.now - one.after < 0.5 * (c->out[0].now - c->out[0].after)) return;
        memmove(c->out + 1, c->out, i * sizeof *c->out);
        c->out[0] = one;
        return;
    }
}

size_t sample_next_best(const struct sample_model *m, const struct sample_next *ask,
                        struct sample_candidate *out, size_t cap) {
    struct choice c = {.m = m, .ask = ask, .out = out, .cap = cap};
    struct sample_mix recipe;
    if (!cap || ask->parts_max < 2 || !(ask->read_sd >= 0)) return 0;
    if (sample_mix_check(&ask->recipe, m->paints_n, &recipe, "", NULL) != OK) return 0;
    look(m, &recipe, &c.recipe);
    sample_carry(m, &recipe, c.recipe.jacobian, &recipe, c.recipe.jacobian, c.now);
    c.now_expected = expected(m, c.now);
    consider_recipe(&c);
    bool white_in = false;
    for (size_t i = 0; i < recipe.n; i++) {
        white_in |= recipe.paint[i] == ask->white;
        for (size_t k = i + 1; k < recipe.n; k++)
            consider_pair(&c, recipe.paint[i], recipe.paint[k]);
    }
    for (size_t i = 0; i < recipe.n && !white_in && ask->white < m->paints_n; i++)
        consider_pair(&c, recipe.paint[i], ask->white);
    tints_first(&c);
    return c.n;
}
