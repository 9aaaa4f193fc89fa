/* Body of the kernels in cell.h; included once per instruction set. CELL_FN carries the attribute.
 */
#include "core/recipe/cell.h"
#include "core/recipe/lanes.h"

struct box_lanes {
    lanes mid[CELL_VARS], half[CELL_VARS];
};

/* What the bands add up to: with x_i = (p_i - mid_i) / mean(p), w = middle +
 * sum slope[i] x_i, and each band's reflectance off by +- bend. */
struct sum_lanes {
    lanes middle[3], slope[CELL_VARS][3], bend[SPECTRUM_BANDS];
};

LANES_FN lanes dot(int n, const lanes *a, const lanes *b, lanes start) {
    LANES_UNROLL for (int i = 0; i < n; i++) start = ln_add(start, ln_mul(a[i], b[i]));
    return start;
}

/* One band of the paints: K and S per part, less the base's. */
struct band_lanes {
    lanes k0, s0, dk[CELL_VARS], ds[CELL_VARS], q_min, q_max;
};

LANES_FN void load_band(const struct cell_paints *paints, int b, int n, struct band_lanes *out) {
    out->k0 = ln_load(paints->band[b].k0);
    out->s0 = ln_load(paints->band[b].s0);
    out->q_min = ln_load(paints->band[b].q_min);
    out->q_max = ln_load(paints->band[b].q_max);
    LANES_UNROLL for (int i = 0; i < n; i++) {
        out->dk[i] = ln_load(paints->band[b].dk[i]);
        out->ds[i] = ln_load(paints->band[b].ds[i]);
    }
}

/* Range of K/S over the box. From the middle's q, F = sum half |dK - q dS| is
 * the most that K - q S can exceed 0, attained at a corner with S = s +- e; the
 * second look corrects for what the signs at the new q would have been: max q
 * <= q1 + (max of K - q1 S) / least S. A box that reaches beyond what the base
 * can give may have no least S: then only the paints' own range holds. */
LANES_FN void quotient_range(const struct band_lanes *band, int n, const struct box_lanes *box,
                             lanes k, lanes s, lanes q, lanes s_inv, lanes *out_lo, lanes *out_hi) {
    lanes f = ln_set(0), e = ln_set(0), swing = ln_set(0), zero = ln_set(0);
    LANES_UNROLL for (int i = 0; i < n; i++) {
        lanes t = ln_sub(band->dk[i], ln_mul(q, band->ds[i]));
        lanes hs = ln_mul(box->half[i], band->ds[i]);
        f = ln_add(f, ln_mul(ln_abs(t), box->half[i]));
        e = ln_add(e, ln_turn(hs, t));
        swing = ln_add(swing, ln_abs(hs));
    }
    /* in units of s: e and swing below 1 */
    lanes one = ln_set(1), tiny = ln_set(1e-4f), er = ln_mul(e, s_inv), fr = ln_mul(f, s_inv);
    lanes least = ln_sub(one, ln_mul(swing, s_inv)), open = ln_sub(least, tiny);
    least = ln_max(least, tiny);
    lanes plus = ln_max(ln_add(one, er), tiny), minus = ln_max(ln_sub(one, er), tiny);
    lanes pm = ln_mul(plus, minus), inv = ln_div(one, ln_mul(pm, least));
    lanes inv_pm = ln_mul(inv, least);
    lanes up = ln_add(q, ln_mul(fr, ln_mul(inv_pm, minus)));
    lanes down = ln_sub(q, ln_mul(fr, ln_mul(inv_pm, plus)));
    lanes more = ln_sub(k, ln_mul(up, s)), less = ln_sub(ln_mul(down, s), k);
    LANES_UNROLL for (int i = 0; i < n; i++) {
        more = ln_add(more,
                      ln_mul(box->half[i], ln_abs(ln_sub(band->dk[i], ln_mul(up, band->ds[i])))));
        less = ln_add(less,
                      ln_mul(box->half[i], ln_abs(ln_sub(band->dk[i], ln_mul(down, band->ds[i])))));
    }
    lanes inv_least = ln_mul(ln_mul(inv, pm), s_inv);
    up = ln_add(up, ln_mul(ln_max(more, zero), inv_least));
    down = ln_sub(down, ln_mul(ln_max(less, zero), inv_least));
    up = ln_less(open, zero, band->q_max, up);
    down = ln_less(open, zero, band->q_min, down);
    *out_hi = ln_max(ln_min(up, band->q_max), band->q_min);
    *out_lo = ln_min(ln_max(down, band->q_min), *out_hi);
}

