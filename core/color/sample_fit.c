/* The fit of core/color/sample.h: Levenberg-Marquardt on blocks, then the Laplace posterior. */
#include "core/base/linear.h"
#include "core/color/color.h"
#include "core/color/sample_model.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static const double PI = 3.141592653589793;

/* Per axis, in the fit: below what predictions count with, since part of it is shared by samples of
 * the same paints and is better followed than smoothed over. */
#define FIT_DISCREPANCY 0.9

enum { LEARN_FROM = 50, ROUNDS = 60 };

/* One row of the fit: a mix whose color was read. whiten turns a Lab residual into units of its own
 * standard deviation, pour included. */
struct row {
    struct sample_mix mix;
    struct lab color;
    double whiten[3][3];
};

struct fit {
    struct sample_model *m;
    struct row *rows; /* paints' own colors first, then the samples */
    size_t rows_n, own_n;
    bool robust;
    double *gradient, *step, *kept; /* [paints_n * SAMPLE_TERMS] */
    double *joint, *alone;          /* precision, before it is factored */
};

/* Standard deviations, of another can from its paint; of the strength (term 0) of a paint of its
 * own the scale of its Student's t. */
static double prior_sd(const struct sample_paint *p, int term) {
    static const double s_sd[SAMPLE_S_TERMS] = {0.9, 0.5, 0.33, 0.25, 0.2};
    /* 1.2 (k + 1)^-1.2 */
    static const double q_sd[SAMPLE_Q_TERMS] = {1.2,    0.5223, 0.3211, 0.2274,
                                                0.1739, 0.1398, 0.1162, 0.0990};
    if (p->another_can)
        return SAMPLE_LOT * (term < SAMPLE_S_TERMS ? s_sd[term] : q_sd[term - SAMPLE_S_TERMS]);
    if (term < SAMPLE_S_TERMS) return s_sd[term];
    return p->shape_sd * q_sd[term - SAMPLE_S_TERMS];
}

/* What the square of a term counts in its prior. Most paints are about as strong as their lightness
 * says, some not at all: a t with less than one degree of freedom, narrow in the middle and open to
 * the sides. All other terms are normal. */
static const double STRENGTH_NU = 0.4;

static double prior_loss(const struct sample_paint *p, int term, double z, double *weight) {
    *weight = 1;
    if (term != 0 || p->another_can) return z * z / 2;
    *weight = (STRENGTH_NU + 1) / (STRENGTH_NU + z * z);
    return (STRENGTH_NU + 1) / 2 * log1p(z * z / STRENGTH_NU);
}

/* ---- cost ---- */

/* Gaussian r^2/2 or the negative logarithm of a trivariate t; *weight is what the square counts. */
static double loss(const struct fit *f, double square, double *weight) {
    *weight = 1;
    if (!f->robust) return square / 2;
    *weight = (SAMPLE_NU + 3) / (SAMPLE_NU + square);
    return (SAMPLE_NU + 3) / 2 * log1p(square / SAMPLE_NU);
}

static void residual_of(const struct row *row, struct lab c, double out[3]) {
    double d[3] = {c.l - row->color.l, c.a - row->color.a, c.b - row->color.b};
    for (int r = 0; r < 3; r++)
        out[r] = row->whiten[r][0] * d[0] + row->whiten[r][1] * d[1] + row->whiten[r][2] * d[2];
}

/* How far a term is from what was assumed: 0, or where its paint's other can has it. */
static double off_prior(const struct sample_model *m, size_t p, size_t k) {
    const struct sample_paint *q = &m->paints[p];
    double at = q->another_can ? m->theta[q->of * SAMPLE_TERMS + k] : 0;
    return m->theta[p * SAMPLE_TERMS + k] - at;
}

static double prior_cost(const struct fit *f) {
    double sum = 0, weight;
    for (size_t p = 0; p < f->m->paints_n; p++)
        for (int k = 0; k < SAMPLE_TERMS; k++) {
            const struct sample_paint *q = &f->m->paints[p];
            sum += prior_loss(q, k, off_prior(f->m, p, (size_t)k) / prior_sd(q, k), &weight);
        }
    return sum;
}

