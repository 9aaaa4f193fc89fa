/* How the samples agree with each other: each one, or each group with the same paints, predicted
 * without itself.
 *
 * Leaving rows out needs no new fit: with A = J Cov J' of the rows and W their weights in the fit,
 * their residual without them is (1 - A W)^-1 r and the doubt of that prediction A (1 - W A)^-1
 * (the linear model around the optimum). */
#include "core/base/linear.h"
#include "core/color/color.h"
#include "core/color/sample_model.h"

#include <math.h>
#include <string.h>

enum { GROUP = 8, SIZE = 3 * GROUP, PRIOR = 100 };

struct judged {
    double residual[3];
    double doubt[3][3];
};

/* Residual, Jacobian and noise of one reading in units of CIEDE2000 around its color. */
struct view {
    double residual[3], noise[3][3], jacobian[3][SAMPLE_ITEM_COLUMNS];
};

static void look(const struct sample_model *m, const struct sample_reading *r, struct view *out) {
    struct sample_slope slope;
    double u[3][3], pour[3][SAMPLE_ITEMS_MAX];
    sample_mix_color(m, &r->mix, &slope);
    sample_mix_slope(m, &slope);
    ciede2000_metric(r->color, u);
    double d[3] = {slope.color.l - r->color.l, slope.color.a - r->color.a,
                   slope.color.b - r->color.b};
    double variance = m->fit_discrepancy * m->fit_discrepancy + r->read_sd * r->read_sd;
    sample_mix_jacobian(m, &r->mix, &slope, u, out->jacobian);
    sample_mix_pour(m, &r->mix, &slope, u, pour);
    for (int i = 0; i < 3; i++) {
        out->residual[i] = u[i][0] * d[0] + u[i][1] * d[1] + u[i][2] * d[2];
        for (int k = 0; k < 3; k++) {
            out->noise[i][k] = i == k ? variance : 0;
            for (size_t j = 0; j < r->mix.n; j++)
                out->noise[i][k] += r->pour_sd * r->pour_sd * pour[i][j] * pour[k][j];
        }
    }
}

/* a = a W, W block diagonal: the inverse of each noise times the robust weight */
static void times_weight(const struct sample_model *m, const size_t *index, const struct view *view,
                         size_t n, double *a) {
    const size_t size = 3 * n;
    for (size_t g = 0; g < n; g++)
        for (size_t row = 0; row < size; row++) {
            double l[9], *v = a + row * size + 3 * g;
            memcpy(l, view[g].noise, sizeof l);
            if (cholesky_factor(l, 3)) cholesky_solve(l, 3, v);
            for (int k = 0; k < 3; k++) v[k] *= m->weight[index[g]];
        }
}

static void leave_out(const struct sample_model *m, const size_t *index, size_t n,
                      struct judged *out) {
    struct view view[GROUP];
    double a[SIZE * SIZE], left[SIZE * SIZE], copy[SIZE * SIZE], column[SIZE];
    const size_t size = 3 * n;
    for (size_t g = 0; g < n; g++) look(m, &m->readings[index[g]], &view[g]);
    for (size_t g = 0; g < n; g++)
        for (size_t h = 0; h < n; h++) {
            double c[3][3];
            sample_carry(m, &m->readings[index[g]].mix, view[g].jacobian,
                         &m->readings[index[h]].mix, view[h].jacobian, c);
            for (size_t r = 0; r < 3; r++)
                for (size_t s = 0; s < 3; s++) a[(3 * g + r) * size + 3 * h + s] = c[r][s];
        }
    memcpy(left, a, size * size * sizeof *a);
    times_weight(m, index, view, n, left);
    for (size_t i = 0; i < size * size; i++) left[i] = (i % (size + 1) == 0) - left[i];
    for (size_t k = 0; k <= size; k++) { /* the columns of a, then the residuals */
        for (size_t i = 0; i < size; i++)
            column[i] = k < size ? a[i * size + k] : view[i / 3].residual[i % 3];
        memcpy(copy, left, size * size * sizeof *copy);
        if (!gauss_solve(copy, size, column)) continue;
        for (size_t i = 0; i < size; i++) {
            if (k == size)
                out[i / 3].residual[i % 3] = column[i];
            else if (k / 3 == i / 3)
                out[i / 3].doubt[i % 3][k % 3] = column[i];
        }
    }
}

