#include "core/recipe/region.h"
#include "core/recipe/interval.h"
#include <stdbool.h>
#include <string.h>

static const double DEG = 3.14159265358979323846 / 180, P25_7 = 6103515625.;

/* Everything of the CIEDE2000 formula that varies with the sample, over a box
 * of samples. */
struct terms {
    struct interval da, db, dl;     /* sample - target, Lab */
    struct interval g1;             /* 1 + G */
    struct interval a1, a2, b2;     /* a' of target and sample; b */
    struct interval c1, c2;         /* C' */
    struct interval sl, sc, sh, rt; /* weights */
    bool hue_known;                 /* false: hue of the box not told apart */
    struct interval dot;            /* C1 C2 (1 + cos of the hue difference) */
};

static struct interval norm_of(struct interval a, struct interval b) {
    return iv_root(iv_add(iv_square(a), iv_square(b)));
}

static double chroma_7(double c) {
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
    struct interval tt = half < 180 ? iv(fmax(tm - lip, .07), fmin(tm + lip, 1.93)) : iv(.07, 1.93);
    struct interval cm = iv_scale(iv_add(t->c1, t->c2), .5);
    t->sc = iv(1 + .045 * cm.lo, 1 + .045 * cm.hi);
    t->sh = iv(1 + .015 * cm.lo * tt.lo, 1 + .015 * cm.hi * tt.hi);
    double x = fabs(mid - 275), near, far;
    if (x > 180) x = 360 - x;
    near = fmax(x - half, 0);
    far = x + half;
    /* beyond a quarter turn the standard's own wrap at 360 matters, so nothing is
     * left at least */
    double most = sin(turn_of(near) * DEG), least = far > 85 ? 0 : sin(turn_of(far) * DEG);
    if (near > 80) most = fmax(most, 1e-4);
    t->rt = iv(-2 * chroma_7(cm.hi) * most, -2 * chroma_7(cm.lo) * least);
}

static void terms_of(const struct lab *t, struct lab lo, struct lab hi, struct terms *out) {
    struct interval a = iv(lo.a, hi.a), b = iv(lo.b, hi.b), l = iv(lo.l, hi.l);
    double c1 = hypot(t->a, t->b);
    struct interval cab = iv_scale(iv_shift(norm_of(a, b), c1), .5);
    out->g1 = iv(1.5 - .5 * chroma_7(cab.hi), 1.5 - .5 * chroma_7(cab.lo));
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
    return fmax(fmax(split, joint), 0);
}

double region_difference_low(const struct region *r, struct lab low, struct lab high) {
    const struct lab *t = &r->target;
    struct terms m;
    terms_of(t, low, high, &m);
    struct interval x = iv_div(m.dl, m.sl);
    struct interval da = iv_mul(m.g1, m.da), dc = iv_sub(m.c2, m.c1);
    double s = fmax(m.sc.hi, m.sh.hi), most = iv_most_abs(m.rt), rest;
    /* chroma and hue difference together are the distance in a'b */
    rest = (iv_square(da).lo + iv_square(m.db).lo) / (s * s) * fmax(1 - most / 2, 0);
    if (m.hue_known && m.dot.lo > 0 && m.c1.lo > 0) {
        struct interval cross = iv_sub(iv_mul(m.a1, m.db), iv_scale(da, t->b));
        struct interval dh = iv_div(iv_scale(cross, sqrt(2.)), iv_root(m.dot));
        rest = fmax(rest, form_low(iv_div(dc, m.sc), iv_div(dh, m.sh), m.rt));
    } else {
        rest = fmax(rest, iv_square(iv_div(dc, m.sc)).lo * fmax(1 - most * most / 4, 0));
    }
    return sqrt(iv_square(x).lo + rest) * (1 - 1e-9) - 1e-9;
}

/* ---- the form's matrix over a box ---- */

static double lab_f(double t) {
    return t > 216. / 24389 ? cbrt(t) : (24389. / 27 * t + 16) / 116;
}

static double lab_f_back(double f) {
    return f > 6. / 29 ? f * f * f : (116 * f - 16) * 27 / 24389;
}

/* (f(t) - f(t0)) / (t - t0) for t in lo..hi. f is concave and the slope of its
 * chord falls with t, so the ends give the range; at t0 itself it is the
 * derivative. */