static double cost(const struct fit *f) {
    double sum = prior_cost(f), r[3], weight;
    struct sample_slope slope;
    for (size_t i = 0; i < f->rows_n; i++) {
        sample_mix_color(f->m, &f->rows[i].mix, &slope);
        residual_of(&f->rows[i], slope.color, r);
        sum += loss(f, r[0] * r[0] + r[1] * r[1] + r[2] * r[2], &weight);
    }
    return sum;
}

/* ---- normal equations ---- */

/* Where the terms of one pair of paints stand in the precision; NULL for the upper triangle. */
static double *block_of(const struct fit *f, size_t p, size_t q, size_t *stride) {
    const struct sample_model *m = f->m;
    size_t n = m->joint_n * SAMPLE_TERMS;
    if (m->slot[p] == SIZE_MAX || m->slot[q] == SIZE_MAX) {
        *stride = SAMPLE_TERMS;
        return p == q ? f->alone + p * SAMPLE_TERMS * SAMPLE_TERMS : NULL;
    }
    *stride = n;
    if (m->slot[p] < m->slot[q]) return NULL;
    return f->joint + m->slot[p] * SAMPLE_TERMS * n + m->slot[q] * SAMPLE_TERMS;
}

static void add_row(struct fit *f, const struct row *row, double weight, const double r[3],
                    double j[3][SAMPLE_ITEM_COLUMNS]) {
    for (size_t a = 0; a < row->mix.n; a++) {
        const size_t pa = row->mix.paint[a], ca = a * SAMPLE_TERMS;
        double *g = f->gradient + pa * SAMPLE_TERMS;
        for (size_t k = 0; k < SAMPLE_TERMS; k++)
            g[k] += weight * (j[0][ca + k] * r[0] + j[1][ca + k] * r[1] + j[2][ca + k] * r[2]);
        for (size_t b = 0; b < row->mix.n; b++) {
            size_t stride, cb = b * SAMPLE_TERMS;
            double *block = block_of(f, pa, row->mix.paint[b], &stride);
            if (!block) continue;
            for (size_t k = 0; k < SAMPLE_TERMS; k++) {
                double j0 = weight * j[0][ca + k], j1 = weight * j[1][ca + k],
                       j2 = weight * j[2][ca + k], *to = block + k * stride;
                for (size_t l = 0; l < SAMPLE_TERMS; l++)
                    to[l] += j0 * j[0][cb + l] + j1 * j[1][cb + l] + j2 * j[2][cb + l];
            }
        }
    }
}

/* v (x - y)^2 / 2 for a term of two paints: what it adds to the precision. */
static void add_tie(struct fit *f, size_t p, size_t q, size_t k, double v) {
    size_t stride;
    double *own = block_of(f, q, q, &stride);
    own[k * stride + k] += v;
    double *both = block_of(f, p, q, &stride);
    if (!both) both = block_of(f, q, p, &stride); /* the lower triangle alone is kept */
    both[k * stride + k] -= v;
}

static void add_prior(struct fit *f) {
    struct sample_model *m = f->m;
    memset(f->gradient, 0, m->paints_n * SAMPLE_TERMS * sizeof *f->gradient);
    for (size_t p = 0; p < m->paints_n; p++) {
        const struct sample_paint *q = &m->paints[p];
        size_t stride;
        double *block = block_of(f, p, p, &stride);
        for (size_t k = 0; k < SAMPLE_TERMS; k++) {
            double sd = prior_sd(q, (int)k), off = off_prior(m, p, k), weight;
            prior_loss(q, (int)k, off / sd, &weight);
            const double pull = weight * off / (sd * sd);
            f->gradient[p * SAMPLE_TERMS + k] += pull;
            block[k * stride + k] += weight / (sd * sd);
            if (!q->another_can) continue;
            f->gradient[q->of * SAMPLE_TERMS + k] -= pull;
            add_tie(f, p, q->of, k, weight / (sd * sd));
        }
    }
}

