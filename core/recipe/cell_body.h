/* Body of the kernels in cell.h; included once per instruction set. CELL_FN carries the attribute.
 */
#include "core/recipe/cell.h"
#include "core/recipe/lanes.h"

struct box_lanes {
    lanes mid[CELL_VARS], half[CELL_VARS];
};

/* What the bands add up to: w = middle + sum_i slope[i] (p_i - mid_i) / mean(p) +- rest */
struct sum_lanes {
    lanes middle[3], rest[3], slope[CELL_VARS][3];
};

LANES_FN lanes reflect(lanes q) { /* 1 / (1 + q + sqrt(q (q + 2))) */
    lanes one = ln_set(1), two = ln_set(2);
    lanes root = ln_root(ln_mul(q, ln_add(q, two)));
    return ln_div(one, ln_add(ln_add(one, q), root));
}

LANES_FN lanes dot(const lanes *slope, const float *by, lanes start, int n) {
    for (int i = 0; i < n; i++) start = ln_add(start, ln_mul(slope[i], ln_set(by[i])));
    return start;
}

/* Range of K/S over the box. From the middle's q, F = sum half |dK - q dS| is the most that K - q S
 * can exceed 0, attained at a corner with S = s +- e; the second look corrects for what the signs
 * at the new q would have been: max q <= q1 + (max of K - q1 S) / least S. */
LANES_FN void quotient_range(const struct cell_set *set, int b, int n, const struct box_lanes *box,
                             lanes k, lanes s, lanes q, lanes *out_lo, lanes *out_hi) {
    lanes f = ln_set(0), e = ln_set(0), ds_abs = ln_set(0);
    for (int i = 0; i < n; i++) {
        lanes ds = ln_set(set->ds[b][i]);
        lanes t = ln_sub(ln_set(set->dk[b][i]), ln_mul(q, ds));
        f = ln_add(f, ln_mul(ln_abs(t), box->half[i]));
        lanes hs = ln_mul(box->half[i], ds);
        e = ln_add(e, ln_turn(hs, t));
        ds_abs = ln_add(ds_abs, ln_abs(hs));
    }
    lanes tiny = ln_mul(s, ln_set(1e-4f)), least = ln_max(ln_sub(s, ds_abs), tiny);
    lanes up = ln_add(q, ln_div(f, ln_max(ln_add(s, e), least)));
    lanes down = ln_sub(q, ln_div(f, ln_max(ln_sub(s, e), least)));
    lanes more = ln_sub(k, ln_mul(up, s)), less = ln_sub(ln_mul(down, s), k);
    for (int i = 0; i < n; i++) {
        lanes dk = ln_set(set->dk[b][i]), ds = ln_set(set->ds[b][i]);
        more = ln_add(more, ln_mul(box->half[i], ln_abs(ln_sub(dk, ln_mul(up, ds)))));
        less = ln_add(less, ln_mul(box->half[i], ln_abs(ln_sub(dk, ln_mul(down, ds)))));
    }
    lanes zero = ln_set(0), inv = ln_div(ln_set(1), least);
    up = ln_add(up, ln_mul(ln_max(more, zero), inv));
    down = ln_sub(down, ln_mul(ln_max(less, zero), inv));
    /* a box that reaches beyond what the base can give has no least S: only the set's range holds
     */
    lanes open = ln_sub(ln_sub(s, ds_abs), tiny);
    lanes q_min = ln_set(set->q_min[b]), q_max = ln_set(set->q_max[b]);
    up = ln_less(open, zero, q_max, up);
    down = ln_less(open, zero, q_min, down);
    *out_hi = ln_max(ln_min(up, q_max), q_min);
    *out_lo = ln_min(ln_max(down, q_min), *out_hi);
}

