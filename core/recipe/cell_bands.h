/* Each band over a box of parts: the range of its K/S, reflectance between two lines in it, and
 * what the bands add up to. Part of the kernels in cell.h, by way of cell_body.h. */
#ifndef CORE_RECIPE_CELL_BANDS_H
#define CORE_RECIPE_CELL_BANDS_H

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

LANES_PART lanes dot(int n, const lanes *a, const lanes *b, lanes start) {
    LANES_UNROLL for (int i = 0; i < n; i++) start = ln_add(start, ln_mul(a[i], b[i]));
    return start;
}

/* One band of the paints: K and S per part, less the base's. */
struct band_lanes {
    lanes k0, s0, dk[CELL_VARS], ds[CELL_VARS], q_min, q_max;
};

LANES_PART void load_band(const struct cell_paints *paints, int b, int n, struct band_lanes *out) {
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
LANES_PART void quotient_range(const struct band_lanes *band, int n, const struct box_lanes *box,
                               lanes k, lanes s, lanes q, lanes s_inv, lanes *out_lo,
                               lanes *out_hi) {
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
LANES_PART void reflect_range(lanes lo, lanes hi, lanes *r_hi, lanes *r_lo, lanes *product) {
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
LANES_PART struct model_lanes line_model(lanes lo, lanes hi, lanes q, lanes r_lo, lanes r_hi,
                                         lanes p, lanes off) {
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

LANES_PART void band_range(const struct band_lanes *band, int n, const struct box_lanes *box,
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
LANES_PART void add_band(const struct cell_paints *paints, const struct range_lanes *range,
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

#endif
