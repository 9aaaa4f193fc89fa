/* Everything of the CIEDE2000 formula that varies with the sample, as intervals over a box of
 * samples. Inside core/recipe only. Source: SHARMA2005; the bounds are our own. */
#ifndef CORE_RECIPE_TERMS_H
#define CORE_RECIPE_TERMS_H

#include "core/color/color.h"
#include "core/recipe/interval.h"

#include <stdbool.h>

struct terms {
    struct interval da, db, dl;     /* sample - target, Lab */
    struct interval g1;             /* 1 + G */
    struct interval a1, a2, b2;     /* a' of target and sample; b */
    struct interval c1, c2;         /* C' */
    struct interval sl, sc, sh, rt; /* weights */
    bool hue_known;                 /* false: hue of the box not told apart */
    struct interval dot;            /* C1 C2 (1 + cos of the hue difference) */
};

/* Samples from lo to hi, seen from the target t. */
void terms_of(const struct lab *t, struct lab lo, struct lab hi, struct terms *out);
/* A number that CIEDE2000 from t to any sample of the box does not go below. */
double terms_difference_low(const struct lab *t, struct lab lo, struct lab hi);
/* sqrt(c^7 / (c^7 + 25^7)) */
double terms_chroma_7(double c);

#endif
