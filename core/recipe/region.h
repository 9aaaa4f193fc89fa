/* The region of color around a target in which a recipe could still win, as a
 * proven ball.
 *
 * XYZ differences to the target are turned ("whitened") so that near the target
 * one unit in any direction is one unit of CIEDE2000. Then for every U there is
 * a radius such that each color with CIEDE2000 <= U lies inside that ball: the
 * search throws away what lies outside.
 *
 * How: CIEDE2000^2 = v'Nv with v = A w, where w is the whitened difference and
 * the entries of A and N (divided differences of the cube roots, of chroma and
 * hue, and the weights S_L, S_C, S_H, R_T) vary slowly; intervals of them over
 * a box of Lab give the least eigenvalue of A'NA, hence |w|^2 <= U^2 / that.
 * Boxes that lie outside {CIEDE2000 <= U} as a whole are left out. Inside
 * core/recipe only. Source: formula Sharma, Wu, Dalal 2005; the bound is our
 * own. */
#ifndef CORE_RECIPE_REGION_H
#define CORE_RECIPE_REGION_H

#include "core/color/color.h"

struct region {
    struct lab target;
    struct xyz target_xyz, white;
    double whiten[3][3]; /* w = whiten * (XYZ - target XYZ) */
    double back[3][3];   /* its inverse */
};

void region_make(const struct lab *target, const struct xyz *white, struct region *out);

/* Radius r such that CIEDE2000(target, color) <= limit implies |w| <= r, for
 * every color whose XYZ / white lie within -.001..1.001 (weights slightly below
 * 0 let mixes stray that far). boxes_max: work allowed, about 2 us a box;
 * fewer boxes, larger radius. */
double region_radius(const struct region *r, double limit, int boxes_max);

/* A number that CIEDE2000 from the target to any color of the box low..high
 * does not go below. */
double region_difference_low(const struct region *r, struct lab low, struct lab high);

#endif
