/* What the fitted paints say of a mix, and how far they may be wrong. */
#include "core/base/linear.h"
#include "core/color/color.h"
#include "core/color/difference.h"
#include "core/color/sample_model.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>

const struct pigment *sample_pigments(const struct sample_model *m) {
    return m->pigment;
}
double sample_discrepancy(const struct sample_model *m) {
    return m->discrepancy;
}

/* Covariance of two paints' terms: [SAMPLE_TERMS] rows at the returned stride, NULL where they do
 * not vary together. */
static const double *sample_covariance(const struct sample_model *m, size_t paint, size_t other,
                                       size_t *out_stride) {
    if (m->slot[paint] == SIZE_MAX || m->slot[other] == SIZE_MAX) {
        *out_stride = SAMPLE_TERMS;
        return paint == other ? m->alone + paint * SAMPLE_TERMS * SAMPLE_TERMS : NULL;
    }
    *out_stride = m->joint_n * SAMPLE_TERMS;
    return m->joint + m->slot[paint] * SAMPLE_TERMS * *out_stride + m->slot[other] * SAMPLE_TERMS;
}

void sample_carry(const struct sample_model *m, const struct sample_mix *mix1,
                  double j1[3][SAMPLE_ITEM_COLUMNS], const struct sample_mix *mix2,
                  double j2[3][SAMPLE_ITEM_COLUMNS], double out[3][3]) {
    for (int r = 0; r < 3; r++)
        for (int s = 0; s < 3; s++) out[r][s] = 0;
    for (size_t a = 0; a < mix1->n; a++)
        for (size_t b = 0; b < mix2->n; b++) {
            size_t stride, ca = a * SAMPLE_TERMS, cb = b * SAMPLE_TERMS;
            const double *cov = sample_covariance(m, mix1->paint[a], mix2->paint[b], &stride);
            if (!cov) continue;
            for (size_t k = 0; k < SAMPLE_TERMS; k++)
                for (int s = 0; s < 3; s++) {
                    double sum = 0;
                    for (size_t l = 0; l < SAMPLE_TERMS; l++)
                        sum += cov[k * stride + l] * j2[s][cb + l];
                    for (int r = 0; r < 3; r++) out[r][s] += j1[r][ca + k] * sum;
                }
        }
}

/* Mean and quantile of |x|^2 by a gamma distribution with the same mean and variance, for x normal
 * with covariance c around a point `off` away; then the factors by which Student's t stretches the
 * mean (sqrt(nu/2) G((nu-1)/2) / G(nu/2)) and the 90 % quantile (of F(3, nu) over chi^2(3)/3) of a
 * length in three dimensions, nu = 6. */
void sample_length(double c[3][3], double off, double *out_mean, double *out_q90) {
    const double mean_stretch = 1.1513, q90_stretch = 1.2563;
    double trace = c[0][0] + c[1][1] + c[2][2], square = 0;
    for (int r = 0; r < 3; r++)
        for (int s = 0; s < 3; s++) square += c[r][s] * c[r][s];
    double mean = trace + off * off, variance = 2 * square + 4 * off * off * trace / 3;
    if (!(mean > 0)) {
        *out_mean = *out_q90 = 0;
        return;
    }
    double shape = fmin(mean * mean / fmax(variance, 1e-300), 1e6), scale = mean / shape;
    double z = 1 - 1 / (9 * shape) + 1.2815515655 / (3 * sqrt(shape)); /* Wilson and Hilferty */
    /* G(k + 1/2) / G(k), asymptotic; within 2 % down to k = 1/2 */
    double k = shape, ratio = 1 - 1 / (8 * k) + 1 / (128 * k * k) + 5 / (1024 * k * k * k);
    double length = sqrt(scale * k) * ratio;
    double q90 = sqrt(mean * z * z * z);
    /* the offset itself is certain: only what doubt adds to it is stretched */
    double share = trace / mean;
    *out_mean = length * (1 + (mean_stretch - 1) * share);
    *out_q90 = q90 * (1 + (q90_stretch - 1) * share);
}

