/* The region of color (core/recipe/region.h) as the kernels use it: whitened rows in single
 * precision, and the radius outside which no recipe comes within a given difference. Inside
 * core/recipe only. */
#ifndef CORE_RECIPE_BALL_H
#define CORE_RECIPE_BALL_H

#include "core/recipe/cell.h"
#include "core/recipe/mixture.h"
#include "core/recipe/region.h"

enum { BALL_LEVELS = 128 }; /* of difference, 8 % apart from .02 on */

struct ball {
    struct region region;
    struct cell_rows rows;
    double grid_points; /* recipes of the problem: how much a tight radius is worth */
    struct ball_level {
        double radius;
        int boxes;      /* it was sought with; 0: not yet */
        uint32_t asked; /* cells that it was asked for */
    } levels[BALL_LEVELS];
    double last_difference;
    int last_level;
};

void ball_make(struct ball *b, const struct mixture *m, double grid_points);
/* No recipe with |w| above this has a difference up to u, single-precision noise included. */
float ball_radius(struct ball *b, double u);

#endif