/* R = 1 / (1 + q + sqrt(q (q + 2))) at both ends, and their product. */
LANES_FN void reflect_range(lanes lo, lanes hi, lanes *r_hi, lanes *r_lo, lanes *product) {
    lanes one = ln_set(1), two = ln_set(2);
    lanes a = ln_add(ln_add(one, lo), ln_root(ln_mul(lo, ln_add(lo, two))));
    lanes b = ln_add(ln_add(one, hi), ln_root(ln_mul(hi, ln_add(hi, two))));
    *product = ln_div(one, ln_mul(a, b));
    *r_hi = ln_mul(*product, b);
    *r_lo = ln_mul(*product, a);
}

struct mean_lanes {
    lanes at_mid, inv_mid, inv_least, by[CELL_VARS]; /* S averaged over bands, over the box */
};

/* Reflectance over q = q_mid + e as level - a e +- bend. */
struct model_lanes {
    lanes level, a, bend;
};

/* Chord and tangent, or where the box is too wide for that (or R too near 1)
 * the range alone. */
LANES_FN struct model_lanes line_model(lanes lo, lanes hi, lanes q, lanes r_lo, lanes r_hi, lanes p,
                                       lanes off) {
    lanes zero = ln_set(0), one = ln_set(1), half = ln_set(.5f);
    lanes g = ln_root(p), sum_r = ln_add(r_lo, r_hi), width = ln_sub(r_hi, r_lo);
    lanes below_1 = ln_max(ln_sub(one, p), ln_set(1e-3f)), spread = ln_add(sum_r, ln_add(g, g));
    lanes inv = ln_div(one, ln_mul(below_1, spread)), inv_1 = ln_mul(inv, spread);
    lanes a = ln_mul(ln_add(p, p), inv_1), gap = ln_mul(ln_mul(width, width), inv);
    lanes touch = ln_mul(ln_mul(ln_add(g, g), ln_sub(one, g)), inv_1); /* 2 g / (1 + g) */
    lanes reach = ln_max(ln_sub(hi, q), ln_sub(q, lo)), flat = ln_mul(width, half);
    lanes bend = ln_add(ln_mul(gap, half), ln_mul(ln_mul(a, reach), off));
    lanes level = ln_sub(ln_add(touch, ln_mul(gap, half)), ln_mul(a, q));
    lanes use = ln_less(bend, flat, ln_less(p, ln_set(.998f), one, zero), zero);
    return (struct model_lanes){ln_less(zero, use, level, ln_mul(sum_r, half)), ln_mul(a, use),
                                ln_less(zero, use, bend, flat)};
}

/* Of each band, over the box: q = K/S in the middle and its range, d_inv = mean S / S in the
 * middle, and how far S / mean S can be from there, relative. */
struct range_lanes {
    lanes q, lo, hi, d_inv, off;
};

LANES_FN void band_range(const struct band_lanes *band, int n, const struct box_lanes *box,
                         const struct mean_lanes *mean, struct range_lanes *out) {
    lanes k = dot(n, box->mid, band->dk, band->k0);
    lanes s = ln_max(dot(n, box->mid, band->ds, band->s0), ln_set(1e-20f));
    lanes s_inv = ln_div(ln_set(1), s), d = ln_mul(s, mean->inv_mid), off = ln_set(0);
    out->q = ln_mul(k, s_inv);
    out->d_inv = ln_mul(mean->at_mid, s_inv);
    LANES_UNROLL for (int i = 0; i < n; i++) off =
        ln_add(off, ln_mul(box->half[i], ln_abs(ln_sub(band->ds[i], ln_mul(d, mean->by[i])))));
    out->off = ln_mul(off, ln_mul(mean->inv_least, out->d_inv));
    quotient_range(band, n, box, k, s, out->q, s_inv, &out->lo, &out->hi);
}