static double chord_of(double t, double t0) {
    if (fabs(t - t0) > 1e-6 * (t0 + 1e-3)) return (lab_f(t) - lab_f(t0)) / (t - t0);
    double m = (t + t0) / 2;
    return m > 216. / 24389 ? 1 / (3 * cbrt(m * m)) : 24389. / 27 / 116;
}

static struct interval chord_range(struct interval t, double t0) {
    return iv(chord_of(t.hi, t0) * (1 - 1e-8), chord_of(t.lo, t0) * (1 + 1e-8));
}

struct box {
    struct lab lo, hi;
};

/* XYZ / white over a box of Lab, kept within what mixes can be. */
static void white_xyz(const struct box *b, struct interval out[3]) {
    struct interval fy = iv((b->lo.l + 16) / 116, (b->hi.l + 16) / 116);
    struct interval fx = iv(fy.lo + b->lo.a / 500, fy.hi + b->hi.a / 500);
    struct interval fz = iv(fy.lo - b->hi.b / 200, fy.hi - b->lo.b / 200);
    struct interval f[3] = {fx, fy, fz};
    for (int i = 0; i < 3; i++)
        out[i] = iv(fmin(fmax(lab_f_back(f[i].lo), -.001), 1.001),
                    fmin(fmax(lab_f_back(f[i].hi), -.001), 1.001));
}

/* Chord of X (or Z) over that of Y. L moves both alike, so the quotient hardly
 * varies: with f = f_Y + shift and chord = 1 / g, g = f^2 + f f0 + f0^2, d
 * ln(g_Y / g_X) / d f_Y is the difference of two nearly equal terms. On the
 * straight part near black the plain quotient is taken. */
static struct interval chord_quotient(struct interval cx, struct interval cy, struct interval fx,
                                      struct interval fy, double fx0, double fy0,
                                      double shift_rad) {
    const double bend = 6. / 29;
    struct interval plain = iv_div(cx, cy);
    if (fx.lo < bend || fy.lo < bend || fx0 < bend || fy0 < bend) return plain;
    double x = iv_mid(fx), y = iv_mid(fy);
    double mid = (y * y + y * fy0 + fy0 * fy0) / (x * x + x * fx0 + fx0 * fx0);
    struct interval dx = iv_mul(iv_shift(iv_scale(fx, 2), fx0), cx);
    struct interval dy = iv_mul(iv_shift(iv_scale(fy, 2), fy0), cy);
    double turn = iv_rad(fy) * iv_most_abs(iv_sub(dy, dx)) + shift_rad * iv_most_abs(dx);
    return iv_meet(plain, iv(mid * exp(-turn) * (1 - 1e-8), mid * exp(turn) * (1 + 1e-8)));
}

/* dLab = *out_scale * rows * (XYZ - target XYZ), exactly for each color of the
 * box. */
static void lab_rows(const struct region *r, const struct box *b, struct interval out[3][3],
                     struct interval *out_scale) {
    const double w[3] = {r->white.x, r->white.y, r->white.z};
    const double t[3] = {r->target_xyz.x, r->target_xyz.y, r->target_xyz.z};
    const double shift_rad[3] = {(b->hi.a - b->lo.a) / 1000, 0, (b->hi.b - b->lo.b) / 400};
    struct interval xyz[3], c[3], f[3], q[3], zero = iv(0, 0);
    white_xyz(b, xyz);
    for (int i = 0; i < 3; i++) {
        c[i] = chord_range(xyz[i], t[i] / w[i]);
        f[i] = iv(lab_f(xyz[i].lo), lab_f(xyz[i].hi));
    }
    for (int i = 0; i < 3; i++)
        q[i] = iv_scale(i == 1 ? iv(1, 1)
                               : chord_quotient(c[i], c[1], f[i], f[1], lab_f(t[i] / w[i]),
                                                lab_f(t[1] / w[1]), shift_rad[i]),
                        1 / w[i]);
    struct interval rows[3][3] = {{zero, iv_scale(q[1], 116), zero},
                                  {iv_scale(q[0], 500), iv_scale(q[1], -500), zero},
                                  {zero, iv_scale(q[1], 200), iv_scale(q[2], -200)}};
    memcpy(out, rows, sizeof rows);
    *out_scale = c[1];
}

static void diagonal(struct interval d0, struct interval d1, struct interval d2,
                     struct interval out[3][3]) {
    for (int i = 0; i < 9; i++) out[i / 3][i % 3] = iv(0, 0);
    out[0][0] = d0;
    out[1][1] = d1;
    out[2][2] = d2;
}

