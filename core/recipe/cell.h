/* The search's inner loops: eight cells bounded, or eight recipes computed, at
 * once.
 *
 * A cell is a box of whole parts lo <= p <= hi of the paints of one set but its
 * base, whose parts are what is left of the sum. Its color range is bounded in
 * two ways per band, the narrower taken: the exact range of q = K/S over the
 * box, and reflectance held between two lines in q - R is convex in q, so chord
 * and parallel tangent hold it - with q itself linear in the paints' shares of
 * scattering up to a small rest. Summed over bands this gives the whitened
 * color as a linear function of the shares plus a rest, hence whether the cell
 * can hold a recipe within a given distance of the target, and which part of
 * it.
 *
 * For R_lo <= R_hi, P = R_lo R_hi, the chord in q has the slope -a, a = 2 P /
 * (1 - P), the tangent R = -a q + 2 sqrt(P) / (1 + sqrt(P)), and the gap is
 * (R_hi - R_lo)^2 / ((R_hi + R_lo + 2 sqrt(P)) (1 - P)).
 *
 * Inside core/recipe only. */
#ifndef CORE_RECIPE_CELL_H
#define CORE_RECIPE_CELL_H

#include "core/color/spectrum.h"
#include <stdbool.h>

enum { CELL_LANES = 8, CELL_VARS = 5, CELL_SHELF = 64 };

/* Whitened color w[k] = sum over bands of row[k][b] R[b] + shift[k]; abs_row =
 * |row|. */
struct cell_rows {
    float row[3][SPECTRUM_BANDS], abs_row[3][SPECTRUM_BANDS], shift[3];
    float abs_xyz[3][SPECTRUM_BANDS]; /* |weights| of X, Y, Z */
    float whiten[3][3];               /* w = whiten * (XYZ - target XYZ) */
    float axis[3][3];                 /* directions of w, length 1, along which X, Y, Z alone
                                         change */
    float slack;                      /* relative rounding of a band's contribution in single
                                         precision, from above */
};

/* All paints that can be poured, by band. */
struct cell_shelf {
    float k[SPECTRUM_BANDS][CELL_SHELF], s[SPECTRUM_BANDS][CELL_SHELF],
        q[SPECTRUM_BANDS][CELL_SHELF];
    float mean[CELL_SHELF]; /* S averaged over bands */
};

/* Paints that the cells of a batch share: the base and all others but the last,
 * which each cell has of its own. K, S per part, by band. */
struct cell_set {
    int n;        /* variables: paints but the base; the last of them is the cell's own
                   */
    float poured; /* parts of all paints */
    float batch_k[SPECTRUM_BANDS], batch_s[SPECTRUM_BANDS]; /* of the whole batch */
    float base_k[SPECTRUM_BANDS], base_s[SPECTRUM_BANDS];
    float k[SPECTRUM_BANDS][CELL_VARS], s[SPECTRUM_BANDS][CELL_VARS];
    /* K = k0 + sum dk p, S = s0 + sum ds p: a part more of a paint is a part less
     * of the base */
    float k0[SPECTRUM_BANDS], s0[SPECTRUM_BANDS];
    float dk[SPECTRUM_BANDS][CELL_VARS], ds[SPECTRUM_BANDS][CELL_VARS];
    float q_min[SPECTRUM_BANDS], q_max[SPECTRUM_BANDS]; /* K/S of these paints and the batch */
    float base_mean, mean0, mean[CELL_VARS];            /* S averaged over bands; mean[i] >= 0 */
};

struct cell_batch {
    /* ranges of parts of all paints but the base; narrowed to what can still hold
     * a recipe with |w| <= radius (rounded outward by the caller, see CELL_ROUND)
     */
    float lo[CELL_VARS][CELL_LANES], hi[CELL_VARS][CELL_LANES];
    int last[CELL_LANES]; /* place on the shelf of each cell's last paint */
    float radius[CELL_LANES];
    float room[CELL_LANES];              /* out: below 0, no recipe of the cell has |w| <=
                                            radius */
    float effect[CELL_VARS][CELL_LANES]; /* out: how far each paint's range
                                            carries the color */
};

#define CELL_ROUND 1e-3f /* parts; far above single precision's error at 512 parts */

struct point_batch {
    float parts[CELL_VARS][CELL_LANES];
    int last[CELL_LANES];
    float norm[CELL_LANES]; /* |w| */
};

struct cell_kernel {
    void (*bound)(const struct cell_shelf *shelf, const struct cell_set *set,
                  const struct cell_rows *rows, struct cell_batch *io);
    void (*points)(const struct cell_shelf *shelf, const struct cell_set *set,
                   const struct cell_rows *rows, struct point_batch *io);
    const char *name;
};

/* The fastest this machine runs; plain: the one that runs everywhere. Same
 * results bit by bit. */
const struct cell_kernel *cell_kernel(bool plain);

#endif
