#include "core/photo/fit.h"

#include "core/base/linear.h"
#include "core/photo/tuning.h"

#include <math.h>
#include <string.h>

enum { ROUNDS = 40, REWEIGHTINGS = 8 };

static double prior_sd(int term) {
    if (term < MODEL_MATRIX) return PHOTO_GAIN_SD;
    if (term < MODEL_ROOT) return PHOTO_MATRIX_SD;
    if (term < MODEL_TONE) return PHOTO_ROOT_SD;
    if (term == MODEL_TONE) return PHOTO_TONE_SD;
    if (term < MODEL_PLANE) return PHOTO_CURVE_SD;
    if (term < MODEL_RADIUS) return PHOTO_PLANE_SD;
    if (term < MODEL_CHROMA) return PHOTO_RADIUS_SD;
    return PHOTO_CHROMA_SD;
}

static double prior_mean(const struct fit *f, int term) {
    if (term < MODEL_MATRIX) return f->gain[term];
    if (term == MODEL_TONE + 1) return PHOTO_CURVE_MEAN;
    if (term == MODEL_RADIUS) return PHOTO_RADIUS_MEAN;
    return 0;
}

static bool takes_part(const struct fit *f, int term) {
    return term < MODEL_CHROMA || f->chroma;
}

void fit_metric(struct lab c, double sd, double out[3][3]) {
    ciede2000_metric(c, out);
    for (int r = 0; r < 3; r++)
        for (int s = 0; s < 3; s++) out[r][s] /= sd;
}

static void add_row(const double *row, double residual, double weight, double *h, double *g) {
    for (int i = 0; i < MODEL_TERMS; i++) {
        if (row[i] == 0) continue;
        g[i] += weight * row[i] * residual;
        for (int j = 0; j <= i; j++) h[i * MODEL_TERMS + j] += weight * row[i] * row[j];
    }
}

static void whitened(const struct fit_reference *r, const struct model *m, double out[3],
                     double slope[3][MODEL_TERMS]) {
    struct lab c = model_color(m, r->view.rgb, r->view.x, r->view.y, slope);
    const double d[3] = {c.l - r->lab.l, c.a - r->lab.a, c.b - r->lab.b};
    for (int k = 0; k < 3; k++)
        out[k] = r->metric[k][0] * d[0] + r->metric[k][1] * d[1] + r->metric[k][2] * d[2];
}

/* Within a patch only the light changes: its slope is seen directly. Green stands for the amount of
 * light, red and blue against green for its color. Local unevenness of real surfaces (a curled
 * paper) is allowed for by a floor. */
struct slope_row {
    double row[MODEL_TERMS], residual, sd;
};

static void slope_rows(const struct fit *f, const struct patch_view *v, int axis,
                       struct slope_row out[3]) {
    const struct model *m = &f->model;
    double half2 = (m->width * m->width + m->height * m->height) / 4, light[3][2];
    double d = axis == 0 ? v->x - m->width / 2 : v->y - m->height / 2, seen[3];
    for (int k = 0; k < 3; k++) {
        model_light_slope(m, k, v->x, v->y, light[k]);
        seen[k] = v->slope[k][axis] * model_contrast(m, v->rgb[k]);
    }
    double amount = (seen[0] + seen[1] + seen[2]) / 3;
    for (int k = 0; k < 3; k++) memset(&out[k], 0, sizeof out[k]);
    out[0].row[MODEL_PLANE + axis] = 1;
    out[0].row[MODEL_RADIUS] = 2 * d / half2;
    out[0].row[MODEL_CHROMA + axis] = out[0].row[MODEL_CHROMA + 2 + axis] = 1.0 / 3;
    out[0].residual = (light[0][axis] + light[1][axis] + light[2][axis]) / 3 - amount;
    out[0].sd = hypot(v->slope_sd[axis], PHOTO_SLOPE_SD);
    out[1].row[MODEL_CHROMA + axis] = 1;
    out[1].residual = light[0][axis] - light[1][axis] - (seen[0] - seen[1]);
    out[2].row[MODEL_CHROMA + 2 + axis] = 1;
    out[2].residual = light[2][axis] - light[1][axis] - (seen[2] - seen[1]);
    out[1].sd = out[2].sd = hypot(v->slope_sd[axis], PHOTO_SLOPE_COLOR_SD);
}

