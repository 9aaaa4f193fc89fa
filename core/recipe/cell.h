/* The search's inner loops: sixteen cells bounded, or sixteen recipes computed, at once.
 *
 * A cell is a box of whole parts lo <= p <= hi of the paints of one set but its base, whose parts
 * are what is left of the sum. Its color range is bounded in two ways per band, the narrower taken:
 * the exact range of q = K/S over the box, and reflectance held between two lines in q - R is
 * convex in q, so chord and parallel tangent hold it - with q itself linear in the paints' shares
 * of scattering up to a small rest. Summed over bands this gives the whitened color as a linear
 * function of the shares plus a rest, hence whether the cell can hold a recipe within a given
 * distance of the target, and which part of it.
 *
 * For R_lo <= R_hi, P = R_lo R_hi, the chord in q has the slope -a, a = 2 P / (1 - P), the tangent
 * R = -a q + 2 sqrt(P) / (1 + sqrt(P)), and the gap is
 * (R_hi - R_lo)^2 / ((R_hi + R_lo + 2 sqrt(P)) (1 - P)).
 *
 * Each lane has a set of its own, so that lanes are never idle while there are sets left.
 *
 * Inside core/recipe only. */
#ifndef CORE_RECIPE_CELL_H
#define CORE_RECIPE_CELL_H

#include "core/color/spectrum.h"
#include <stdbool.h>

enum { CELL_LANES = 16, CELL_VARS = 5, CELL_SHELF = 64 };

/* Whitened color w[k] = sum over bands of row[k][b] R[b] + shift[k]. */
struct cell_rows {
    float row[3][SPECTRUM_BANDS], shift[3];
    float axis[3][3]; /* directions of w, length 1, along which X, Y, Z alone change */
    float slack;      /* relative rounding of a band's contribution in single precision, from
                         above */
};

/* All paints that can be poured, per part, and the batch as a whole. */
struct cell_shelf {
    float k[CELL_SHELF][SPECTRUM_BANDS], s[CELL_SHELF][SPECTRUM_BANDS],
        q[CELL_SHELF][SPECTRUM_BANDS];
    float mean[CELL_SHELF]; /* S averaged over bands */
    float batch_k[SPECTRUM_BANDS], batch_s[SPECTRUM_BANDS], batch_mean;
};

/* Paints that are mixed: their places on the shelf, the base first. */
struct cell_set {
    int n; /* variables: paints but the base */
    int place[CELL_VARS + 1];
};

/* The paints of each lane's set. K = k0 + sum dk p, S = s0 + sum ds p: a part more of a paint is a
 * part less of the base. */
struct cell_paints {
    struct {
        float k0[CELL_LANES], s0[CELL_LANES];
        float q_min[CELL_LANES], q_max[CELL_LANES]; /* K/S of the paints and the batch */
        float dk[CELL_VARS][CELL_LANES], ds[CELL_VARS][CELL_LANES];
    } band[SPECTRUM_BANDS];
    float mean0[CELL_LANES], mean[CELL_VARS][CELL_LANES]; /* S averaged over bands */
};

struct cell_batch {
    struct cell_paints paints;
    /* ranges of parts of all paints but the base; narrowed to what can still hold a recipe with
     * |w| <= radius (rounded outward by the caller, see CELL_ROUND) */
    float lo[CELL_VARS][CELL_LANES], hi[CELL_VARS][CELL_LANES];
    float radius[CELL_LANES];
    float room[CELL_LANES];              /* out: below 0, no recipe of the cell has |w| <= radius */
    float effect[CELL_VARS][CELL_LANES]; /* out: how far each paint's range carries the color */
};

#define CELL_ROUND 1e-3f /* parts; far above single precision's error at 512 parts */

/* Recipes of one set. */
struct point_batch {
    float parts[CELL_VARS][CELL_LANES];
    float norm[CELL_LANES]; /* out: |w| */
};

struct cell_kernel {
    /* n: variables of every lane's set */
    void (*bound)(const struct cell_rows *rows, struct cell_batch *io, int n);
    /* poured: parts of all paints */
    void (*points)(const struct cell_shelf *shelf, const struct cell_set *set, float poured,
                   const struct cell_rows *rows, struct point_batch *io);
    const char *name;
};

/* The fastest this machine runs; plain: the one that runs everywhere. Same results bit by bit. */
const struct cell_kernel *cell_kernel(bool plain);

#endif
