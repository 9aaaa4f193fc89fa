#include "core/recipe/terms.h"

#include <math.h>

static const double DEG = 3.14159265358979323846 / 180, P25_7 = 6103515625.;

static struct interval norm_of(struct interval a, struct interval b) {
    return iv_root(iv_add(iv_square(a), iv_square(b)));
}

double terms_chroma_7(double c) {
    double c2 = c * c, c7 = c2 * c2 * c2 * c;
    return sqrt(c7 / (c7 + P25_7));
}

/* Interval of hue angles in degrees seen from the neutral axis, about its
 * middle in 0..360; half width 180 where the box holds the axis. */
static void hue_of(struct interval a, struct interval b, double *mid, double *half) {
    double am = iv_mid(a), bm = iv_mid(b), c = hypot(am, bm), r = hypot(iv_rad(a), iv_rad(b));
    *mid = c > 0 ? atan2(bm, am) / DEG : 0;
    if (*mid < 0) *mid += 360;
    *half = r < c ? asin(r / c) / DEG : 180;
}

static double t_of(double h) {
    return 1 - .17 * cos((h - 30) * DEG) + .24 * cos(2 * h * DEG) + .32 * cos((3 * h + 6) * DEG) -
           .2 * cos((4 * h - 63) * DEG);
}

/* 2 dTheta in degrees at the hue distance x from 275. */
static double turn_of(double x) {
    return 60 * exp(-(x / 25) * (x / 25));
}

static void hue_terms(struct terms *t, double b1) {
    double h1, w1, h2, w2, mid, half = 180;
    struct interval bb = iv(b1, b1);
    hue_of(t->a1, bb, &h1, &w1);
    hue_of(t->a2, t->b2, &h2, &w2);
    double dh = h2 - h1;
    if (dh > 180) dh -= 360;
    if (dh < -180) dh += 360;
    mid = h1 + dh / 2;
    if (fabs(dh) + w1 + w2 < 180 && w1 < 180 && w2 < 180) half = (w1 + w2) / 2;
    t->hue_known = half < 180;
    /* |dT/dh| <= .17 + .48 + .96 + .8 per radian; T itself lies within .2..1.94
     */
    double lip = 2.41 * half * DEG, tm = t_of(mid);
    struct interval tt =
        half < 180 ? iv(iv_max(tm - lip, .07), iv_min(tm + lip, 1.93)) : iv(.07, 1.93);
    struct interval cm = iv_scale(iv_add(t->c1, t->c2), .5);
    t->sc = iv(1 + .045 * cm.lo, 1 + .045 * cm.hi);
    t->sh = iv(1 + .015 * cm.lo * tt.lo, 1 + .015 * cm.hi * tt.hi);
    double x = fabs(mid - 275), near, far;
    if (x > 180) x = 360 - x;
    near = iv_max(x - half, 0);
    far = x + half;
    /* beyond a quarter turn the standard's own wrap at 360 matters, so nothing is
     * left at least */
    double most = sin(turn_of(near) * DEG), least = far > 85 ? 0 : sin(turn_of(far) * DEG);
    if (near > 80) most = iv_max(most, 1e-4);
    t->rt = iv(-2 * terms_chroma_7(cm.hi) * most, -2 * terms_chroma_7(cm.lo) * least);
}

void terms_of(const struct lab *t, struct lab lo, struct lab hi, struct terms *out) {
    struct interval a = iv(lo.a, hi.a), b = iv(lo.b, hi.b), l = iv(lo.l, hi.l);
    double c1 = hypot(t->a, t->b);
    struct interval cab = iv_scale(iv_shift(norm_of(a, b), c1), .5);
    out->g1 = iv(1.5 - .5 * terms_chroma_7(cab.hi), 1.5 - .5 * terms_chroma_7(cab.lo));
    out->a1 = iv_scale(out->g1, t->a);
    out->a2 = iv_mul(out->g1, a);
    out->b2 = b;
    out->c1 = norm_of(out->a1, iv(t->b, t->b));
    out->c2 = norm_of(out->a2, b);
    out->dl = iv_shift(l, -t->l);
    out->da = iv_shift(a, -t->a);
    out->db = iv_shift(b, -t->b);
    struct interval x = iv_square(iv_shift(iv_scale(iv_shift(l, t->l), .5), -50));
    out->sl = iv(1 + .015 * x.lo / sqrt(20 + x.lo), 1 + .015 * x.hi / sqrt(20 + x.hi));
    out->dot =
        iv_add(iv_mul(out->c1, out->c2), iv_add(iv_mul(out->a1, out->a2), iv_scale(out->b2, t->b)));
    hue_terms(out, t->b);
}

/* y^2 + z^2 + rt y z at least */
static double form_low(struct interval y, struct interval z, struct interval rt) {
    double yz = iv_square(y).lo + iv_square(z).lo, most = iv_most_abs(rt);
    double split = yz + iv_mul(rt, iv_mul(y, z)).lo, joint = yz * (1 - most / 2);
    return iv_max(iv_max(split, joint), 0);
}

double terms_difference_low(const struct lab *t, struct lab lo, struct lab hi) {
    struct terms m;
    terms_of(t, lo, hi, &m);
    struct interval x = iv_div(m.dl, m.sl);
    struct interval da = iv_mul(m.g1, m.da), dc = iv_sub(m.c2, m.c1);
    double s = iv_max(m.sc.hi, m.sh.hi), most = iv_most_abs(m.rt), rest;
    /* chroma and hue difference together are the distance in a'b */
    rest = (iv_square(da).lo + iv_square(m.db).lo) / (s * s) * iv_max(1 - most / 2, 0);
    if (m.hue_known && m.dot.lo > 0 && m.c1.lo > 0) {
        struct interval cross = iv_sub(iv_mul(m.a1, m.db), iv_scale(da, t->b));
        struct interval dh = iv_div(iv_scale(cross, sqrt(2.)), iv_root(m.dot));
        rest = iv_max(rest, form_low(iv_div(dc, m.sc), iv_div(dh, m.sh), m.rt));
    } else {
        rest = iv_max(rest, iv_square(iv_div(dc, m.sc)).lo * iv_max(1 - most * most / 4, 0));
    }
    return sqrt(iv_square(x).lo + rest) * (1 - 1e-9) - 1e-9;
}
