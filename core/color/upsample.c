#include "core/color/upsample.h"

#include "core/base/linear.h"
#include "core/color/color.h"

#include <math.h>
#include <string.h>

enum { N = SPECTRUM_BANDS, KKT = N + 3 };

static const double SPAN = 1 - 2 * UPSAMPLE_LEAST;

/* One state of the search: R = least + span (1 + tanh z) / 2 and its slope per band. */
struct state {
    double z[N], slope[N];
    struct spectrum r;
};

static void follow(struct state *s) {
    for (int i = 0; i < N; i++) {
        s->z[i] = fmin(fmax(s->z[i], -12), 12);
        double t = tanh(s->z[i]);
        s->r.at[i] = UPSAMPLE_LEAST + SPAN * (1 + t) / 2;
        s->slope[i] = SPAN * (1 - t * t) / 2;
    }
}

static struct lab color_of(const struct weights *w, const struct state *s) {
    return lab_of_xyz(xyz_of_spectrum(w, &s->r), w->white);
}

/* d' z of the roughness z'Dz/2 = sum of squared steps / 2 */
static double roughness(const double *z, double gradient[N]) {
    double sum = 0;
    for (int i = 0; i < N; i++) gradient[i] = 0;
    for (int i = 0; i + 1 < N; i++) {
        double step = z[i + 1] - z[i];
        sum += step * step / 2;
        gradient[i] -= step;
        gradient[i + 1] += step;
    }
    return sum;
}

static void add_roughness(double *a, int stride, double scale) {
    for (int i = 0; i < N; i++) {
        a[i * stride + i] += scale * (i == 0 || i == N - 1 ? 1 : 2);
        if (i) a[i * stride + i - 1] -= scale;
        if (i + 1 < N) a[i * stride + i + 1] -= scale;
    }
}

static double lab_curve_slope(double t) {
    return t > 216.0 / 24389 ? 1 / (3 * cbrt(t * t)) : 24389.0 / 27 / 116;
}

/* Whitened residual u (Lab - target) and its derivative by z. */
static void residual(const struct weights *w, const struct state *s, struct lab target,
                     double u[3][3], double out_r[3], double (*out_j)[N]) {
    struct lab c = color_of(w, s);
    double d[3] = {c.l - target.l, c.a - target.a, c.b - target.b};
    for (int k = 0; k < 3; k++) out_r[k] = u[k][0] * d[0] + u[k][1] * d[1] + u[k][2] * d[2];
    if (!out_j) return;
    struct xyz v = xyz_of_spectrum(w, &s->r);
    double fx = lab_curve_slope(v.x / w->white.x) / w->white.x,
           fy = lab_curve_slope(v.y / w->white.y) / w->white.y,
           fz = lab_curve_slope(v.z / w->white.z) / w->white.z;
    for (int i = 0; i < N; i++) {
        double x = fx * w->x[i], y = fy * w->y[i], z = fz * w->z[i];
        double lab[3] = {116 * y, 500 * (x - y), 200 * (y - z)};
        for (int k = 0; k < 3; k++)
            out_j[k][i] = (u[k][0] * lab[0] + u[k][1] * lab[1] + u[k][2] * lab[2]) * s->slope[i];
    }
}

static double square(const double r[3]) {
    return r[0] * r[0] + r[1] * r[1] + r[2] * r[2];
}

/* The step of least squares: x of (R + damping I + weight J'J) x = b, in place of b, with R of the
 * roughness. The first part has three diagonals and the last three rows only: solved by elimination
 * and joined by Woodbury's identity. false: rounding leaves no step. */
static bool step_solve(double (*j)[N], double weight, double damping, double b[N]) {
    double pivot[N], y[3][N], joint[9], pull[3];
    double *rows[4] = {y[0], y[1], y[2], b};
    for (int k = 0; k < 3; k++) memcpy(y[k], j[k], sizeof y[k]);
    for (int i = 0; i < N; i++) {
        pivot[i] = (i == 0 || i == N - 1 ? 1 : 2) + damping - (i ? 1 / pivot[i - 1] : 0);
        for (int k = 0; k < 4 && i; k++) rows[k][i] += rows[k][i - 1] / pivot[i - 1];
    }
    for (int i = N - 1; i >= 0; i--)
        for (int k = 0; k < 4; k++)
            rows[k][i] = (rows[k][i] + (i + 1 < N ? rows[k][i + 1] : 0)) / pivot[i];
    for (int k = 0; k < 3; k++) {
        pull[k] = 0;
        for (int l = 0; l < 3; l++) joint[k * 3 + l] = k == l ? 1 / weight : 0;
        for (int i = 0; i < N; i++) {
            pull[k] += j[k][i] * b[i];
            for (int l = 0; l < 3; l++) joint[k * 3 + l] += j[k][i] * y[l][i];
        }
    }
    if (!gauss_solve(joint, 3, pull)) return false;
    for (int i = 0; i < N; i++) b[i] -= pull[0] * y[0][i] + pull[1] * y[1][i] + pull[2] * y[2][i];
    return true;
}