/* Q with CIEDE2000^2 = dLab' Q dLab, exactly for each color of the box; false
 * where hue is not known. Chroma and hue differences together are the distance
 * in a'b, so y^2 + z^2 = (da'^2 + db^2) / SC^2 + (1/SH^2 - 1/SC^2) dH^2, dH =
 * sqrt(2) (a1 db - b1 da') / sqrt(C1 C2 (1 + cos dh)), dC = (da'(a1+a2) +
 * db(b1+b2)) / (C1+C2). */
static bool polar_form(const struct region *r, const struct terms *m, struct interval out[3][3]) {
    if (!m->hue_known || m->dot.lo <= 0 || m->c1.lo < 1e-4) return false;
    struct interval one = iv(1, 1), unit = iv(-1, 1), c = iv_add(m->c1, m->c2),
                    root = iv_root(m->dot);
    struct interval sc2 = iv_div(one, iv_square(m->sc)), sh2 = iv_div(one, iv_square(m->sh));
    struct interval turn = iv_scale(iv_div(m->rt, iv_mul(m->sc, m->sh)), .5),
                    extra = iv_sub(sh2, sc2);
    struct interval h[2] = {iv_div(iv_scale(m->g1, -sqrt(2.) * r->target.b), root),
                            iv_div(iv_scale(m->a1, sqrt(2.)), root)};
    struct interval k[2] = {iv_meet(iv_div(iv_add(m->a1, m->a2), c), unit),
                            iv_meet(iv_div(iv_shift(m->b2, r->target.b), c), unit)};
    k[0] = iv_mul(k[0], m->g1);
    diagonal(iv_div(one, iv_square(m->sl)), iv_mul(iv_square(m->g1), sc2), sc2, out);
    for (int i = 0; i < 2; i++)
        for (int j = 0; j < 2; j++) {
            struct interval hh = i == j ? iv_square(h[i]) : iv_mul(h[0], h[1]);
            struct interval kh = iv_add(iv_mul(k[i], h[j]), iv_mul(k[j], h[i]));
            struct interval more = iv_add(iv_mul(extra, hh), iv_mul(turn, kh));
            out[i + 1][j + 1] = iv_add(out[i + 1][j + 1], more);
        }
    return true;
}

/* A lower form that does not tell chroma from hue, good near the neutral axis.
 */
static void plain_form(const struct terms *m, struct interval out[3][3]) {
    double s = fmax(m->sc.hi, m->sh.hi), k = fmax(1 - iv_most_abs(m->rt) / 2, 0) / (s * s);
    diagonal(iv_div(iv(1, 1), iv_square(m->sl)), iv_scale(iv_square(m->g1), k), iv(k, k), out);
}

/* e'Qe: its middle, and its radii as an upper bound (row sums) on how far the
 * eigenvalues of any member are from the middle's. Source: Rohn 1998, bounds of
 * interval eigenvalues. */
static double form_under(struct interval q[3][3], struct interval e[3][3], double out[3][3]) {
    double most = 0;
    struct interval qe[3][3];
    for (int i = 0; i < 9; i++) {
        qe[i / 3][i % 3] = iv(0, 0);
        for (int k = 0; k < 3; k++)
            qe[i / 3][i % 3] = iv_add(qe[i / 3][i % 3], iv_mul(q[i / 3][k], e[k][i % 3]));
    }
    for (int i = 0; i < 3; i++) {
        double sum = 0;
        for (int j = 0; j < 3; j++) {
            struct interval v = iv(0, 0);
            for (int k = 0; k < 3; k++) v = iv_add(v, iv_mul(e[k][i], qe[k][j]));
            out[i][j] = iv_mid(v);
            sum += iv_rad(v);
        }
        most = fmax(most, sum);
    }
    out[0][1] = out[1][0] = (out[0][1] + out[1][0]) / 2;
    out[0][2] = out[2][0] = (out[0][2] + out[2][0]) / 2;
    out[1][2] = out[2][1] = (out[1][2] + out[2][1]) / 2;
    return most;
}

/* Least eigenvalue of a symmetric matrix. Source: Smith 1961, eigenvalues of a
 * symmetric 3 x 3. */