/* q - q_mid = e with e (1 + off) = sum nu_i x_i. */
LANES_FN void add_band(const struct cell_paints *paints, const struct range_lanes *range,
                       const struct cell_rows *rows, int b, int n, struct sum_lanes *sum) {
    lanes r_hi, r_lo, p, row[3];
    reflect_range(range->lo, range->hi, &r_hi, &r_lo, &p);
    struct model_lanes m = line_model(range->lo, range->hi, range->q, r_lo, r_hi, p, range->off);
    sum->bend[b] = ln_add(m.bend, ln_mul(r_hi, ln_set(rows->slack)));
    lanes factor = ln_mul(m.a, range->d_inv);
    LANES_UNROLL for (int j = 0; j < 3; j++) {
        row[j] = ln_set(rows->row[j][b]);
        sum->middle[j] = ln_add(sum->middle[j], ln_mul(row[j], m.level));
    }
    LANES_UNROLL for (int i = 0; i < n; i++) {
        lanes dk = ln_load(paints->band[b].dk[i]), ds = ln_load(paints->band[b].ds[i]);
        lanes t = ln_mul(factor, ln_sub(ln_mul(range->q, ds), dk));
        LANES_UNROLL for (int j = 0; j < 3; j++) sum->slope[i][j] =
            ln_add(sum->slope[i][j], ln_mul(row[j], t));
    }
}

LANES_FN lanes dot3(const lanes *a, const lanes *b) {
    return ln_add(ln_add(ln_mul(a[0], b[0]), ln_mul(a[1], b[1])), ln_mul(a[2], b[2]));
}

/* Scales d to length 1. */
LANES_FN void unit3(lanes *d) {
    lanes inv = ln_div(ln_set(1), ln_add(ln_root(dot3(d, d)), ln_set(1e-18f)));
    LANES_UNROLL for (int j = 0; j < 3; j++) d[j] = ln_mul(d[j], inv);
}

LANES_FN void cross3(const lanes *a, const lanes *b, lanes *out) {
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
LANES_FN void cut(int n, const struct box_lanes *box, const struct mean_lanes *mean, const lanes *t,
                  lanes beta, struct left_lanes *left) {
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
LANES_FN lanes rest_along(const struct cell_rows *rows, const struct sum_lanes *sum,
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
LANES_FN void cut_along(int n, const struct cell_rows *rows, const struct box_lanes *box,
                        const struct sum_lanes *sum, const struct mean_lanes *mean, const lanes *d,
                        lanes radius, bool both, struct left_lanes *left) {
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
LANES_FN void nearest(int n, const struct box_lanes *box, const struct sum_lanes *sum,
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
LANES_FN void narrow(int n, const struct cell_rows *rows, const struct box_lanes *box,
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

LANES_FN void bound_n(const struct cell_rows *rows, struct cell_batch *io, int n) {
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
LANES_FN void points_n(const struct cell_shelf *shelf, const struct cell_set *set, float poured,
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
    switch (n) {
    case 1: bound_n(rows, io, 1); break;
    case 2: bound_n(rows, io, 2); break;
    case 3: bound_n(rows, io, 3); break;
    case 4: bound_n(rows, io, 4); break;
    default: bound_n(rows, io, 5); break;
    }
}

CELL_FN static void points(const struct cell_shelf *shelf, const struct cell_set *set, float poured,
                           const struct cell_rows *rows, struct point_batch *io) {
    switch (set->n) {
    case 1: points_n(shelf, set, poured, rows, io, 1); break;
    case 2: points_n(shelf, set, poured, rows, io, 2); break;
    case 3: points_n(shelf, set, poured, rows, io, 3); break;
    case 4: points_n(shelf, set, poured, rows, io, 4); break;
    default: points_n(shelf, set, poured, rows, io, 5); break;
    }
}