LANES_FN void add_band(const struct cell_set *set, const struct cell_rows *rows, int b, int n,
                       const struct box_lanes *box, lanes mean_mid, lanes mean_inv_least,
                       struct sum_lanes *sum) {
    lanes zero = ln_set(0), one = ln_set(1), half = ln_set(.5f);
    lanes k = dot(box->mid, set->dk[b], ln_set(set->k0[b]), n);
    lanes s = dot(box->mid, set->ds[b], ln_set(set->s0[b]), n);
    s = ln_max(s, ln_set(1e-20f));
    lanes s_inv = ln_div(one, s), q = ln_mul(k, s_inv), lo, hi;
    quotient_range(set, b, n, box, k, s, q, &lo, &hi);
    lanes r_hi = reflect(lo), r_lo = reflect(hi);

    /* D = S / mean S; how far D / D_mid can be from 1 over the box */
    lanes d_inv = ln_mul(mean_mid, s_inv), d = ln_mul(s, ln_div(one, mean_mid)), off = zero;
    for (int i = 0; i < n; i++)
        off = ln_add(off, ln_mul(box->half[i], ln_abs(ln_sub(ln_set(set->ds[b][i]),
                                                             ln_mul(d, ln_set(set->mean[i]))))));
    off = ln_mul(off, ln_mul(mean_inv_least, d_inv));

    lanes p = ln_mul(r_lo, r_hi), g = ln_root(p);
    lanes gap_inv = ln_div(one, ln_max(ln_sub(one, p), ln_set(1e-3f)));
    lanes a = ln_mul(ln_add(p, p), gap_inv), width = ln_sub(r_hi, r_lo);
    lanes gap =
        ln_div(ln_mul(ln_mul(width, width), gap_inv), ln_add(ln_add(r_hi, r_lo), ln_add(g, g)));
    lanes reach = ln_max(ln_sub(hi, q), ln_sub(q, lo));
    lanes bend = ln_add(ln_mul(gap, half), ln_mul(ln_mul(a, reach), off));
    lanes level =
        ln_sub(ln_add(ln_div(ln_add(g, g), ln_add(one, g)), ln_mul(gap, half)), ln_mul(a, q));
    /* lines do not hold where R nears 1, and do not pay where the box is wide: then the range alone
     */
    lanes flat = ln_mul(width, half), keep = ln_sub(ln_set(.998f), p);
    lanes use = ln_less(bend, flat, ln_less(zero, keep, one, zero), zero);
    a = ln_mul(a, use);
    bend = ln_less(zero, use, bend, flat);
    level = ln_less(zero, use, level, ln_mul(ln_add(r_lo, r_hi), half));
    bend = ln_add(bend, ln_mul(r_hi, ln_set(rows->slack)));

    lanes factor = ln_mul(a, ln_mul(s_inv, mean_mid));
    lanes row[3];
    for (int j = 0; j < 3; j++) {
        row[j] = ln_set(rows->row[j][b]);
        sum->middle[j] = ln_add(sum->middle[j], ln_mul(row[j], level));
        sum->rest[j] = ln_add(sum->rest[j], ln_mul(ln_set(rows->abs_row[j][b]), bend));
    }
    for (int i = 0; i < n; i++) {
        lanes t = ln_mul(factor, ln_sub(ln_mul(q, ln_set(set->ds[b][i])), ln_set(set->dk[b][i])));
        for (int j = 0; j < 3; j++) sum->slope[i][j] = ln_add(sum->slope[i][j], ln_mul(row[j], t));
    }
}

/* Least |w|: the nearest point of middle + sum of slopes within +-reach is approached by moving one
 * paint at a time; the direction found then separates, whatever its quality. */
LANES_FN lanes nearest(int n, const struct box_lanes *box, const struct sum_lanes *sum,
                       const float *mean, lanes mean_mid, lanes mean_least,
                       float (*effect)[CELL_LANES]) {
    lanes mean_inv_mid = ln_div(ln_set(1), mean_mid);
    lanes w[3], reach[CELL_VARS], inv[CELL_VARS], at[CELL_VARS], zero = ln_set(0);
    for (int j = 0; j < 3; j++) w[j] = sum->middle[j];
    for (int i = 0; i < n; i++) {
        const lanes *g = sum->slope[i];
        lanes norm2 = ln_add(ln_add(ln_mul(g[0], g[0]), ln_mul(g[1], g[1])), ln_mul(g[2], g[2]));
        reach[i] = ln_mul(box->half[i], mean_inv_mid);
        inv[i] = ln_div(ln_set(1), ln_add(norm2, ln_set(1e-20f)));
        at[i] = zero;
        ln_store(effect[i], ln_mul(ln_root(norm2), reach[i]));
    }
    for (int sweep = 0; sweep < 3; sweep++)
        for (int i = 0; i < n; i++) {
            const lanes *g = sum->slope[i];
            lanes gw = ln_add(ln_add(ln_mul(g[0], w[0]), ln_mul(g[1], w[1])), ln_mul(g[2], w[2]));
            lanes to = ln_sub(at[i], ln_mul(gw, inv[i]));
            to = ln_max(ln_min(to, reach[i]), ln_sub(zero, reach[i]));
            lanes step = ln_sub(to, at[i]);
            at[i] = to;
            for (int j = 0; j < 3; j++) w[j] = ln_add(w[j], ln_mul(g[j], step));
        }
    lanes norm2 = ln_add(ln_add(ln_mul(w[0], w[0]), ln_mul(w[1], w[1])), ln_mul(w[2], w[2]));
    lanes len_inv = ln_div(ln_set(1), ln_add(ln_root(norm2), ln_set(1e-12f)));
    lanes dist = zero, lost = zero;
    for (int j = 0; j < 3; j++) {
        w[j] = ln_mul(w[j], len_inv);
        dist = ln_add(dist, ln_mul(w[j], sum->middle[j]));
        lost = ln_add(lost, ln_mul(ln_abs(w[j]), sum->rest[j]));
    }
    /* least of sum t_i (p_i - mid_i) / mean(p): a corner, then corrected as in quotient_range */
    lanes f = zero, e = zero, t[CELL_VARS];
    for (int i = 0; i < n; i++) {
        const lanes *g = sum->slope[i];
        t[i] = ln_add(ln_add(ln_mul(g[0], w[0]), ln_mul(g[1], w[1])), ln_mul(g[2], w[2]));
        f = ln_add(f, ln_mul(ln_abs(t[i]), box->half[i]));
        e = ln_add(e, ln_turn(ln_mul(ln_set(mean[i]), box->half[i]), t[i]));
    }
    lanes most = ln_mul(f, ln_set(1 + 1e-5f)), low, over;
    low = ln_sub(zero, ln_div(most, ln_max(ln_sub(mean_mid, e), mean_least)));
    over = ln_mul(low, mean_mid); /* below 0: room left */
    for (int i = 0; i < n; i++)
        over =
            ln_add(over, ln_mul(box->half[i], ln_abs(ln_sub(t[i], ln_mul(low, ln_set(mean[i]))))));
    low = ln_sub(low, ln_div(ln_max(over, zero), mean_least));
    return ln_sub(ln_add(dist, low), ln_add(lost, ln_mul(f, ln_div(ln_set(1e-5f), mean_least))));
}