void sample_doubt(const struct sample_model *m, double off, double variance, double *out_expected,
                  double *out_limit90) {
    double axis = fmax(variance, 0) / 3 + m->discrepancy * m->discrepancy;
    double c[3][3] = {{axis, 0, 0}, {0, axis, 0}, {0, 0, axis}};
    sample_length(c, off, out_expected, out_limit90);
}

enum status sample_predict(const struct sample_model *m, const struct sample_mix *mix,
                           struct sample_prediction *out, struct why *why) {
    struct sample_mix checked;
    struct sample_slope slope;
    double u[3][3], j[3][SAMPLE_ITEM_COLUMNS], c[3][3];
    enum status s = sample_mix_check(mix, m->paints_n, &checked, "", why);
    if (s != OK) return s;
    sample_mix_color(m, &checked, &slope);
    sample_mix_slope(m, &slope);
    ciede2000_metric(slope.color, u);
    sample_mix_jacobian(m, &checked, &slope, u, j);
    sample_carry(m, &checked, j, &checked, j, c);
    out->variance = c[0][0] + c[1][1] + c[2][2];
    for (int r = 0; r < 3; r++) c[r][r] += m->discrepancy * m->discrepancy;
    sample_length(c, 0, &out->expected, &out->limit90);
    out->color = slope.color;
    out->spectrum = slope.spectrum;
    return OK;
}

enum status sample_apart(const struct sample_model *m, const struct sample_mix *one,
                         const struct sample_mix *other, double *out_expected, struct why *why) {
    struct sample_mix mix[2];
    struct sample_slope slope[2];
    double u[3][3], j[2][3][SAMPLE_ITEM_COLUMNS], c[3][3] = {{0}}, part[3][3], q90;
    enum status s = sample_mix_check(one, m->paints_n, &mix[0], "", why);
    if (s == OK) s = sample_mix_check(other, m->paints_n, &mix[1], "", why);
    if (s != OK) return s;
    for (int i = 0; i < 2; i++) {
        sample_mix_color(m, &mix[i], &slope[i]);
        sample_mix_slope(m, &slope[i]);
        if (!i) ciede2000_metric(slope[0].color, u);
        sample_mix_jacobian(m, &mix[i], &slope[i], u, j[i]);
    }
    for (int a = 0; a < 2; a++)
        for (int b = 0; b < 2; b++) {
            sample_carry(m, &mix[a], j[a], &mix[b], j[b], part);
            for (int r = 0; r < 3; r++)
                for (int k = 0; k < 3; k++) c[r][k] += a == b ? part[r][k] : -part[r][k];
        }
    sample_length(c, ciede2000(slope[0].color, slope[1].color), out_expected, &q90);
    return OK;
}

double sample_variance(const struct sample_model *m, const double *volume, size_t n) {
    struct sample_mix mix = {0};
    struct sample_slope slope;
    double sum = 0, u[3][3], j[3][SAMPLE_ITEM_COLUMNS], c[3][3];
    assert(n <= m->paints_n);
    for (size_t p = 0; p < n; p++)
        if (volume[p] > 0 && mix.n < SAMPLE_ITEMS_MAX) {
            mix.paint[mix.n] = p;
            mix.volume[mix.n++] = volume[p];
            sum += volume[p];
        }
    if (!(sum > 0)) return 0;
    for (size_t i = 0; i < mix.n; i++) mix.volume[i] /= sum;
    sample_mix_color(m, &mix, &slope);
    sample_mix_slope(m, &slope);
    ciede2000_metric(slope.color, u);
    sample_mix_jacobian(m, &mix, &slope, u, j);
    sample_carry(m, &mix, j, &mix, j, c);
    return fmax(c[0][0] + c[1][1] + c[2][2], 0);
}

double sample_recipe_variance(void *ctx, const int *parts, size_t n) {
    const struct sample_model *m = ctx;
    double volume[SAMPLE_PAINTS_MAX];
    assert(n <= m->paints_n);
    for (size_t p = 0; p < n; p++) volume[p] = parts[p];
    return sample_variance(m, volume, n);
}
