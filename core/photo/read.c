/* A reading by the gains of the whitest reference. */
#include "core/color/color.h"
#include "core/photo/check.h"

#include <math.h>

static void patch_mean(const struct photo_patch *p, double out[3], unsigned *out_warnings) {
    double sum[3] = {0}, all[3] = {0}, clipped = 0, dark = 0;
    size_t n = 0;
    for (size_t i = 0; i < p->blocks_n; i++) {
        const struct photo_block *b = &p->blocks[i];
        clipped += b->clipped_frac;
        dark += b->dark_frac;
        for (int k = 0; k < 3; k++) {
            all[k] += b->rgb[k];
            if (b->clipped_frac < 0.01) sum[k] += b->rgb[k];
        }
        n += b->clipped_frac < 0.01;
    }
    for (int k = 0; k < 3; k++) out[k] = n ? sum[k] / (double)n : all[k] / (double)p->blocks_n;
    *out_warnings = 0;
    if (clipped > 0.05 * (double)p->blocks_n) *out_warnings |= PHOTO_CLIPPED;
    if (dark > 0.5 * (double)p->blocks_n) *out_warnings |= PHOTO_DARK;
}

static struct lab reference_lab(const struct photo_reference *r) {
    if (!isnan(r->lab.l)) return r->lab;
    return r->kind == PHOTO_WHITE ? (struct lab){94.5, 0.5, -2} : (struct lab){49.5, 0, 0};
}

static struct lab lab_of_linear(const double rgb[3], const double gain[3]) {
    struct rgb c = {rgb[0] * gain[0], rgb[1] * gain[1], rgb[2] * gain[2]};
    return lab_of_xyz(xyz_d50_of_d65(xyz_d65_of_rgb(RGB_DISPLAY_P3, c)), XYZ_D50);
}

enum status photo_read(const struct photo_shot *shot, struct arena *a, struct photo_reading *out,
                       struct why *why) {
    enum status s = photo_check(shot, why);
    if (s != OK) return s;
    struct photo_color *targets = arena_array(a, shot->targets_n + 1, sizeof *targets);
    struct photo_residual *residuals = arena_array(a, shot->references_n, sizeof *residuals);
    if (!targets || !residuals) return why_say(why, E_MEMORY, "", "There is not enough memory.");

    size_t white = 0;
    for (size_t i = 1; i < shot->references_n; i++)
        if (reference_lab(&shot->references[i]).l > reference_lab(&shot->references[white]).l)
            white = i;
    struct lab stated = reference_lab(&shot->references[white]);
    struct rgb want = rgb_of_xyz_d65(RGB_DISPLAY_P3, xyz_d65_of_d50(xyz_of_lab(stated, XYZ_D50)));
    const double wanted[3] = {want.r, want.g, want.b};
    double mean[3], gain[3];
    unsigned warnings = 0;
    patch_mean(&shot->references[white].patch, mean, &warnings);
    for (int k = 0; k < 3; k++) {
        if (!(mean[k] > 1e-6))
            return why_say(why, E_REFUSED, "/references",
                           "The picture is black where the reference is. Take it with more light.");
        gain[k] = wanted[k] / mean[k];
    }
    struct photo_reading r = {.targets = targets,
                              .targets_n = shot->targets_n,
                              .references = residuals,
                              .references_n = shot->references_n,
                              .shots = 1};
    for (size_t i = 0; i < shot->references_n; i++) {
        struct photo_residual *e = &residuals[i];
        patch_mean(&shot->references[i].patch, mean, &e->warnings);
        e->stated = reference_lab(&shot->references[i]);
        e->assumed = isnan(shot->references[i].lab.l);
        e->read = lab_of_linear(mean, gain);
        e->difference = ciede2000(e->stated, e->read);
        e->weight = 1;
        r.warnings |= e->warnings;
    }
    for (size_t i = 0; i < shot->targets_n; i++) {
        struct photo_color *t = &targets[i];
        patch_mean(&shot->targets[i], mean, &t->warnings);
        t->lab = lab_of_linear(mean, gain);
        t->expected = 3.3;
        t->limit90 = 6.6;
        t->shot_sd = 1;
        t->shared_sd = 1.9;
        r.warnings |= t->warnings;
    }
    if (shot->targets_n >= 2) {
        const struct lab p = targets[0].lab, q = targets[1].lab;
        r.has_difference = true;
        r.difference = (struct photo_difference){.lab = {q.l - p.l, q.a - p.a, q.b - p.b},
                                                 .ciede2000 = ciede2000(p, q),
                                                 .expected = 1.6,
                                                 .limit90 = 4,
                                                 .shot_sd = 1,
                                                 .shared_sd = 0.8};
    }
    *out = r;
    return OK;
}
