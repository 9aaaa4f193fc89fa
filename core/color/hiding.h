/* How a thin film hides what is under it, and how many coats that takes.
 *
 * A film of finite thickness over a ground after Kubelka and Munk. The paint's S is relative (white
 * = 1), so the absolute scale comes with the film: `white_scatter_per_um`, the scattering of the
 * white of that product class per micrometer of dry film.
 *
 * Source: KM1931; ISO6504 (contrast ratio 0.98 counts as hidden). */
#ifndef CORE_COLOR_HIDING_H
#define CORE_COLOR_HIDING_H

#include "core/color/pigment.h"

/* A titanium white house paint reaches contrast ratio 0.98 at about 45 um of dry film (8 m2/L at
 * 36 % solids by volume): 0.22 per um. From memory; a shop's own drawdown beats it. */
#define HIDING_WHITE_SCATTER_PER_UM 0.22

/* Chart that the contrast ratio is defined on: luminous reflectance of its halves (ISO6504). */
#define HIDING_CHART_BLACK 0.02
#define HIDING_CHART_WHITE 0.80
#define HIDING_CONTRAST 0.98

/* A brushed or rolled film is not even: at edges, in brush marks and on the tops of the stipple it
 * is little more than half its mean. From memory; a drawdown of the shop's own beats it. */
#define HIDING_THIN_PLACES 0.6

struct hiding_film {
    const struct pigment *paint;
    double white_scatter_per_um; /* > 0 */
    double coat_um;              /* dry film of one coat, > 0 */
};

struct hiding {
    int coats;         /* least number that hides; max + 1 when max coats do not */
    double contrast;   /* contrast ratio after that many (or max) coats, 0..1 */
    double difference; /* CIEDE2000 over the ground against the opaque layer, after that many */
    double film_um;    /* dry film of that many */
};

/* Reflectance of `um` of dry film (>= 0) over a ground. */
struct spectrum hiding_over(const struct hiding_film *f, double um, const struct spectrum *ground);

/* Luminous reflectance over black divided by that over white, 0..1. w: any observer and light; the
 * standard's are observer 10, D65. */
double hiding_contrast(const struct hiding_film *f, double um, const struct weights *w);

/* Coats until the contrast ratio is HIDING_CONTRAST (ground NULL), or until the film over the
 * ground at hand differs by no more than `threshold` (CIEDE2000 > 0) from the opaque layer.
 * max >= 1 coats are tried. */
struct hiding hiding_coats(const struct hiding_film *f, const struct spectrum *ground,
                           double threshold, int max, const struct weights *w);

#endif