/* Levenberg-Marquardt on roughness + |residual|^2 / (2 slack^2); gives |residual|^2. */
static double approach(const struct weights *w, struct lab target, double u[3][3], double slack,
                       struct state *s) {
    double weight = 1 / (slack * slack), damping = 1e-3, far = 0, before = 0;
    double r[3], j[3][N], gradient[N];
    bool moved = true;
    for (int round = 0; round < 60 && damping < 1e9; round++) {
        if (moved) {
            residual(w, s, target, u, r, j);
            far = square(r);
            before = roughness(s->z, gradient) + weight * far / 2;
            for (int i = 0; i < N; i++)
                for (int k = 0; k < 3; k++) gradient[i] += weight * j[k][i] * r[k];
        }
        double step[N], longest = 0, unused[N];
        memcpy(step, gradient, sizeof step);
        moved = false;
        if (step_solve(j, weight, damping, step)) {
            struct state next = *s;
            for (int i = 0; i < N; i++) longest = fmax(longest, fabs(step[i]));
            double shorten = longest > 1 ? 1 / longest : 1;
            for (int i = 0; i < N; i++) next.z[i] -= shorten * step[i];
            follow(&next);
            residual(w, &next, target, u, r, NULL);
            double after = roughness(next.z, unused) + weight * square(r) / 2;
            moved = after < before;
            if (moved) {
                *s = next;
                far = square(r);
                if (longest < 1e-6 || before - after < 1e-9 * before) return far;
            }
        }
        damping = moved ? fmax(damping / 10, 1e-7) : damping * 10;
    }
    return far;
}

/* Newton on the stationary point of roughness + multipliers . (XYZ - target): exact to rounding
 * where the continuation has come near. false, and *s as it was, when it does not converge. */
static bool finish(const struct weights *w, struct xyz target, struct state *s) {
    struct state t = *s;
    double multiplier[3] = {0}, gradient[N];
    const double *row[3] = {w->x, w->y, w->z};
    for (int round = 0; round < 12; round++) {
        double a[KKT * KKT] = {0}, b[KKT], size = 0;
        struct xyz v = xyz_of_spectrum(w, &t.r);
        roughness(t.z, gradient);
        add_roughness(a, KKT, 1);
        for (int i = 0; i < N; i++) {
            double pull = 0, bend = -2 * tanh(t.z[i]) * t.slope[i];
            for (int k = 0; k < 3; k++) {
                pull += multiplier[k] * row[k][i];
                a[i * KKT + N + k] = a[(N + k) * KKT + i] = row[k][i] * t.slope[i];
            }
            a[i * KKT + i] += round ? pull * bend : 0; /* no multipliers yet in the first round */
            b[i] = -gradient[i] - pull * t.slope[i];
        }
        b[N] = target.x - v.x, b[N + 1] = target.y - v.y, b[N + 2] = target.z - v.z;
        if (!gauss_solve(a, KKT, b)) return false;
        for (int i = 0; i < N; i++) size = fmax(size, fabs(b[i]));
        if (!(size < 4)) return false;
        for (int i = 0; i < N; i++) t.z[i] += b[i];
        for (int k = 0; k < 3; k++) multiplier[k] += b[N + k];
        follow(&t);
        if (size < 1e-11) break;
    }
    struct xyz v = xyz_of_spectrum(w, &t.r);
    if (!(fabs(v.x - target.x) + fabs(v.y - target.y) + fabs(v.z - target.z) < 1e-9)) return false;
    *s = t;
    return true;
}

struct upsampled upsample_color(const struct weights *w, struct lab c) {
    double u[3][3];
    ciede2000_metric(c, u);
    struct state s;
    double y = fmin(fmax(xyz_of_lab(c, w->white).y, 0.01), 0.95);
    for (int i = 0; i < N; i++) s.z[i] = atanh(2 * y - 1);
    follow(&s);
    double far = INFINITY;
    for (double slack = 1; slack > 5e-5; slack /= 10) {
        double before = far;
        far = approach(w, c, u, slack, &s);
        if (slack > .02) continue;
        if (far < 1e-6 && finish(w, xyz_of_lab(c, w->white), &s)) break;
        if (far > .9 * before) break; /* no closer for ten times the weight: out of reach */
    }
    struct upsampled out = {.spectrum = s.r, .color = color_of(w, &s)};
    out.difference = ciede2000(c, out.color);
    out.reached = out.difference < UPSAMPLE_REACHED;
    return out;
}