static void linearize(struct fit *f) {
    struct sample_model *m = f->m;
    const size_t n = m->joint_n * SAMPLE_TERMS;
    memset(f->joint, 0, n * n * sizeof *f->joint);
    memset(f->alone, 0, m->paints_n * SAMPLE_TERMS * SAMPLE_TERMS * sizeof *f->alone);
    add_prior(f);
    for (size_t i = 0; i < f->rows_n; i++) {
        struct row *row = &f->rows[i];
        struct sample_slope slope;
        double r[3], weight, j[3][SAMPLE_ITEM_COLUMNS];
        sample_mix_color(m, &row->mix, &slope);
        sample_mix_slope(m, &slope);
        residual_of(row, slope.color, r);
        loss(f, r[0] * r[0] + r[1] * r[1] + r[2] * r[2], &weight);
        sample_mix_jacobian(m, &row->mix, &slope, row->whiten, j);
        add_row(f, row, weight, r, j);
        if (i >= f->own_n) m->weight[i - f->own_n] = weight;
    }
}

/* Factors a copy of the precision with `damping` times the prior's share on the diagonal. */
static bool factor(struct fit *f, double damping) {
    struct sample_model *m = f->m;
    const size_t n = m->joint_n * SAMPLE_TERMS, block = SAMPLE_TERMS * SAMPLE_TERMS;
    memcpy(m->joint, f->joint, n * n * sizeof *m->joint);
    memcpy(m->alone, f->alone, m->paints_n * block * sizeof *m->alone);
    for (size_t p = 0; p < m->paints_n; p++)
        for (size_t k = 0; k < SAMPLE_TERMS; k++) {
            double sd = prior_sd(&m->paints[p], (int)k), more = damping / (sd * sd);
            size_t at = m->slot[p] * SAMPLE_TERMS + k;
            if (m->slot[p] == SIZE_MAX)
                m->alone[p * block + k * SAMPLE_TERMS + k] += more;
            else
                m->joint[at * n + at] += more;
        }
    for (size_t p = 0; p < m->paints_n; p++)
        if (m->slot[p] == SIZE_MAX && !cholesky_factor(m->alone + p * block, SAMPLE_TERMS))
            return false;
    return cholesky_factor(m->joint, n);
}

/* step = -(precision)^-1 gradient, the joint paints' terms gathered and scattered by slot */
static void solve(struct fit *f) {
    struct sample_model *m = f->m;
    const size_t bytes = SAMPLE_TERMS * sizeof(double);
    double *gathered = f->kept; /* free between two trials */
    for (size_t p = 0; p < m->paints_n; p++) {
        double *to = f->step + p * SAMPLE_TERMS;
        memcpy(to, f->gradient + p * SAMPLE_TERMS, bytes);
        if (m->slot[p] == SIZE_MAX)
            cholesky_solve(m->alone + p * SAMPLE_TERMS * SAMPLE_TERMS, SAMPLE_TERMS, to);
        else
            memcpy(gathered + m->slot[p] * SAMPLE_TERMS, to, bytes);
    }
    cholesky_solve(m->joint, m->joint_n * SAMPLE_TERMS, gathered);
    for (size_t p = 0; p < m->paints_n; p++)
        if (m->slot[p] != SIZE_MAX)
            memcpy(f->step + p * SAMPLE_TERMS, gathered + m->slot[p] * SAMPLE_TERMS, bytes);
}

/* Levenberg-Marquardt until a step gains less than 1e-6 of the cost. */
static void descend(struct fit *f, size_t rounds) {
    struct sample_model *m = f->m;
    const size_t n = m->paints_n * SAMPLE_TERMS;
    double damping = 0.1, now = cost(f);
    linearize(f);
    for (size_t i = 0; i < rounds && damping < 1e8; i++) {
        double longest = 0;
        if (!factor(f, damping)) {
            damping *= 10;
            continue;
        }
        solve(f);
        for (size_t k = 0; k < n; k++) longest = fmax(longest, fabs(f->step[k]));
        /* exponents that move by more than this have left the linear range anyway */
        double shorten = longest > 2 ? 2 / longest : 1;
        memcpy(f->kept, m->theta, n * sizeof *f->kept);
        for (size_t k = 0; k < n; k++) m->theta[k] -= shorten * f->step[k];
        sample_pigment_update(m);
        double next = cost(f);
        if (next < now) {
            bool done = now - next < 1e-6 * now;
            now = next;
            damping = fmax(damping / 10, 1e-6);
            if (done) break;
            linearize(f);
        } else {
            memcpy(m->theta, f->kept, n * sizeof *f->kept);
            sample_pigment_update(m);
            damping *= 10;
        }
    }
}

