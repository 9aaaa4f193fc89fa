#include "core/photo/doubt.h"

#include "core/base/linear.h"
#include "core/color/color.h"
#include "core/photo/tuning.h"

#include <math.h>
#include <string.h>

/* What no fit of this kind follows (the camera sees other than the eye): grows with chroma. */
static double discrepancy(struct lab c) {
    return hypot(PHOTO_CLAIM_NEUTRAL, PHOTO_CLAIM_CHROMA * hypot(c.a, c.b));
}

/* Metric u times the slope of Lab. */
static void metric_slope(double u[3][3], double j[3][MODEL_TERMS], double out[3][MODEL_TERMS]) {
    for (int k = 0; k < 3; k++)
        for (int t = 0; t < MODEL_TERMS; t++)
            out[k][t] = u[k][0] * j[0][t] + u[k][1] * j[1][t] + u[k][2] * j[2][t];
}

static void carry(double w[3][MODEL_TERMS], const double *covariance, double out[3][3]) {
    for (int r = 0; r < 3; r++) {
        double row[MODEL_TERMS];
        for (int q = 0; q < MODEL_TERMS; q++) {
            row[q] = 0;
            for (int p = 0; p < MODEL_TERMS; p++)
                row[q] += w[r][p] * covariance[p * MODEL_TERMS + q];
        }
        for (int s = 0; s < 3; s++) {
            out[r][s] = 0;
            for (int q = 0; q < MODEL_TERMS; q++) out[r][s] += row[q] * w[s][q];
        }
    }
}

/* Noise of the pixels moves each channel as its gain would. */
static void add_noise(double w[3][MODEL_TERMS], const struct patch_view *v, double out[3][3]) {
    for (int k = 0; k < 3; k++) {
        double part = fmin(v->rgb_sd[k] / fmax(v->rgb[k], 1e-6), 1);
        for (int r = 0; r < 3; r++)
            for (int s = 0; s < 3; s++)
                out[r][s] += w[r][MODEL_GAIN + k] * w[s][MODEL_GAIN + k] * part * part;
    }
}

static void scale_by(double c[3][3], double by) {
    for (int r = 0; r < 3; r++)
        for (int s = 0; s < 3; s++) c[r][s] *= by;
}

/* 0..1: how surely a color lies on the edge of the file's gamut, sRGB or Display P3, so that the
 * true one may lie beyond: one channel is 0. */
static double at_edge(const double p3[3]) {
    struct rgb c =
        rgb_of_xyz_d65(RGB_SRGB, xyz_d65_of_rgb(RGB_DISPLAY_P3, (struct rgb){p3[0], p3[1], p3[2]}));
    double least = fmin(fabs(c.r), fmin(fabs(c.g), fabs(c.b))), most = fmax(c.r, fmax(c.g, c.b));
    double own = fmin(p3[0], fmin(p3[1], p3[2]));
    least = fmax(fmin(least, own), 0);
    return most > 0.05 ? exp(-least / (PHOTO_EDGE_RANGE * most)) : 0;
}

static double fault_sd(unsigned warnings) {
    double sd = 0;
    if (warnings & (PHOTO_CLIPPED | PHOTO_SHADOW)) sd = PHOTO_FAULT_SD;
    if (warnings & (PHOTO_DARK | PHOTO_GLARE)) sd = hypot(sd, PHOTO_FAULT_SD / 2);
    return sd;
}

struct doubt doubt_of(const struct fit *f, const struct patch_view *v, unsigned warnings) {
    struct doubt d;
    double j[3][MODEL_TERMS], w[3][MODEL_TERMS], u[3][3];
    struct lab c = model_color(&f->model, v->rgb, v->x, v->y, j);
    ciede2000_metric(c, u);
    metric_slope(u, j, w);
    carry(w, f->covariance, d.all);
    carry(w, f->shared, d.shared);
    scale_by(d.all, PHOTO_CLAIM_SCALE * f->scale);
    scale_by(d.shared, PHOTO_CLAIM_SCALE * f->scale);
    double own = discrepancy(c) * discrepancy(c) * f->scale, edge = at_edge(v->rgb) * PHOTO_EDGE_SD;
    own += edge * edge + fault_sd(warnings) * fault_sd(warnings);
    for (int k = 0; k < 3; k++) {
        d.all[k][k] += own;
        d.shared[k][k] += own;
    }
    add_noise(w, v, d.all);
    return d;
}

