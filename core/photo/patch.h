/* Inside of core/photo: what the blocks of one patch say together. */
#ifndef CORE_PHOTO_PATCH_H
#define CORE_PHOTO_PATCH_H

#include "core/photo/photo.h"

/* A patch has one color, so what changes over its blocks is the light: a plane, fitted robustly,
 * tells color and slope apart; blocks that stand out are edges, glare, shadow or dirt. */
struct patch_view {
    double x, y;        /* middle of the blocks that were used */
    double rgb[3];      /* linear Display P3 there */
    double rgb_sd[3];   /* doubt of it, from the scatter */
    bool has_slope;     /* enough blocks, bright enough */
    double slope[3][2]; /* relative change per unit of place: d ln(rgb) / dx, dy */
    double slope_sd[2]; /* doubt of it, from the scatter */
    double width;       /* of the patch, x extent and y extent at most */
    double used_frac;   /* share of the blocks that were used */
    double bright_frac; /* share of the inner blocks that stand out as brighter, darker */
    double dim_frac;
    double swing[3];   /* brightest less darkest fifth of the inner blocks */
    double brightest;  /* mean channel of the brightest fiftieth */
    double grain;      /* range that noise and texture alone would give, of the value */
    double range_frac; /* from the darkest to the brightest fiftieth, of the brightest */
    double top_frac;   /* share of the inner blocks in the upper third of the range */
    bool uneven;       /* more than any lamp's falling off: a spot, an edge */
    unsigned warnings; /* clipped, dark */
};

struct patch_view patch_view(const struct photo_patch *p);

/* The same from its darkest blocks alone, without slope: where a reflection adds light. */
void patch_darkest(const struct photo_patch *p, struct patch_view *v);

#endif