/* ---- rows ---- */

/* whiten = L^-1 U with U the metric at the color that was read, L L' the covariance of the reading
 * in that metric: discrepancy, reading, and what the pours' errors make of the present mix. */
static void whiten(struct fit *f, struct row *row, double variance, double pour_sd) {
    double u[3][3], c[3][3] = {{0}}, pour[3][SAMPLE_ITEMS_MAX];
    ciede2000_metric(row->color, u);
    if (pour_sd > 0) {
        struct sample_slope slope;
        sample_mix_color(f->m, &row->mix, &slope);
        sample_mix_slope(f->m, &slope);
        sample_mix_pour(f->m, &row->mix, &slope, u, pour);
        for (int r = 0; r < 3; r++)
            for (int s = 0; s < 3; s++)
                for (size_t j = 0; j < row->mix.n; j++)
                    c[r][s] += pour_sd * pour_sd * pour[r][j] * pour[s][j];
    }
    for (int r = 0; r < 3; r++) c[r][r] += variance;
    if (!cholesky_factor(&c[0][0], 3))
        for (int r = 0; r < 3; r++)
            for (int s = 0; s < 3; s++) c[r][s] = r == s ? sqrt(variance) : 0;
    for (int s = 0; s < 3; s++) {
        double column[3] = {u[0][s], u[1][s], u[2][s]};
        cholesky_forward(&c[0][0], 3, column);
        for (int r = 0; r < 3; r++) row->whiten[r][s] = column[r];
    }
}

static void whiten_all(struct fit *f) {
    const struct sample_model *m = f->m;
    for (size_t i = 0; i < f->own_n; i++) {
        double sd = m->paints[f->rows[i].mix.paint[0]].color_sd;
        whiten(f, &f->rows[i], sd * sd, 0);
    }
    for (size_t i = 0; i < m->readings_n; i++) {
        const struct sample_reading *reading = &m->readings[i];
        double variance =
            m->fit_discrepancy * m->fit_discrepancy + reading->read_sd * reading->read_sd;
        whiten(f, &f->rows[f->own_n + i], variance, reading->pour_sd);
    }
}

/* ---- posterior ---- */

/* Covariance in place of the factor: solves for every unit vector. */
static void invert(double *l, size_t n, double *out) {
    for (size_t k = 0; k < n; k++) {
        double *column = out + k * n;
        memset(column, 0, n * sizeof *column);
        column[k] = 1;
        cholesky_solve(l, n, column);
    }
    memcpy(l, out, n * n * sizeof *l);
}

static bool posterior(struct fit *f) {
    struct sample_model *m = f->m;
    const size_t block = SAMPLE_TERMS * SAMPLE_TERMS;
    /* With the pours' effect at the optimum, as sample_judge will see it: with that of before the
     * robust fit a sample could count for more than its leaving out takes away. */
    whiten_all(f);
    linearize(f);
    double damping = 0;
    while (!factor(f, damping)) {
        damping = damping > 0 ? damping * 10 : 1e-6;
        if (damping > 1e6) return false;
    }
    invert(m->joint, m->joint_n * SAMPLE_TERMS, f->joint);
    for (size_t p = 0; p < m->paints_n; p++)
        if (m->slot[p] == SIZE_MAX) invert(m->alone + p * block, SAMPLE_TERMS, f->alone);
    return true;
}

/* ---- input ---- */

static bool lab_finite(struct lab c) {
    return fabs(c.l) <= 1000 && fabs(c.a) <= 1000 && fabs(c.b) <= 1000;
}