static double eigen_least(double m[3][3]) {
    double q = (m[0][0] + m[1][1] + m[2][2]) / 3, p2 = 0, b[3][3];
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            b[i][j] = m[i][j] - (i == j ? q : 0);
            p2 += b[i][j] * b[i][j];
        }
    double p = sqrt(p2 / 6);
    if (p <= 1e-300) return q;
    double det = b[0][0] * (b[1][1] * b[2][2] - b[1][2] * b[2][1]) -
                 b[0][1] * (b[1][0] * b[2][2] - b[1][2] * b[2][0]) +
                 b[0][2] * (b[1][0] * b[2][1] - b[1][1] * b[2][0]);
    double r = fmin(fmax(det / (2 * p * p * p), -1), 1);
    return q + 2 * p * cos(acos(r) / 3 + 120 * DEG);
}

/* Least of CIEDE2000^2 / |w|^2 over the box; 0 where nothing is known. */
static double ratio_low(const struct region *r, const struct box *b) {
    struct terms m;
    struct interval lab[3][3], e[3][3], q[3][3], scale;
    double form[3][3], best = 0, off;
    terms_of(&r->target, b->lo, b->hi, &m);
    lab_rows(r, b, lab, &scale);
    for (int i = 0; i < 9; i++) {
        e[i / 3][i % 3] = iv(0, 0);
        for (int k = 0; k < 3; k++)
            e[i / 3][i % 3] = iv_add(e[i / 3][i % 3], iv_scale(lab[i / 3][k], r->back[k][i % 3]));
    }
    for (int way = 0; way < 2; way++) {
        if (way)
            plain_form(&m, q);
        else if (!polar_form(r, &m, q))
            continue;
        off = form_under(q, e, form);
        best = fmax(best, eigen_least(form) - off);
    }
    return best * scale.lo * scale.lo;
}

/* Largest |w| in the box. */
static double norm_high(const struct region *r, const struct box *b) {
    const double w[3] = {r->white.x, r->white.y, r->white.z};
    const double t[3] = {r->target_xyz.x, r->target_xyz.y, r->target_xyz.z};
    struct interval xyz[3];
    double sum = 0;
    white_xyz(b, xyz);
    for (int i = 0; i < 3; i++) xyz[i] = iv_shift(iv_scale(xyz[i], w[i]), -t[i]);
    for (int i = 0; i < 3; i++) {
        struct interval v = iv(0, 0);
        for (int k = 0; k < 3; k++) v = iv_add(v, iv_scale(xyz[k], r->whiten[i][k]));
        sum += iv_square(v).hi;
    }
    return sqrt(sum);
}

static double box_radius(const struct region *r, const struct box *b, double limit) {
    double ratio = ratio_low(r, b), high = norm_high(r, b);
    return ratio > 1e-6 ? fmin(high, limit / sqrt(ratio)) : high;
}

struct entry {
    struct box box;
    double radius; /* no color of the box that counts is farther out */
};

enum { REGION_BOXES = 1024 }; /* kept at once, 60 kB of stack */

static void heap_push(struct entry *heap, int *n, const struct entry *e) {
    int at = (*n)++;
    for (; at && heap[(at - 1) / 2].radius < e->radius; at = (at - 1) / 2)
        heap[at] = heap[(at - 1) / 2];
    heap[at] = *e;
}

static struct entry heap_pop(struct entry *heap, int *n) {
    struct entry top = heap[0], last = heap[--*n];
    int at = 0;
    for (int child; (child = 2 * at + 1) < *n; at = child) {
        if (child + 1 < *n && heap[child + 1].radius > heap[child].radius) child++;
        if (heap[child].radius <= last.radius) break;
        heap[at] = heap[child];
    }
    heap[at] = last;
    return top;
}

/* Halves the box across its longest side as CIEDE2000 counts it, roughly. */
static void box_halves(const struct box *b, struct box out[2]) {
    double c = hypot((b->lo.a + b->hi.a) / 2, (b->lo.b + b->hi.b) / 2), s = 1 / (1 + .03 * c);
    double dl = b->hi.l - b->lo.l, da = (b->hi.a - b->lo.a) * s, db = (b->hi.b - b->lo.b) * s;
    out[0] = out[1] = *b;
    if (dl >= da && dl >= db)
        out[0].hi.l = out[1].lo.l = (b->lo.l + b->hi.l) / 2;
    else if (da >= db)
        out[0].hi.a = out[1].lo.a = (b->lo.a + b->hi.a) / 2;
    else
        out[0].hi.b = out[1].lo.b = (b->lo.b + b->hi.b) / 2;
}

/* A box of Lab that holds {CIEDE2000 <= limit}. In a'b' the distance is at most
 * limit * S / k, S = max(SC, SH) <= 1 + .045 C', k^2 = 1 - |RT| / 2 >= 1 - sin
 * 60; then slices are shaved off. */
