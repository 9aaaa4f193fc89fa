/* Inside of core/photo: from what the picture says of a patch to its color, by 27 numbers.
 *
 *     e   = encoded Display P3 of the patch            (transfer curve of sRGB)
 *     e'  = e + t1 e(1-e) + t2 e(1-e)(1-2e)            tone: the maker's curve undone
 *     v   = decoded e' * gain * exp(-light(x, y))      gains; light: plane and r^2, in log
 *     out = v + M v + P s                              row sums of M are 0; s vanishes on grays:
 *           s = sqrt(v_j v_k) - (v_j + v_k) / 2        root polynomial of degree 2
 *     Lab of out, linear Display P3
 *
 * All numbers 0: the picture is believed as it is. */
#ifndef CORE_PHOTO_MODEL_H
#define CORE_PHOTO_MODEL_H

#include "core/photo/patch.h"

enum {
    MODEL_GAIN = 0,    /* 3: ln gain of r, g, b */
    MODEL_MATRIX = 3,  /* 6: out row, other channel */
    MODEL_ROOT = 9,    /* 9: out row, pair rg rb gb */
    MODEL_TONE = 18,   /* 2 */
    MODEL_PLANE = 20,  /* 2: ln light per unit of x, y */
    MODEL_RADIUS = 22, /* 1: ln light per (distance from the middle / half diagonal)^2 */
    MODEL_CHROMA = 23, /* 4: ln light of red, blue against green per unit of x, y */
    MODEL_TERMS = 27
};

struct model {
    double theta[MODEL_TERMS];
    double width, height; /* of the picture, its longer side 1 */
};

/* ln light of a channel at a place, and its slope there. */
double model_light(const struct model *m, int channel, double x, double y);
void model_light_slope(const struct model *m, int channel, double x, double y, double out[2]);
/* slope, if not NULL: d Lab / d theta, rows l, a, b. */
struct lab model_color(const struct model *m, const double rgb[3], double x, double y,
                       double slope[3][MODEL_TERMS]);
/* How much steeper than the picture the scene is at a channel's value: d ln v / d ln rgb. */
double model_contrast(const struct model *m, double rgb);

#endif
