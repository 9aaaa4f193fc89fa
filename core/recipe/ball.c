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

/* A loose ball costs cells, and boxes cost more than cells do: most searches end before a tighter
 * one is worth it, and the larger the grid, the more cells are still to come. */
static int boxes_worth(const struct ball *b, const struct ball_level *level) {
    if (b->grid_points > 1e7 && level->asked > 4000) return 12000;
    return b->grid_points > 1e5 && level->asked > 500 ? 3000 : 200;
}

static const double LOOSE = 1.2; /* times the difference: worth another look */

static void level_tighten(const struct ball *b, struct ball_level *level, int at) {
    const int boxes = boxes_worth(b, level);
    if (level->boxes >= boxes) return;
    const double limit = .02 * pow(1.08, at);
    const bool tight = level->boxes && level->radius <= LOOSE * limit;
    level->boxes = boxes;
    if (tight) return;
    const double r = region_radius(&b->region, limit, boxes), noisy = r + noise_of(b, r);
    if (!(level->radius > 0 && level->radius < noisy)) level->radius = noisy;
}

/* Asked for every cell. */
float ball_radius(struct ball *b, double u) {
    if (!(u < 300)) return INFINITY;
    if (!(u == b->last_difference)) { /* hardly ever */
        b->last_difference = u;
        b->last_level = u > .02 ? (int)ceil(log(u / .02) / log(1.08)) : 0;
    }
    if (b->last_level >= BALL_LEVELS) return INFINITY;
    struct ball_level *level = &b->levels[b->last_level];
    level->asked++;
    level_tighten(b, level, b->last_level);
    return (float)level->radius * (1 + 1e-6f);
}
