#include "core/recipe/region.h"
#include "core/base/linear.h"
#include "core/recipe/terms.h"
#include <stdbool.h>
#include <string.h>

static const double DEG = 3.14159265358979323846 / 180;

double region_difference_low(const struct region *r, struct lab low, struct lab high) {
    return terms_difference_low(&r->target, low, high);
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
        out[i] = iv(iv_min(iv_max(lab_f_back(f[i].lo), -.001), 1.001),
                    iv_min(iv_max(lab_f_back(f[i].hi), -.001), 1.001));
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
    double s = iv_max(m->sc.hi, m->sh.hi), k = iv_max(1 - iv_most_abs(m->rt) / 2, 0) / (s * s);
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
        most = iv_max(most, sum);
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
    double r = iv_min(iv_max(det / (2 * p * p * p), -1), 1);
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
        best = iv_max(best, eigen_least(form) - off);
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
    return ratio > 1e-6 ? iv_min(high, limit / sqrt(ratio)) : high;
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
    double c1 = 1.5 * hypot(t.a, t.b), k = sqrt(1 - sin(60 * DEG) * terms_chroma_7(c1 + 100));
    double lead = 1 - .0225 * limit / k, reach = 250, dl = 1.75 * limit;
    if (lead > .05) reach = iv_min(reach, limit * (1 + .045 * c1) / k / lead);
    struct box b = {{iv_max(iv_min(t.l - dl, 101), -1), t.a - reach, t.b - reach},
                    {iv_min(iv_max(t.l + dl, -1), 101), t.a + reach, t.b + reach}};
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
            h.radius = iv_min(e.radius, box_radius(r, &half[i], limit));
            heap_push(heap, &n, &h);
        }
    }
    return n ? heap[0].radius * (1 + 1e-7) : 0;
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
    double form[3][3], lower[9];
    terms_of(target, *target, *target, &m);
    lab_rows(&r, &point, lab, &scale);
    if (!polar_form(&r, &m, q)) plain_form(&m, q);
    form_under(q, lab, form);
    for (int i = 0; i < 9; i++) form[i / 3][i % 3] *= scale.lo * scale.lo;
    memcpy(lower, form, sizeof lower);
    bool whole = cholesky_factor(lower, 3);
    for (int i = 0; i < 3; i++) /* without a factor: any whitening is right, if loose */
        for (int j = i; j < 3; j++) r.whiten[i][j] = whole ? lower[3 * j + i] : i == j ? 100 : 0;
    invert_upper(r.whiten, r.back);
    *out = r;
}