/* Sum of squares, and with h, g its curvature and slope. */
static double evaluate(const struct fit *f, double *h, double *g) {
    double sum = 0;
    if (h) {
        memset(h, 0, MODEL_TERMS * MODEL_TERMS * sizeof *h);
        memset(g, 0, MODEL_TERMS * sizeof *g);
    }
    for (int t = 0; t < MODEL_TERMS; t++) {
        double sd = takes_part(f, t) ? prior_sd(t) : 1e-6;
        double e = (f->model.theta[t] - prior_mean(f, t)) / sd;
        sum += e * e;
        if (h) {
            h[t * MODEL_TERMS + t] += 1 / (sd * sd);
            g[t] += e / sd;
        }
    }
    for (size_t i = 0; i < f->references_n; i++) {
        const struct fit_reference *r = &f->references[i];
        double e[3], j[3][MODEL_TERMS], row[MODEL_TERMS];
        whitened(r, &f->model, e, h ? j : NULL);
        sum += r->weight * (e[0] * e[0] + e[1] * e[1] + e[2] * e[2]);
        if (!h) continue;
        for (int k = 0; k < 3; k++) {
            for (int t = 0; t < MODEL_TERMS; t++)
                row[t] = r->metric[k][0] * j[0][t] + r->metric[k][1] * j[1][t] +
                         r->metric[k][2] * j[2][t];
            add_row(row, e[k], r->weight, h, g);
        }
    }
    for (size_t i = 0; i < f->patches_n; i++) {
        if (!f->patches[i].has_slope || f->patches[i].uneven) continue;
        for (int axis = 0; axis < 2; axis++) {
            struct slope_row rows[3];
            slope_rows(f, &f->patches[i], axis, rows);
            for (int k = 0; k < (f->chroma ? 3 : 1); k++) {
                double e = rows[k].residual / rows[k].sd;
                /* Student's t with 3 degrees of freedom: one patch in its own light */
                double weight = 4 / (3 + e * e);
                sum += 4 * log1p(e * e / 3);
                if (!h) continue;
                for (int t = 0; t < MODEL_TERMS; t++) rows[k].row[t] /= rows[k].sd;
                add_row(rows[k].row, e, weight, h, g);
            }
        }
    }
    return sum;
}

static bool descend(struct fit *f) {
    double h[MODEL_TERMS * MODEL_TERMS], g[MODEL_TERMS], damped[MODEL_TERMS * MODEL_TERMS];
    double step[MODEL_TERMS], damping = 1e-3;
    double now = evaluate(f, h, g);
    if (!isfinite(now)) return false;
    for (int round = 0; round < ROUNDS; round++) {
        memcpy(damped, h, sizeof h);
        for (int t = 0; t < MODEL_TERMS; t++) damped[t * MODEL_TERMS + t] *= 1 + damping;
        memcpy(step, g, sizeof g);
        if (!cholesky_factor(damped, MODEL_TERMS)) return false;
        cholesky_solve(damped, MODEL_TERMS, step);
        struct model kept = f->model;
        double largest = 0;
        for (int t = 0; t < MODEL_TERMS; t++) {
            f->model.theta[t] -= step[t];
            largest = fmax(largest, fabs(step[t]));
        }
        double next = evaluate(f, NULL, NULL);
        if (isfinite(next) && next <= now) {
            double gain = now - next;
            now = evaluate(f, h, g);
            damping = fmax(damping / 10, 1e-9);
            if (largest < 1e-6 || gain < 1e-9 * (1 + now)) break;
        } else {
            f->model = kept;
            damping *= 10;
            if (damping > 1e8) break;
        }
    }
    return true;
}

static bool invert(double *h, double *out) {
    if (!cholesky_factor(h, MODEL_TERMS)) return false;
    for (int t = 0; t < MODEL_TERMS; t++) {
        double e[MODEL_TERMS] = {0};
        e[t] = 1;
        cholesky_solve(h, MODEL_TERMS, e);
        for (int u = 0; u < MODEL_TERMS; u++) out[u * MODEL_TERMS + t] = e[u];
    }
    return true;
}

static bool posterior(struct fit *f) {
    double h[MODEL_TERMS * MODEL_TERMS], g[MODEL_TERMS], known[MODEL_TERMS * MODEL_TERMS];
    evaluate(f, h, g);
    memcpy(known, h, sizeof h);
    for (int t = MODEL_PLANE; t < MODEL_TERMS; t++) known[t * MODEL_TERMS + t] += 1e12;
    return invert(h, f->covariance) && invert(known, f->shared);
}

/* Student's t weight of three axes together, 1 at no residual. */
static bool reweight(struct fit *f) {
    double moved = 0;
    for (size_t i = 0; i < f->references_n; i++) {
        struct fit_reference *r = &f->references[i];
        double e[3];
        whitened(r, &f->model, e, NULL);
        double w = 1 / (1 + (e[0] * e[0] + e[1] * e[1] + e[2] * e[2]) / PHOTO_ROBUST_NU);
        moved = fmax(moved, fabs(w - r->weight));
        r->weight = w;
    }
    return moved > 0.01;
}

bool fit_solve(struct fit *f, bool robust) {
    for (size_t i = 0; i < f->references_n; i++) f->references[i].weight = 1;
    if (!descend(f)) return false;
    for (int i = 0; robust && i < REWEIGHTINGS && reweight(f); i++)
        if (!descend(f)) return false;
    return posterior(f);
}
