#include "core/recipe/ball.h"

#include <math.h>

static void rows_make(struct ball *b, const struct mixture *m) {
    const struct weights *w = m->problem->d65;
    const double *by[3] = {w->x, w->y, w->z};
    const struct xyz t = b->region.target_xyz;
    for (int j = 0; j < 3; j++) {
        const double *whiten = b->region.whiten[j], *back = b->region.back[j];
        for (int i = 0; i < SPECTRUM_BANDS; i++)
            b->rows.row[j][i] =
                (float)(whiten[0] * by[0][i] + whiten[1] * by[1][i] + whiten[2] * by[2][i]);
        double size = sqrt(back[0] * back[0] + back[1] * back[1] + back[2] * back[2]);
        for (int i = 0; i < 3; i++) b->rows.axis[j][i] = (float)(back[i] / size);
        b->rows.shift[j] = (float)-(whiten[0] * t.x + whiten[1] * t.y + whiten[2] * t.z);
    }
    b->rows.slack = (float)(3e-6 + 2e-7 * m->last_total);
}

void ball_make(struct ball *b, const struct mixture *m, double grid_points) {
    *b = (struct ball){.grid_points = grid_points, .last_difference = NAN};
    region_make(&m->problem->target, &m->problem->d65->white, &b->region);
    rows_make(b, m);
}

/* A loose ball costs more than boxes spent on it, the more the larger the grid is. */
static double exact_radius(const struct ball *b, double limit) {
    double r = region_radius(&b->region, limit, 200);
    if (r > 1.2 * limit && b->grid_points > 1e5)
        r = fmin(r, region_radius(&b->region, limit, b->grid_points > 1e7 ? 12000 : 3000));
    return r;
}

/* What single precision may be off by in |w| of a color in the ball: sum of |row| R, from above. */
static double noise_of(const struct ball *b, double radius) {
    const double t[3] = {b->region.target_xyz.x, b->region.target_xyz.y, b->region.target_xyz.z};
    double square = 0;
    for (int j = 0; j < 3; j++) {
        double m = 0;
        for (int i = 0; i < 3; i++) {
            const double *back = b->region.back[i];
            double far = radius * sqrt(back[0] * back[0] + back[1] * back[1] + back[2] * back[2]);
            m += fabs(b->region.whiten[j][i]) * (fabs(t[i]) + far + .01);
        }
        square += m * m;
    }
    return 4e-6 * sqrt(square);
}

static float level_radius(struct ball *b, double u) {
    if (!(u < 300)) return INFINITY;
    int level = u > .02 ? (int)ceil(log(u / .02) / log(1.08)) : 0;
    if (level >= BALL_LEVELS) return INFINITY;
    if (!(b->radius[level] > 0)) {
        double r = exact_radius(b, .02 * pow(1.08, level));
        b->radius[level] = r + noise_of(b, r);
    }
    return (float)b->radius[level] * (1 + 1e-6f);
}

/* Asked for every cell, and hardly ever for another difference than last time. */
float ball_radius(struct ball *b, double u) {
    if (!(u == b->last_difference)) {
        b->last_radius = level_radius(b, u);
        b->last_difference = u;
    }
    return b->last_radius;
}
