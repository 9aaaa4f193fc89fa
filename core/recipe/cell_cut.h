/* What is left of a box of parts once the colors too far from the target are cut away. Part of the
 * kernels in cell.h, by way of cell_body.h. */
#ifndef CORE_RECIPE_CELL_CUT_H
#define CORE_RECIPE_CELL_CUT_H

#include "core/recipe/cell_bands.h"

LANES_PART lanes dot3(const lanes *a, const lanes *b) {
    return ln_add(ln_add(ln_mul(a[0], b[0]), ln_mul(a[1], b[1])), ln_mul(a[2], b[2]));
}

/* Scales d to length 1. */
LANES_PART void unit3(lanes *d) {
    lanes inv = ln_div(ln_set(1), ln_add(ln_root(dot3(d, d)), ln_set(1e-18f)));
    LANES_UNROLL for (int j = 0; j < 3; j++) d[j] = ln_mul(d[j], inv);
}

LANES_PART void cross3(const lanes *a, const lanes *b, lanes *out) {
    LANES_UNROLL for (int j = 0; j < 3; j++) {
        int k = (j + 1) % 3, l = (j + 2) % 3;
        out[j] = ln_sub(ln_mul(a[k], b[l]), ln_mul(a[l], b[k]));
    }
}

/* What is left of the cell: y = p - mid within low..high, and whether anything
 * is. */
struct left_lanes {
    lanes low[CELL_VARS], high[CELL_VARS], empty; /* empty: below 0 where nothing is left */
};

/* A recipe that counts has d.w <= radius, where d.w >= d.middle - lost + sum
 * t_i y_i / mean(p). Times mean(p) = mean_mid + sum mean_i y_i this is linear:
 * sum a_i y_i <= c. Each y_i is held by the others' ranges. */
LANES_PART void cut(int n, const struct box_lanes *box, const struct mean_lanes *mean,
                    const lanes *t, lanes beta, struct left_lanes *left) {
    lanes a[CELL_VARS], part[CELL_VARS], c = ln_mul(beta, mean->at_mid), room = c, size = ln_abs(c);
    LANES_UNROLL for (int i = 0; i < n; i++) {
        a[i] = ln_sub(t[i], ln_mul(beta, mean->by[i]));
        part[i] = ln_mul(ln_abs(a[i]), box->half[i]);
        room = ln_add(room, part[i]);
        size = ln_add(size, part[i]);
    }
    room = ln_add(room, ln_mul(size, ln_set(1e-5f))); /* rounding */
    left->empty = ln_min(left->empty, room);
    LANES_UNROLL for (int i = 0; i < n; i++) {
        lanes far = ln_set(1e6f), tiny = ln_set(1e-12f), zero = ln_set(0), span = ln_abs(a[i]);
        lanes y = ln_div(ln_sub(room, part[i]), ln_max(span, tiny)); /* |a| y <= room - part */
        y = ln_less(tiny, span, y, far);
        left->high[i] = ln_less(zero, a[i], ln_min(left->high[i], y), left->high[i]);
        left->low[i] = ln_less(a[i], zero, ln_max(left->low[i], ln_sub(zero, y)), left->low[i]);
    }
}

/* The uncertainty along d, band by band: what two axes have in common cancels. */
LANES_PART lanes rest_along(const struct cell_rows *rows, const struct sum_lanes *sum,
                            const lanes *d) {
    lanes rest = ln_set(0);
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        lanes by = ln_mul(d[0], ln_set(rows->row[0][b]));
        by = ln_add(by, ln_mul(d[1], ln_set(rows->row[1][b])));
        by = ln_add(by, ln_mul(d[2], ln_set(rows->row[2][b])));
        rest = ln_add(rest, ln_mul(ln_abs(by), sum->bend[b]));
    }
    return ln_mul(rest, ln_set(1 + 1e-5f));
}

