#include "core/photo/judge.h"

#include "core/base/linear.h"
#include "core/color/color.h"
#include "core/photo/doubt.h"
#include "core/photo/tuning.h"

#include <math.h>

/* Slope of the light inside a patch against that of the whole picture, in ln per longer side: an
 * edge of a shadow or the flank of a reflection is many times steeper than any lamp's falling
 * off. */
static double odd_slope(const struct fit *f, const struct patch_view *v) {
    double odd = 0;
    if (!v->has_slope) return 0;
    for (int axis = 0; axis < 2; axis++) {
        double seen = 0, light[2];
        for (int k = 0; k < 3; k++)
            seen += v->slope[k][axis] * model_contrast(&f->model, v->rgb[k]) / 3;
        model_light_slope(&f->model, 1, v->x, v->y, light);
        odd = fmax(odd, fabs(seen - light[axis]) - 3 * v->slope_sd[axis]);
    }
    return odd;
}

static double angle(const double a[3], const double b[3]) {
    double ab = 0, aa = 0, bb = 0;
    for (int k = 0; k < 3; k++) {
        ab += a[k] * b[k];
        aa += a[k] * a[k];
        bb += b[k] * b[k];
    }
    return aa > 0 && bb > 0 ? acos(fmin(fmax(ab / sqrt(aa * bb), -1), 1)) : 0;
}

/* What the perfect white would be in the picture, there. */
static void white_at(const struct fit *f, const struct patch_view *v, double out[3]) {
    for (int k = 0; k < 3; k++)
        out[k] = exp(model_light(&f->model, k, v->x, v->y) - f->model.theta[MODEL_GAIN + k]);
}

/* A reflection adds the light's own color, a shadow takes a part of the patch's. On a gray patch
 * both are one; then a small bright spot is a reflection, and so is what is brighter than any
 * white. */
static unsigned unevenness(const struct fit *f, const struct patch_view *v) {
    double white[3];
    white_at(f, v, white);
    if (angle(v->rgb, white) > PHOTO_COLORED) {
        double of_color = angle(v->swing, v->rgb), of_white = angle(v->swing, white);
        return of_color > of_white ? PHOTO_GLARE : PHOTO_SHADOW;
    }
    bool above = v->brightest > PHOTO_ABOVE_WHITE * (white[0] + white[1] + white[2]) / 3;
    return v->top_frac < (above ? 1.6 : 1) * PHOTO_SPOT ? PHOTO_GLARE : PHOTO_SHADOW;
}

unsigned judge_patch(const struct fit *f, const struct patch_view *v) {
    bool uneven = v->uneven || odd_slope(f, v) > PHOTO_ODD_SLOPE;
    unsigned w = v->warnings | (uneven ? unevenness(f, v) : 0);
    /* clipped, and brighter than any surface in this light: it is the lamp that is seen */
    double white[3];
    white_at(f, v, white);
    if ((w & PHOTO_CLIPPED) &&
        v->brightest > PHOTO_ABOVE_WHITE * (white[0] + white[1] + white[2]) / 3)
        w |= PHOTO_GLARE;
    return w;
}

/* Distance from the stated color when the light on the reference is taken as exp(light) times, or
 * white light as added times the picture's white. */
static double distance(const struct fit *f, const struct fit_reference *r, double light,
                       double added) {
    double rgb[3];
    for (int k = 0; k < 3; k++)
        rgb[k] = r->view.rgb[k] * exp(light) - added * exp(-f->model.theta[MODEL_GAIN + k]);
    return ciede2000(model_color(&f->model, rgb, r->view.x, r->view.y, NULL), r->lab);
}

/* Which single cause would put a reference right. */
static unsigned cause(const struct fit *f, const struct fit_reference *r) {
    double as_is = distance(f, r, 0, 0), best = as_is, by = 0, glare = as_is;
    for (double light = -1.6; light <= 1.6; light += 0.05) {
        double d = distance(f, r, light, 0);
        if (d < best) best = d, by = light;
    }
    for (double added = 0.01; added <= 0.6; added *= 1.15)
        glare = fmin(glare, distance(f, r, 0, added));
    if (by > 0.12 && best < 0.35 * as_is) return PHOTO_SHADOW;
    if (glare < 0.35 * as_is && glare <= best + 0.5) return PHOTO_GLARE;
    if (by < -0.12 && best < 0.35 * as_is) return PHOTO_SHADOW; /* the others lie in it */
    return PHOTO_REFERENCE;
}

unsigned judge_reference(const struct fit *f, size_t i) {
    double off, sd;
    if (f->references_n < 2 || f->references[i].view.warnings) return 0;
    doubt_leave_out(f, i, &off, &sd);
    double ratio = PHOTO_WRONG_RATIO * (f->chroma ? 1.5 : 1);
    if (!(off > PHOTO_WRONG_LEAST && off > ratio * sd)) return 0;
    /* a gray of another lightness and a gray in another light look the same */
    const struct lab c = f->references[i].lab;
    return cause(f, &f->references[i]) | (hypot(c.a, c.b) < 8 ? PHOTO_REFERENCE : 0);
}

unsigned judge_picture(const struct fit *f) {
    double white = 0; /* what the perfect white is in the picture, in good light */
    for (int k = 0; k < 3; k++) white += exp(-f->model.theta[MODEL_GAIN + k]) / 3;
    return white < PHOTO_DARK_WHITE ? PHOTO_DARK : 0;
}

bool judge_mixed(const struct fit *f) {
    double c[16], b[4], wald = 0, steepest = 0;
    for (int i = 0; i < 4; i++) {
        b[i] = f->model.theta[MODEL_CHROMA + i];
        steepest = fmax(steepest, fabs(b[i]));
        for (int j = 0; j < 4; j++)
            c[4 * i + j] = f->covariance[(MODEL_CHROMA + i) * MODEL_TERMS + MODEL_CHROMA + j];
    }
    if (!gauss_solve(c, 4, b)) return false;
    for (int i = 0; i < 4; i++) wald += b[i] * f->model.theta[MODEL_CHROMA + i];
    return wald > PHOTO_MIXED_WALD && steepest > PHOTO_MIXED_LEAST;
}
