/* A reading: patches, fit, colors, doubts. */
#include "core/color/color.h"
#include "core/photo/check.h"
#include "core/photo/fit.h"
#include "core/photo/tuning.h"

#include <math.h>
#include <string.h>

/* Usual office paper: bright, a trace of blue where its brightener is lit, a trace of yellow where
 * it is not. An unsaid gray is the 18 % card; its lightness is then a guess. */
static const struct lab PAPER = {94.5, 0.3, -1.5}, GRAY_CARD = {49.5, 0, 0};

static struct lab stated_color(const struct photo_reference *r) {
    if (!isnan(r->lab.l)) return r->lab;
    return r->kind == PHOTO_WHITE ? PAPER : GRAY_CARD;
}

static double discrepancy(struct lab c, double neutral, double chroma) {
    return hypot(neutral, chroma * hypot(c.a, c.b));
}

static struct fit_reference reference_of(const struct photo_reference *r) {
    struct fit_reference f = {.view = patch_view(&r->patch), .lab = stated_color(r), .weight = 1};
    double own = r->lab_sd > 0 ? r->lab_sd : isnan(r->lab.l) ? 1.5 : 0.5;
    double sd = hypot(discrepancy(f.lab, PHOTO_NEUTRAL_SD, PHOTO_CHROMA_TERM), own);
    fit_metric(f.lab, sd, f.metric);
    return f;
}

/* Median and 90 % quantile of the length of a normal vector with covariance c, by a gamma
 * distribution of its square (Wilson and Hilferty). */
static void length_of(double c[3][3], double *out_median, double *out_q90) {
    double trace = c[0][0] + c[1][1] + c[2][2], square = 0;
    for (int r = 0; r < 3; r++)
        for (int s = 0; s < 3; s++) square += c[r][s] * c[r][s];
    double dof = square > 0 ? trace * trace / square : 3, t = 2 / (9 * dof);
    *out_median = sqrt(trace * pow(1 - t, 3));
    *out_q90 = sqrt(trace * pow(1 - t + 1.2815515655 * sqrt(t), 3));
}

/* Covariance in CIEDE2000's metric at c of J theta. */
static void carry(const struct fit *f, double j[3][MODEL_TERMS], struct lab c, double out[3][3]) {
    double u[3][3], w[3][MODEL_TERMS];
    ciede2000_metric(c, u);
    for (int k = 0; k < 3; k++)
        for (int t = 0; t < MODEL_TERMS; t++)
            w[k][t] = u[k][0] * j[0][t] + u[k][1] * j[1][t] + u[k][2] * j[2][t];
    for (int r = 0; r < 3; r++)
        for (int s = 0; s < 3; s++) {
            out[r][s] = 0;
            for (int p = 0; p < MODEL_TERMS; p++)
                for (int q = 0; q < MODEL_TERMS; q++)
                    out[r][s] += w[r][p] * f->covariance[p * MODEL_TERMS + q] * w[s][q];
        }
}

static struct photo_color color_of(const struct fit *f, const struct patch_view *v) {
    double j[3][MODEL_TERMS], c[3][3];
    struct photo_color t = {.lab = model_color(&f->model, v->rgb, v->x, v->y, j),
                            .warnings = v->warnings};
    carry(f, j, t.lab, c);
    double own = discrepancy(t.lab, PHOTO_CLAIM_NEUTRAL, PHOTO_CLAIM_CHROMA);
    for (int k = 0; k < 3; k++) c[k][k] += own * own;
    length_of(c, &t.expected, &t.limit90);
    t.shot_sd = 1;
    t.shared_sd = 1;
    return t;
}