LANES_FN void bound_n(const struct cell_set *set, const struct cell_rows *rows,
                      struct cell_batch *io, int n) {
    struct box_lanes box;
    struct sum_lanes sum;
    lanes half = ln_set(.5f), zero = ln_set(0), swing = zero;
    for (int i = 0; i < n; i++) {
        lanes lo = ln_load(io->lo[i]), hi = ln_load(io->hi[i]);
        box.mid[i] = ln_mul(ln_add(lo, hi), half);
        box.half[i] = ln_mul(ln_sub(hi, lo), half);
        swing = ln_add(swing, ln_mul(box.half[i], ln_abs(ln_set(set->mean[i]))));
        for (int j = 0; j < 3; j++) sum.slope[i][j] = zero;
    }
    for (int j = 0; j < 3; j++) sum.middle[j] = ln_set(rows->shift[j]), sum.rest[j] = zero;
    lanes mean_mid = dot(box.mid, set->mean, ln_set(set->mean0), n);
    lanes least = ln_max(ln_sub(mean_mid, swing), ln_mul(mean_mid, ln_set(1e-4f)));
    lanes mean_inv_least = ln_div(ln_set(1), least);
    for (int b = 0; b < SPECTRUM_BANDS; b++)
        add_band(set, rows, b, n, &box, mean_mid, mean_inv_least, &sum);
    ln_store(io->near, nearest(n, &box, &sum, set->mean, mean_mid, least, io->effect));
}

LANES_FN void points_n(const struct cell_set *set, const struct cell_rows *rows,
                       struct point_batch *io, int n) {
    lanes p[CELL_VARS], w[3], base = ln_set(set->poured);
    for (int i = 0; i < n; i++) {
        p[i] = ln_load(io->parts[i]);
        base = ln_sub(base, p[i]);
    }
    for (int j = 0; j < 3; j++) w[j] = ln_set(rows->shift[j]);
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        /* summed from all paints, not from the base: nothing cancels */
        lanes k = dot(p, set->k[b],
                      ln_add(ln_set(set->batch_k[b]), ln_mul(base, ln_set(set->base_k[b]))), n);
        lanes s = dot(p, set->s[b],
                      ln_add(ln_set(set->batch_s[b]), ln_mul(base, ln_set(set->base_s[b]))), n);
        lanes root = ln_root(ln_mul(k, ln_add(k, ln_add(s, s))));
        lanes r = ln_div(s, ln_add(ln_add(s, k), root));
        for (int j = 0; j < 3; j++) w[j] = ln_add(w[j], ln_mul(ln_set(rows->row[j][b]), r));
    }
    lanes norm2 = ln_add(ln_add(ln_mul(w[0], w[0]), ln_mul(w[1], w[1])), ln_mul(w[2], w[2]));
    ln_store(io->norm, ln_root(norm2));
}

/* Constant n lets the compiler keep everything in registers. */
#define CELL_CASES(call)                                                                           \
    switch (set->n) {                                                                              \
    case 0: call(set, rows, io, 0); break;                                                         \
    case 1: call(set, rows, io, 1); break;                                                         \
    case 2: call(set, rows, io, 2); break;                                                         \
    case 3: call(set, rows, io, 3); break;                                                         \
    case 4: call(set, rows, io, 4); break;                                                         \
    default: call(set, rows, io, 5); break;                                                        \
    }

CELL_FN static void bound(const struct cell_set *set, const struct cell_rows *rows,
                          struct cell_batch *io){CELL_CASES(bound_n)}

CELL_FN static void points(const struct cell_set *set, const struct cell_rows *rows,
                           struct point_batch *io) {
    CELL_CASES(points_n)
}
