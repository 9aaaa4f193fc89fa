/* A reading: patches, fit, colors, doubts. */
#include "core/color/color.h"
#include "core/photo/check.h"
#include "core/photo/doubt.h"
#include "core/photo/judge.h"
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

static struct fit_reference reference_of(const struct photo_reference *r) {
    struct fit_reference f = {.view = patch_view(&r->patch), .lab = stated_color(r), .weight = 1};
    f.own_sd = r->lab_sd > 0 ? r->lab_sd : isnan(r->lab.l) ? PHOTO_UNSAID_SD : PHOTO_STATED_SD;
    f.sd = hypot(PHOTO_NEUTRAL_SD, f.own_sd);
    /* what is clipped or lost in the dark says little of its color */
    if (f.view.warnings & (PHOTO_CLIPPED | PHOTO_DARK)) f.sd = hypot(f.sd, PHOTO_LOST_SD);
    fit_metric(f.lab, f.sd, f.metric);
    return f;
}

static struct photo_color color_of(const struct fit *f, const struct patch_view *v,
                                   unsigned warnings) {
    struct photo_color t = {.lab = model_color(&f->model, v->rgb, v->x, v->y, NULL),
                            .warnings = warnings};
    struct doubt d = doubt_of(f, v, warnings);
    doubt_length(d.all, &t.expected, &t.limit90);
    t.shared_sd = doubt_axis(d.shared);
    double all = doubt_axis(d.all);
    t.shot_sd = sqrt(fmax(all * all - t.shared_sd * t.shared_sd, 0));
    return t;
}

static struct photo_difference difference_of(const struct fit *f, const struct photo_color *targets,
                                             const struct patch_view *v) {
    const struct lab p = targets[0].lab, q = targets[1].lab;
    struct photo_difference d = {.lab = {q.l - p.l, q.a - p.a, q.b - p.b},
                                 .ciede2000 = ciede2000(p, q)};
    struct doubt t =
        doubt_of_difference(f, &v[0], &v[1], targets[0].warnings | targets[1].warnings);
    doubt_length(t.all, &d.expected, &d.limit90);
    d.shared_sd = doubt_axis(t.shared);
    double all = doubt_axis(t.all);
    d.shot_sd = sqrt(fmax(all * all - d.shared_sd * d.shared_sd, 0));
    return d;
}

/* Gains alone, channel by channel, by least squares: where the fit begins. */
static enum status start(struct fit *f, struct why *why) {
    double both[3] = {0}, square[3] = {0};
    for (size_t i = 0; i < f->references_n; i++) {
        const struct fit_reference *r = &f->references[i];
        struct rgb want =
            rgb_of_xyz_d65(RGB_DISPLAY_P3, xyz_d65_of_d50(xyz_of_lab(r->lab, XYZ_D50)));
        const double wanted[3] = {want.r, want.g, want.b};
        for (int k = 0; k < 3; k++) {
            both[k] += fmax(wanted[k], 0) * fmax(r->view.rgb[k], 0) / (r->sd * r->sd);
            square[k] += r->view.rgb[k] * r->view.rgb[k] / (r->sd * r->sd);
        }
    }
    for (int k = 0; k < 3; k++) {
        if (!(square[k] > 1e-9) || !(both[k] > 1e-9))
            return why_say(why, E_REFUSED, "/references",
                           "The picture is black where the references are, or they have no red, "
                           "green or blue at all. Take it with more light; add white paper.");
        f->model.theta[MODEL_GAIN + k] = f->gain[k] = log(both[k] / square[k]);
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
    if (!targets || !residuals || !references || !views || !f) return why_no_memory(why);
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
    /* the light's color may change over the picture: asked first, kept only where it is sure */
    struct model begin = f->model;
    f->chroma = true;
    if (fit_solve(f, rn >= 4)) f->chroma = judge_mixed(f);
    if (!f->chroma) f->model = begin;
    if (!f->chroma && !fit_solve(f, rn >= 4))
        return why_say(why, E_NUMERIC, "/references", "The references could not be fitted.");
    f->scale = doubt_scale(f);

    struct photo_reading r = {.targets = targets,
                              .targets_n = tn,
                              .references = residuals,
                              .references_n = rn,
                              .warnings = judge_picture(f) | (f->chroma ? PHOTO_MIXED : 0),
                              .shots = 1};
    size_t clipped = 0;
    for (size_t i = 0; i < rn; i++) {
        struct photo_residual *e = &residuals[i];
        const struct patch_view *v = &references[i].view;
        *e = (struct photo_residual){.stated = references[i].lab,
                                     .read = model_color(&f->model, v->rgb, v->x, v->y, NULL),
                                     .weight = references[i].weight,
                                     .assumed = isnan(shot->references[i].lab.l),
                                     .warnings = judge_patch(f, v) | judge_reference(f, i)};
        e->difference = ciede2000(e->stated, e->read);
        clipped += (e->warnings & PHOTO_CLIPPED) != 0;
        r.warnings |= e->warnings & ~(unsigned)PHOTO_CLIPPED;
    }
    /* a few clipped ones among many are left out of the fit and nobody's worry */
    if (rn <= 3 ? clipped > 0 : 3 * clipped >= rn) r.warnings |= PHOTO_CLIPPED;
    for (size_t i = 0; i < tn; i++) {
        unsigned warnings = judge_patch(f, &views[i]);
        if (warnings & PHOTO_GLARE) patch_darkest(&shot->targets[i], &views[i]);
        targets[i] = color_of(f, &views[i], warnings | (r.warnings & PHOTO_DARK));
        r.warnings |= targets[i].warnings;
    }
    if (tn >= 2) {
        r.has_difference = true;
        r.difference = difference_of(f, targets, views);
    }
    *out = r;
    return OK;
}