void sample_judge(const struct sample_model *m, struct sample_verdict *out) {
    /* beyond 90 %, in lengths of a trivariate t: sqrt(F.99(3, 6) / F.90(3, 6)) */
    const double contradiction = 1.72;
    for (size_t i = 0; i < m->readings_n; i++) {
        struct judged j = {0};
        struct view view;
        double mean,
            more = m->discrepancy * m->discrepancy - m->fit_discrepancy * m->fit_discrepancy;
        leave_out(m, &i, 1, &j);
        look(m, &m->readings[i], &view);
        for (int r = 0; r < 3; r++)
            for (int s = 0; s < 3; s++) j.doubt[r][s] += view.noise[r][s] + (r == s ? more : 0);
        sample_length(j.doubt, 0, &mean, &out[i].limit90);
        out[i].difference = sqrt(j.residual[0] * j.residual[0] + j.residual[1] * j.residual[1] +
                                 j.residual[2] * j.residual[2]);
        out[i].contradicts = out[i].difference > contradiction * out[i].limit90;
    }
}

/* ---- size of the discrepancy ---- */

static bool same_paints(const struct sample_mix *a, const struct sample_mix *b) {
    if (a->n != b->n) return false;
    for (size_t i = 0; i < a->n; i++) {
        size_t j = 0;
        while (j < b->n && b->paint[j] != a->paint[i]) j++;
        if (j == b->n) return false;
    }
    return true;
}

/* Negative log likelihood of the left-out residuals for one discrepancy. */
static double surprise(const struct sample_model *m, const struct judged *j, double discrepancy) {
    double sum = 0;
    for (size_t i = 0; i < m->readings_n; i++) {
        double c[9], r[3] = {j[i].residual[0], j[i].residual[1], j[i].residual[2]};
        double axis = discrepancy * discrepancy + m->readings[i].read_sd * m->readings[i].read_sd;
        memcpy(c, j[i].doubt, sizeof c);
        for (int k = 0; k < 3; k++) c[4 * k] += axis;
        if (!cholesky_factor(c, 3)) continue;
        cholesky_forward(c, 3, r);
        sum += log(c[0] * c[4] * c[8]) +
               (SAMPLE_NU + 3) / 2 * log1p((r[0] * r[0] + r[1] * r[1] + r[2] * r[2]) / SAMPLE_NU);
    }
    return sum;
}

double sample_learn_discrepancy(const struct sample_model *m, struct arena *a) {
    struct judged *judged = arena_array(a, m->readings_n, sizeof *judged);
    bool *done = arena_array(a, m->readings_n, sizeof *done);
    if (!judged || !done) return m->discrepancy;
    for (size_t i = 0; i < m->readings_n; i++) {
        size_t index[GROUP], n = 0;
        struct judged group[GROUP] = {0};
        for (size_t k = i; k < m->readings_n && n < GROUP; k++)
            if (!done[k] && same_paints(&m->readings[i].mix, &m->readings[k].mix)) {
                done[k] = true;
                index[n++] = k;
            }
        if (!n) continue;
        leave_out(m, index, n, group);
        for (size_t g = 0; g < n; g++) judged[index[g]] = group[g];
    }
    double best = m->discrepancy, least = INFINITY;
    for (int k = 0; k <= 60; k++) { /* 0.25 .. 4 in steps of 5 % */
        double at = 0.25 * exp(k * log(16) / 60), s = surprise(m, judged, at);
        if (s < least) least = s, best = at;
    }
    /* Samples left out are of the kind that was learnt from; mixes to come may be of another (1:2
     * after 1:1 had 1.4 times the discrepancy). So the usual one counts as PRIOR samples more. */
    double n = (double)m->readings_n;
    return exp((n * log(best) + PRIOR * log(SAMPLE_DISCREPANCY)) / (n + PRIOR));
}
