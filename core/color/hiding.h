/* How a thin film hides what is under it, and how many coats that takes.
 *
 * A film of finite thickness over a ground after Kubelka and Munk. The paint's S is relative (white
 * = 1), so the absolute scale comes with the film: `white_scatter_per_um`, the scattering of the
 * white of that product class per micrometer of dry film.
 *
 * Source: KM1931; ISO6504 (contrast ratio 0.98 counts as hidden; of the film over the ground at
 * hand to an opaque layer, where the standard takes it over a black and over a white chart). */
#ifndef CORE_COLOR_HIDING_H
#define CORE_COLOR_HIDING_H

#include "core/color/pigment.h"

/* A titanium white house paint reaches contrast ratio 0.98 at about 45 um of dry film (8 m2/L at
 * 36 % solids by volume): 0.22 per um. From memory; a shop's own drawdown beats it. */
#define HIDING_WHITE_SCATTER_PER_UM 0.22

#define HIDING_CONTRAST 0.98 /* luminance ratio, ISO6504 */

/* A brushed or rolled film is not even: at edges, in brush marks and on the tops of the stipple it
 * is little more than half its mean. From memory; a drawdown of the shop's own beats it. */
#define HIDING_THIN_PLACES 0.6

/* What a screen calls white reflects all, and no paint does: the whitest house paints give back
 * some 94 % of the light. From memory. */
#define HIDING_WHITEST 0.94

/* The paint itself, where `p` may be a color that was only wished: whatever it scatters, it absorbs
 * as much as keeps it from being whiter than that. */
struct pigment hiding_paint(const struct pigment *p);

struct hiding_film {
    const struct pigment *paint;
    double white_scatter_per_um; /* > 0 */
    double coat_um;              /* dry film of one coat, > 0 */
};

/* Reflectance of `um` of dry film (>= 0) over a ground. */
struct spectrum hiding_over(const struct hiding_film *f, double um, const struct spectrum *ground);

/* What is seen after so many coats, where the film is thinnest. */
struct hiding_seen {
    struct xyz xyz;
    double contrast; /* luminance against that of an opaque layer, the lower by the higher, 0..1 */
};
struct hiding_seen hiding_after(const struct hiding_film *f, int coats,
                                const struct spectrum *ground, const struct weights *w);

/* Contrast ratio of so much dry film: its luminance over the black of a hiding chart by that over
 * the white (ISO6504). */
#define HIDING_CHART_BLACK 0.02 /* reflectances; from memory */
#define HIDING_CHART_WHITE 0.80
double hiding_chart(const struct hiding_film *f, double um, const struct weights *w);

/* How much a paint scatters in a film, against what `white_scatter_per_um` and its S let expect,
 * when it took so many coats (>= 1) until black and white no longer showed where the film is
 * thinnest: enough with `coats`, not with one fewer. Before that ln(scale) is normal around 0, as
 * unsure as HIDING_SPREAD; scale is its mean between the two bounds. high is INFINITY for 1 coat.
 *
 * HIDING_SPREAD: many bright yellows, oranges and reds hide half as well as their lightness tells.
 * Common practice. */
#define HIDING_SPREAD 0.7
struct hiding_scale {
    double scale, low, high;
};
struct hiding_scale hiding_learn(const struct hiding_film *f, int coats, const struct weights *w);

/* Least number of coats that hides the ground (HIDING_CONTRAST); most + 1: more than `most` (>= 1).
 */
int hiding_coats(const struct hiding_film *f, const struct spectrum *ground, int most,
                 const struct weights *w);

#endif