static struct photo_difference difference_of(const struct fit *f, const struct photo_color *targets,
                                             const struct patch_view *v) {
    double j[3][MODEL_TERMS], j2[3][MODEL_TERMS], c[3][3];
    const struct lab p = targets[0].lab, q = targets[1].lab;
    struct photo_difference d = {.lab = {q.l - p.l, q.a - p.a, q.b - p.b},
                                 .ciede2000 = ciede2000(p, q)};
    model_color(&f->model, v[0].rgb, v[0].x, v[0].y, j);
    model_color(&f->model, v[1].rgb, v[1].x, v[1].y, j2);
    for (int k = 0; k < 3; k++)
        for (int t = 0; t < MODEL_TERMS; t++) j[k][t] -= j2[k][t];
    carry(f, j, (struct lab){(p.l + q.l) / 2, (p.a + q.a) / 2, (p.b + q.b) / 2}, c);
    for (int k = 0; k < 3; k++) c[k][k] += 0.5;
    length_of(c, &d.expected, &d.limit90);
    d.shot_sd = d.shared_sd = 1;
    return d;
}

static enum status no_memory(struct why *why) {
    return why_say(why, E_MEMORY, "", "There is not enough memory.");
}

static enum status start(struct fit *f, struct why *why) {
    size_t white = 0;
    for (size_t i = 1; i < f->references_n; i++)
        if (f->references[i].lab.l > f->references[white].lab.l) white = i;
    const struct fit_reference *r = &f->references[white];
    struct rgb want = rgb_of_xyz_d65(RGB_DISPLAY_P3, xyz_d65_of_d50(xyz_of_lab(r->lab, XYZ_D50)));
    const double wanted[3] = {want.r, want.g, want.b};
    for (int k = 0; k < 3; k++) {
        if (!(r->view.rgb[k] > 1e-5) || !(wanted[k] > 1e-5))
            return why_say(why, E_REFUSED, "/references",
                           "The picture is black where the reference is. Take it with more light.");
        f->model.theta[MODEL_GAIN + k] = f->gain[k] = log(wanted[k] / r->view.rgb[k]);
    }
    return OK;
}

enum status photo_read(const struct photo_shot *shot, struct arena *a, struct photo_reading *out,
                       struct why *why) {
    enum status s = photo_check(shot, why);
    if (s != OK) return s;
    size_t rn = shot->references_n, tn = shot->targets_n;
    struct photo_color *targets = arena_array(a, tn + 1, sizeof *targets);
    struct photo_residual *residuals = arena_array(a, rn, sizeof *residuals);
    struct fit_reference *references = arena_array(a, rn, sizeof *references);
    struct patch_view *views = arena_array(a, rn + tn, sizeof *views);
    struct fit *f = arena_take(a, sizeof *f);
    if (!targets || !residuals || !references || !views || !f) return no_memory(why);
    for (size_t i = 0; i < rn; i++) {
        references[i] = reference_of(&shot->references[i]);
        views[tn + i] = references[i].view;
    }
    for (size_t i = 0; i < tn; i++) views[i] = patch_view(&shot->targets[i]);
    *f = (struct fit){.model = {.width = shot->width, .height = shot->height},
                      .patches = views,
                      .patches_n = rn + tn,
                      .references = references,
                      .references_n = rn};
    s = start(f, why);
    if (s != OK) return s;
    if (!fit_solve(f, rn >= 4))
        return why_say(why, E_NUMERIC, "/references", "The references could not be fitted.");

    struct photo_reading r = {.targets = targets,
                              .targets_n = tn,
                              .references = residuals,
                              .references_n = rn,
                              .shots = 1};
    for (size_t i = 0; i < rn; i++) {
        struct photo_residual *e = &residuals[i];
        const struct patch_view *v = &references[i].view;
        *e = (struct photo_residual){.stated = references[i].lab,
                                     .read = model_color(&f->model, v->rgb, v->x, v->y, NULL),
                                     .weight = references[i].weight,
                                     .assumed = isnan(shot->references[i].lab.l),
                                     .warnings = v->warnings};
        e->difference = ciede2000(e->stated, e->read);
        r.warnings |= e->warnings;
    }
    for (size_t i = 0; i < tn; i++) {
        targets[i] = color_of(f, &views[i]);
        r.warnings |= targets[i].warnings;
    }
    if (tn >= 2) {
        r.has_difference = true;
        r.difference = difference_of(f, targets, views);
    }
    *out = r;
    return OK;
}