static enum status check_paint(const struct sample_paint *paints, size_t n, size_t i,
                               struct why *why) {
    const struct sample_paint *p = &paints[i];
    char at[48];
    snprintf(at, sizeof at, "/paints/%zu", i);
    if (p->another_can && (p->of >= n || paints[p->of].another_can))
        return why_say(why, E_REFERENCE, at, "There is no such paint that this is a can of.");
    for (int b = 0; b < SPECTRUM_BANDS; b++)
        if (!(p->prior.s[b] >= 1e-9 && p->prior.s[b] <= 1e9 && p->prior.k[b] >= 1e-12 &&
              p->prior.k[b] <= 1e12))
            return why_say(why, E_DOMAIN, at, "The paint has no absorption or scattering.");
    if (!isnan(p->color.l) && !lab_finite(p->color))
        return why_say(why, E_DOMAIN, at, "The paint's color is not finite.");
    if (!(p->color_sd >= 0.01 && p->color_sd <= 100 && p->shape_sd >= 0.01 && p->shape_sd <= 1))
        return why_say(why, E_DOMAIN, at, "The paint's doubts must be 0.01 to 100 and 0.01 to 1.");
    return OK;
}

static enum status check_reading(const struct sample_reading *in, size_t i, size_t paints_n,
                                 struct sample_reading *out, struct why *why) {
    char at[48];
    double sum = 0;
    snprintf(at, sizeof at, "/samples/%zu", i);
    struct sample_reading r = *in;
    enum status s = sample_mix_check(&in->mix, paints_n, &r.mix, at, why);
    if (s != OK) return s;
    for (size_t j = 0; j < in->mix.n; j++) sum += in->mix.volume[j];
    if (!lab_finite(in->color))
        return why_say(why, E_DOMAIN, at, "The color of the sample is not finite.");
    if (!(in->read_sd >= 0 && in->read_sd <= 100 && in->pour_sd >= 0 && in->pour_sd <= sum))
        return why_say(why, E_DOMAIN, at,
                       "The errors of reading and pouring must be 0 or more, and a pour's less "
                       "than the whole mix.");
    r.pour_sd = in->pour_sd / sum;
    *out = r;
    return OK;
}

/* Copies of the input, and the paints that occur in samples or hang on another get their slots. */
static enum status take(struct sample_model *m, const struct sample_paint *paints,
                        const struct sample_reading *readings, struct arena *a, struct why *why) {
    struct sample_paint *own = arena_array(a, m->paints_n, sizeof *own);
    struct sample_reading *rows = arena_array(a, m->readings_n + 1, sizeof *rows);
    m->slot = arena_array(a, m->paints_n, sizeof *m->slot);
    m->theta = arena_array(a, m->paints_n * SAMPLE_TERMS, sizeof *m->theta);
    m->pigment = arena_array(a, m->paints_n, sizeof *m->pigment);
    m->weight = arena_array(a, m->readings_n + 1, sizeof *m->weight);
    if (!own || !rows || !m->slot || !m->theta || !m->pigment || !m->weight)
        return why_no_memory(why);
    for (size_t p = 0; p < m->paints_n; p++) {
        enum status s = check_paint(paints, m->paints_n, p, why);
        if (s != OK) return s;
        own[p] = paints[p];
        m->slot[p] = SIZE_MAX;
    }
    for (size_t p = 0; p < m->paints_n; p++) { /* cans of one paint are never told apart from it */
        if (!own[p].another_can) continue;
        own[p].prior = own[own[p].of].prior;
        m->slot[p] = m->slot[own[p].of] = 0;
    }
    for (size_t i = 0; i < m->readings_n; i++) {
        enum status s = check_reading(&readings[i], i, m->paints_n, &rows[i], why);
        if (s != OK) return s;
        for (size_t j = 0; j < rows[i].mix.n; j++) m->slot[rows[i].mix.paint[j]] = 0;
    }
    for (size_t p = 0; p < m->paints_n; p++)
        if (m->slot[p] != SIZE_MAX) m->slot[p] = m->joint_n++;
    m->paints = own;
    m->readings = rows;
    return OK;
}