static struct box hull_of(const struct region *r, double limit) {
    struct lab t = r->target;
    double c1 = 1.5 * hypot(t.a, t.b), k = sqrt(1 - sin(60 * DEG) * chroma_7(c1 + 100));
    double lead = 1 - .0225 * limit / k, reach = 250, dl = 1.75 * limit;
    if (lead > .05) reach = fmin(reach, limit * (1 + .045 * c1) / k / lead);
    struct box b = {{fmax(fmin(t.l - dl, 101), -1), t.a - reach, t.b - reach},
                    {fmin(fmax(t.l + dl, -1), 101), t.a + reach, t.b + reach}};
    for (int round = 0; round < 3; round++)
        for (int face = 0; face < 6; face++)
            for (double part = .5; part > .05; part /= 2) {
                struct box slab = b;
                double *lo = &slab.lo.l + face / 2, *hi = &slab.hi.l + face / 2, at;
                if (face % 2)
                    at = *lo = *hi - part * (*hi - *lo);
                else
                    at = *hi = *lo + part * (*hi - *lo);
                if (region_difference_low(r, slab.lo, slab.hi) <= limit) continue;
                *((face % 2 ? &b.hi.l : &b.lo.l) + face / 2) = at;
            }
    return b;
}

/* Best first: the box that allows the largest radius is cut until work or hope
 * ends. */
double region_radius(const struct region *r, double limit, int boxes_max) {
    struct entry heap[REGION_BOXES];
    int n = 0;
    struct entry e = {hull_of(r, limit), 0};
    e.radius = box_radius(r, &e.box, limit);
    heap_push(heap, &n, &e);
    for (int used = 0; used < boxes_max && n && n + 2 <= REGION_BOXES; used += 2) {
        struct box half[2];
        e = heap_pop(heap, &n);
        if (e.radius <= limit * 1.02) {
            heap_push(heap, &n, &e);
            break;
        }
        box_halves(&e.box, half);
        for (int i = 0; i < 2; i++) {
            if (region_difference_low(r, half[i].lo, half[i].hi) > limit) continue;
            struct entry h = {half[i], 0};
            h.radius = fmin(e.radius, box_radius(r, &half[i], limit));
            heap_push(heap, &n, &h);
        }
    }
    return n ? heap[0].radius * (1 + 1e-7) : 0;
}

static bool cholesky(double m[3][3], double out[3][3]) {
    memset(out, 0, sizeof(double[3][3]));
    for (int i = 0; i < 3; i++)
        for (int j = 0; j <= i; j++) {
            double s = m[i][j];
            for (int k = 0; k < j; k++) s -= out[i][k] * out[j][k];
            if (i == j && s <= 0) return false;
            out[i][j] = i == j ? sqrt(s) : s / out[j][j];
        }
    return true;
}

/* back = inverse of the upper triangular whiten */
static void invert_upper(double u[3][3], double out[3][3]) {
    memset(out, 0, sizeof(double[3][3]));
    for (int i = 2; i >= 0; i--) {
        out[i][i] = 1 / u[i][i];
        for (int j = i + 1; j < 3; j++) {
            double s = 0;
            for (int k = i + 1; k <= j; k++) s += u[i][k] * out[k][j];
            out[i][j] = -s / u[i][i];
        }
    }
}

void region_make(const struct lab *target, const struct xyz *white, struct region *out) {
    struct region r = {.target = *target, .white = *white};
    double fy = (target->l + 16) / 116, fx = fy + target->a / 500, fz = fy - target->b / 200;
    r.target_xyz = (struct xyz){white->x * lab_f_back(fx), white->y * lab_f_back(fy),
                                white->z * lab_f_back(fz)};
    struct box point = {*target, *target};
    struct terms m;
    struct interval lab[3][3], q[3][3], scale;
    double form[3][3], lower[3][3];
    terms_of(target, *target, *target, &m);
    lab_rows(&r, &point, lab, &scale);
    if (!polar_form(&r, &m, q)) plain_form(&m, q);
    form_under(q, lab, form);
    for (int i = 0; i < 9; i++) form[i / 3][i % 3] *= scale.lo * scale.lo;
    if (!cholesky(form, lower))
        memset(lower, 0, sizeof lower), lower[0][0] = lower[1][1] = lower[2][2] = 100;
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) r.whiten[i][j] = lower[j][i];
    invert_upper(r.whiten, r.back);
    *out = r;
}
