/* The search's inner loops: eight cells bounded, or eight recipes computed, at once.
 *
 * A cell is a box of whole parts lo <= p <= hi of the paints of one set but its base, whose parts
 * are what is left of the sum. Its color range is bounded in two ways per band, the narrower taken:
 * the exact range of q = K/S over the box, and reflectance held between two lines in q - R is
 * convex in q, so chord and parallel tangent hold it - with q itself linear in the paints' shares
 * of scattering up to a small rest. Summed over bands this gives the whitened color as a linear
 * function of the shares plus a rest, hence how near to the target the cell can come.
 *
 * For R_lo <= R_hi, P = R_lo R_hi, the chord in q has the slope -a, a = 2 P / (1 - P), the tangent
 * R = -a q + 2 sqrt(P) / (1 + sqrt(P)), and the gap is (R_hi - R_lo)^2 / ((R_hi + R_lo + 2 sqrt(P))
 * (1 - P)).
 *
 * Inside core/recipe only. */
#ifndef CORE_RECIPE_CELL_H
#define CORE_RECIPE_CELL_H

#include "core/color/spectrum.h"
#include <stdbool.h>

enum { CELL_LANES = 8, CELL_VARS = 5 };

/* Whitened color w[k] = sum over bands of row[k][b] R[b] + shift[k]; abs_row = |row|. */
struct cell_rows {
    float row[3][SPECTRUM_BANDS], abs_row[3][SPECTRUM_BANDS], shift[3];
    float slack; /* relative rounding of a band's contribution in single precision, from above */
};

/* One set of paints, the base first among them, by band; K, S per part. */
struct cell_set {
    int n;                                                  /* variables: paints but the base */
    float poured;                                           /* parts of all of them */
    float batch_k[SPECTRUM_BANDS], batch_s[SPECTRUM_BANDS]; /* of the whole batch */
    float base_k[SPECTRUM_BANDS], base_s[SPECTRUM_BANDS];
    float k[SPECTRUM_BANDS][CELL_VARS], s[SPECTRUM_BANDS][CELL_VARS];
    /* K = k0 + sum dk p, S = s0 + sum ds p: a part more of a paint is a part less of the base */
    float k0[SPECTRUM_BANDS], s0[SPECTRUM_BANDS];
    float dk[SPECTRUM_BANDS][CELL_VARS], ds[SPECTRUM_BANDS][CELL_VARS];
    float q_min[SPECTRUM_BANDS], q_max[SPECTRUM_BANDS]; /* K/S of no mix of the set lies outside */
    float mean0, mean[CELL_VARS];                       /* S averaged over bands, same form, >= 0 */
};

struct cell_batch {
    float lo[CELL_VARS][CELL_LANES], hi[CELL_VARS][CELL_LANES];
    float near[CELL_LANES];              /* no recipe of the cell has a smaller |w| */
    float effect[CELL_VARS][CELL_LANES]; /* how far each paint's range carries the color */
};

struct point_batch {
    float parts[CELL_VARS][CELL_LANES];
    float norm[CELL_LANES]; /* |w| */
};

struct cell_kernel {
    void (*bound)(const struct cell_set *set, const struct cell_rows *rows, struct cell_batch *io);
    void (*points)(const struct cell_set *set, const struct cell_rows *rows,
                   struct point_batch *io);
    const char *name;
};

/* The fastest this machine runs; plain: the one that runs everywhere. Same results bit by bit. */
const struct cell_kernel *cell_kernel(bool plain);

#endif