static enum status prepare(struct fit *f, struct arena *a, struct why *why) {
    struct sample_model *m = f->m;
    const size_t n = m->joint_n * SAMPLE_TERMS, all = m->paints_n * SAMPLE_TERMS;
    m->joint = arena_array(a, n * n + 1, sizeof(double));
    m->alone = arena_array(a, all * SAMPLE_TERMS, sizeof(double));
    f->joint = arena_array(a, n * n + 1, sizeof(double));
    f->alone = arena_array(a, all * SAMPLE_TERMS, sizeof(double));
    f->gradient = arena_array(a, all, sizeof(double));
    f->step = arena_array(a, all, sizeof(double));
    f->kept = arena_array(a, all, sizeof(double));
    f->rows = arena_array(a, m->paints_n + m->readings_n, sizeof *f->rows);
    if (!m->joint || !m->alone || !f->joint || !f->alone || !f->gradient || !f->step || !f->kept ||
        !f->rows)
        return why_no_memory(why);
    for (size_t p = 0; p < m->paints_n; p++)
        if (!isnan(m->paints[p].color.l))
            f->rows[f->rows_n++] = (struct row){.mix = {1, {p}, {1}}, .color = m->paints[p].color};
    f->own_n = f->rows_n;
    for (size_t i = 0; i < m->readings_n; i++)
        f->rows[f->rows_n++] =
            (struct row){.mix = m->readings[i].mix, .color = m->readings[i].color};
    for (int k = 0; k < SAMPLE_Q_TERMS; k++)
        for (int i = 0; i < SPECTRUM_BANDS; i++)
            m->cosine[k][i] = cos(k * PI * (i + 0.5) / SPECTRUM_BANDS);
    return OK;
}

enum status sample_fit(const struct weights *w, const struct sample_paint *paints, size_t paints_n,
                       const struct sample_reading *readings, size_t readings_n,
                       const struct sample_settings *settings, struct arena *a,
                       const struct sample_model **out, struct why *why) {
    struct sample_settings set = settings ? *settings : (struct sample_settings){NAN, 0};
    if (paints_n < 1) return why_say(why, E_MISSING, "/paints", "There is no paint.");
    if (paints_n > SAMPLE_PAINTS_MAX || readings_n > SAMPLE_READINGS_MAX)
        return why_say(why, E_TOO_LARGE, paints_n > SAMPLE_PAINTS_MAX ? "/paints" : "/samples",
                       "At most %d paints and %d samples are learned from at once.",
                       SAMPLE_PAINTS_MAX, SAMPLE_READINGS_MAX);
    if (!isnan(set.discrepancy) && !(set.discrepancy >= 0.05 && set.discrepancy <= 20))
        return why_say(why, E_DOMAIN, "/discrepancy", "The discrepancy must be 0.05 to 20.");
    struct sample_model *m = arena_take(a, sizeof *m);
    if (!m) return why_no_memory(why);
    m->w = *w;
    m->paints_n = paints_n;
    m->readings_n = readings_n;
    m->discrepancy = isnan(set.discrepancy) ? SAMPLE_DISCREPANCY : set.discrepancy;
    m->fit_discrepancy = isnan(set.discrepancy) ? FIT_DISCREPANCY : set.discrepancy;
    enum status s = take(m, paints, readings, a, why);
    struct fit f = {.m = m};
    if (s == OK) s = prepare(&f, a, why);
    if (s != OK) return s;
    sample_pigment_update(m);
    size_t rounds = set.rounds ? set.rounds : ROUNDS;
    for (int stage = 0; stage < 2; stage++) {
        f.robust = stage == 1;
        whiten_all(&f); /* again: the pours' effect is known better now */
        descend(&f, rounds);
    }
    if (!posterior(&f)) return why_say(why, E_NUMERIC, "", "The fit has no finite doubt.");
    if (isnan(set.discrepancy) && readings_n >= LEARN_FROM)
        m->discrepancy = sample_learn_discrepancy(m, a);
    *out = m;
    return OK;
}
