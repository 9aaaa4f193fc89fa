/* Body of the kernels in cell.h; included once per instruction set. CELL_FN carries the attribute.
 */
#include "core/recipe/cell_cut.h"

LANES_PART void bound_n(const struct cell_rows *rows, struct cell_batch *io, int n) {
    struct box_lanes box;
    struct sum_lanes sum;
    struct mean_lanes mean;
    struct left_lanes left = {.empty = ln_set(1)};
    struct range_lanes range[SPECTRUM_BANDS];
    lanes half = ln_set(.5f), zero = ln_set(0), swing = zero;
    LANES_UNROLL for (int i = 0; i < n; i++) {
        lanes lo = ln_load(io->lo[i]), hi = ln_load(io->hi[i]);
        box.mid[i] = ln_mul(ln_add(lo, hi), half);
        left.high[i] = box.half[i] = ln_mul(ln_sub(hi, lo), half);
        left.low[i] = ln_sub(zero, box.half[i]);
        mean.by[i] = ln_load(io->paints.mean[i]);
        swing = ln_add(swing, ln_mul(box.half[i], ln_abs(mean.by[i])));
        LANES_UNROLL for (int j = 0; j < 3; j++) sum.slope[i][j] = zero;
    }
    LANES_UNROLL for (int j = 0; j < 3; j++) {
        sum.middle[j] = ln_set(rows->shift[j]);
    }
    mean.at_mid = dot(n, box.mid, mean.by, ln_load(io->paints.mean0));
    mean.inv_mid = ln_div(ln_set(1), mean.at_mid);
    mean.inv_least =
        ln_div(ln_set(1), ln_max(ln_sub(mean.at_mid, swing), ln_mul(mean.at_mid, ln_set(1e-4f))));
    /* In two loops: each is a chain of divisions and roots, and the shorter it is, the more bands
     * the processor works on at once. */
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        struct band_lanes band;
        load_band(&io->paints, b, n, &band);
        band_range(&band, n, &box, &mean, &range[b]);
    }
    for (int b = 0; b < SPECTRUM_BANDS; b++) add_band(&io->paints, &range[b], rows, b, n, &sum);
    narrow(n, rows, &box, &sum, &mean, ln_load(io->radius), io->effect, &left);
    ln_store(io->room, left.empty);
    LANES_UNROLL for (int i = 0; i < n; i++) {
        ln_store(io->lo[i], ln_add(box.mid[i], left.low[i]));
        ln_store(io->hi[i], ln_add(box.mid[i], left.high[i]));
    }
}

/* K and S are summed from all paints, not from the base on, so that nothing cancels. */
LANES_PART void points_n(const struct cell_shelf *shelf, const struct cell_set *set, float poured,
                         const struct cell_rows *rows, struct point_batch *io, int n) {
    lanes p[CELL_VARS + 1], w[3];
    p[0] = ln_set(poured);
    LANES_UNROLL for (int i = 0; i < n; i++) {
        p[i + 1] = ln_load(io->parts[i]);
        p[0] = ln_sub(p[0], p[i + 1]);
    }
    LANES_UNROLL for (int j = 0; j < 3; j++) w[j] = ln_set(rows->shift[j]);
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        lanes k = ln_set(shelf->batch_k[b]), s = ln_set(shelf->batch_s[b]);
        LANES_UNROLL for (int i = 0; i <= n; i++) {
            k = ln_add(k, ln_mul(p[i], ln_set(shelf->k[set->place[i]][b])));
            s = ln_add(s, ln_mul(p[i], ln_set(shelf->s[set->place[i]][b])));
        }
        lanes root = ln_root(ln_mul(k, ln_add(k, ln_add(s, s))));
        lanes r = ln_div(s, ln_add(ln_add(s, k), root));
        LANES_UNROLL for (int j = 0; j < 3; j++) w[j] =
            ln_add(w[j], ln_mul(ln_set(rows->row[j][b]), r));
    }
    ln_store(io->norm, ln_root(dot3(w, w)));
}

/* Constant n lets the compiler keep everything in registers. */
CELL_FN static void bound(const struct cell_rows *rows, struct cell_batch *io, int n) {
    switch (LANES_ANY_N ? 0 : n) {
    case 1: bound_n(rows, io, 1); break;
    case 2: bound_n(rows, io, 2); break;
    case 3: bound_n(rows, io, 3); break;
    case 4: bound_n(rows, io, 4); break;
    default: bound_n(rows, io, LANES_ANY_N ? n : 5); break;
    }
}

CELL_FN static void points(const struct cell_shelf *shelf, const struct cell_set *set, float poured,
                           const struct cell_rows *rows, struct point_batch *io) {
    switch (LANES_ANY_N ? 0 : set->n) {
    case 1: points_n(shelf, set, poured, rows, io, 1); break;
    case 2: points_n(shelf, set, poured, rows, io, 2); break;
    case 3: points_n(shelf, set, poured, rows, io, 3); break;
    case 4: points_n(shelf, set, poured, rows, io, 4); break;
    default: points_n(shelf, set, poured, rows, io, LANES_ANY_N ? set->n : 5); break;
    }
}