struct doubt doubt_of_difference(const struct fit *f, const struct patch_view *first,
                                 const struct patch_view *second, unsigned warnings) {
    struct doubt d;
    double j[2][3][MODEL_TERMS], w[2][3][MODEL_TERMS], both[3][MODEL_TERMS], u[3][3];
    struct lab p = model_color(&f->model, first->rgb, first->x, first->y, j[0]);
    struct lab q = model_color(&f->model, second->rgb, second->x, second->y, j[1]);
    struct lab middle = {(p.l + q.l) / 2, (p.a + q.a) / 2, (p.b + q.b) / 2};
    ciede2000_metric(middle, u);
    metric_slope(u, j[0], w[0]);
    metric_slope(u, j[1], w[1]);
    for (int k = 0; k < 3; k++)
        for (int t = 0; t < MODEL_TERMS; t++) both[k][t] = w[1][k][t] - w[0][k][t];
    carry(both, f->covariance, d.all);
    carry(both, f->shared, d.shared);
    scale_by(d.all, PHOTO_CLAIM_SCALE * f->scale);
    scale_by(d.shared, PHOTO_CLAIM_SCALE * f->scale);
    /* near colors are seen wrongly alike: what is left grows with their distance */
    double apart = ciede2000(p, q) / PHOTO_PAIR_RANGE, own = discrepancy(middle);
    own *= own * f->scale * 2 * (1 - exp(-apart * apart / 2));
    own += PHOTO_PAIR_SD * PHOTO_PAIR_SD + fault_sd(warnings) * fault_sd(warnings);
    for (int k = 0; k < 3; k++) {
        d.all[k][k] += own;
        d.shared[k][k] += own;
    }
    add_noise(w[0], first, d.all);
    add_noise(w[1], second, d.all);
    return d;
}

double doubt_axis(double c[3][3]) {
    return sqrt(fmax(c[0][0] + c[1][1] + c[2][2], 0) / 3);
}

/* The squared length of a normal vector, by a gamma distribution with the same mean and variance
 * (Wilson and Hilferty for its quantiles). */
void doubt_length(double c[3][3], double *out_median, double *out_limit90) {
    double trace = c[0][0] + c[1][1] + c[2][2], square = 0;
    for (int r = 0; r < 3; r++)
        for (int s = 0; s < 3; s++) square += c[r][s] * c[r][s];
    double dof = square > 0 ? trace * trace / square : 3, t = 2 / (9 * dof);
    *out_median = sqrt(trace * pow(fmax(1 - t, 0.1), 3));
    *out_limit90 = PHOTO_LIMIT_FACTOR * sqrt(trace * pow(1 - t + 1.2815515655 * sqrt(t), 3));
}

/* With A the reference's whitened slope and H = A Cov A', the residual without it is
 * (I - H)^-1 e; its covariance, in units of the fit's own noise, is (I - H)^-1. */
void doubt_leave_out(const struct fit *f, size_t i, double *out_off, double *out_expected_sd) {
    const struct fit_reference *r = &f->references[i];
    double j[3][MODEL_TERMS], a[3][MODEL_TERMS], h[3][3], m[9], e[3], root = sqrt(r->weight);
    struct lab c = model_color(&f->model, r->view.rgb, r->view.x, r->view.y, j);
    const double d[3] = {c.l - r->lab.l, c.a - r->lab.a, c.b - r->lab.b};
    double metric[3][3], left[3][3];
    memcpy(metric, r->metric, sizeof metric);
    metric_slope(metric, j, a);
    for (int k = 0; k < 3; k++)
        e[k] = metric[k][0] * d[0] + metric[k][1] * d[1] + metric[k][2] * d[2];
    carry(a, f->covariance, h);
    for (int k = 0; k < 3; k++)
        for (int l = 0; l < 3; l++) left[k][l] = (k == l) - h[k][l] * root * root;
    for (int k = 0; k < 9; k++) m[k] = left[k / 3][k % 3];
    double off2 = 0, trace = 0;
    if (!gauss_solve(m, 3, e)) e[0] = e[1] = e[2] = 0;
    for (int k = 0; k < 3; k++) off2 += e[k] * e[k];
    for (int k = 0; k < 3; k++) { /* trace of the inverse, minus the noise that is in it as 1 */
        double unit[3] = {k == 0, k == 1, k == 2};
        for (int l = 0; l < 9; l++) m[l] = left[l / 3][l % 3];
        if (gauss_solve(m, 3, unit)) trace += fmax(unit[k] - 1, 0);
    }
    double own = discrepancy(r->lab) / r->sd;
    *out_off = sqrt(off2) * r->sd;
    *out_expected_sd = sqrt(PHOTO_CLAIM_SCALE * trace +
                            3 * (own * own + r->own_sd * r->own_sd / (r->sd * r->sd))) *
                       r->sd;
}

double doubt_scale(const struct fit *f) {
    double sum = PHOTO_SCALE_PRIOR, n = PHOTO_SCALE_PRIOR;
    if (f->references_n < 3) return 1;
    for (size_t i = 0; i < f->references_n; i++) {
        double off, sd;
        doubt_leave_out(f, i, &off, &sd);
        double z2 = off * off / (sd * sd);
        sum += fmin(z2, 4); /* one wrong reference does not make the rest doubtful */
        n++;
    }
    return fmax(sum / n, 1); /* references may be easier than targets: never less than usual */
}