/* Cuts along d (length 1) on one side or both. */
LANES_PART void cut_along(int n, const struct cell_rows *rows, const struct box_lanes *box,
                          const struct sum_lanes *sum, const struct mean_lanes *mean,
                          const lanes *d, lanes radius, bool both, struct left_lanes *left) {
    lanes t[CELL_VARS], level = dot3(d, sum->middle), zero = ln_set(0);
    lanes lost = ln_add(radius, rest_along(rows, sum, d));
    LANES_UNROLL for (int i = 0; i < n; i++) t[i] = dot3(d, sum->slope[i]);
    cut(n, box, mean, t, ln_sub(lost, level), left);
    if (!both) return;
    LANES_UNROLL for (int i = 0; i < n; i++) t[i] = ln_sub(zero, t[i]);
    cut(n, box, mean, t, ln_add(lost, level), left);
}

/* Direction of the point nearest to the target, found by moving one paint at a
 * time: the best to separate by, whatever its quality. */
LANES_PART void nearest(int n, const struct box_lanes *box, const struct sum_lanes *sum,
                        lanes mean_inv_mid, float (*effect)[CELL_LANES], lanes *w) {
    lanes reach[CELL_VARS], inv[CELL_VARS], at[CELL_VARS], zero = ln_set(0);
    LANES_UNROLL for (int j = 0; j < 3; j++) w[j] = sum->middle[j];
    LANES_UNROLL for (int i = 0; i < n; i++) {
        lanes norm2 = dot3(sum->slope[i], sum->slope[i]);
        reach[i] = ln_mul(box->half[i], mean_inv_mid);
        inv[i] = ln_div(ln_set(1), ln_add(norm2, ln_set(1e-20f)));
        at[i] = zero;
        ln_store(effect[i], ln_mul(ln_root(norm2), reach[i]));
    }
    LANES_UNROLL for (int sweep = 0; sweep < 3; sweep++) LANES_UNROLL for (int i = 0; i < n; i++) {
        const lanes *g = sum->slope[i];
        lanes to = ln_sub(at[i], ln_mul(dot3(g, w), inv[i]));
        to = ln_max(ln_min(to, reach[i]), ln_sub(zero, reach[i]));
        lanes step = ln_sub(to, at[i]);
        at[i] = to;
        LANES_UNROLL for (int j = 0; j < 3; j++) w[j] = ln_add(w[j], ln_mul(g[j], step));
    }
    unit3(w);
}

/* Cuts along the nearest direction, and across every two paints: what is left
 * then holds the others. With three paints but the base this is Newton's step
 * with a bound. */
LANES_PART void narrow(int n, const struct cell_rows *rows, const struct box_lanes *box,
                       const struct sum_lanes *sum, const struct mean_lanes *mean, lanes radius,
                       float (*effect)[CELL_LANES], struct left_lanes *left) {
    lanes d[3], column[CELL_VARS + 1][3];
    int columns = n;
    nearest(n, box, sum, mean->inv_mid, effect, d);
    cut_along(n, rows, box, sum, mean, d, radius, false, left);
    LANES_UNROLL for (int j = 0; j < 3; j++) { /* X, Y, Z alone: wide boxes fail there first */
        LANES_UNROLL for (int i = 0; i < 3; i++) d[i] = ln_set(rows->axis[j][i]);
        cut_along(n, rows, box, sum, mean, d, radius, true, left);
    }
    LANES_UNROLL for (int i = 0; i < n; i++) LANES_UNROLL for (int j = 0; j < 3; j++) column[i][j] =
        sum->slope[i][j];
    if (n == 1) {
        unit3(column[0]);
        cut_along(n, rows, box, sum, mean, column[0], radius, true, left);
    }
    if (n == 2) { /* their common normal stands in for a third paint */
        cross3(column[0], column[1], column[2]);
        unit3(column[2]);
        columns = 3;
    }
    LANES_UNROLL for (int i = 0; i < columns; i++)
        LANES_UNROLL for (int j = i + 1; j < columns; j++) {
        cross3(column[i], column[j], d);
        unit3(d);
        cut_along(n, rows, box, sum, mean, d, radius, true, left);
    }
}

#endif
