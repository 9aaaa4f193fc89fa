#include "core/color/upsample.h"

#include "core/base/linear.h"
#include "core/color/color.h"

#include <math.h>

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

/* Levenberg-Marquardt on roughness + |residual|^2 / (2 slack^2). */
static void approach(const struct weights *w, struct lab target, double u[3][3], double slack,
                     struct state *s) {
    double weight = 1 / (slack * slack), damping = 1e-3;
    for (int round = 0; round < 60 && damping < 1e9; round++) {
        double r[3], j[3][N], gradient[N], a[N * N] = {0};
        residual(w, s, target, u, r, j);
        double before = roughness(s->z, gradient) + weight * square(r) / 2;
        add_roughness(a, N, 1);
        for (int i = 0; i < N; i++) {
            for (int k = 0; k < 3; k++) gradient[i] += weight * j[k][i] * r[k];
            for (int l = 0; l <= i; l++)
                a[i * N + l] +=
                    weight * (j[0][i] * j[0][l] + j[1][i] * j[1][l] + j[2][i] * j[2][l]);
            a[i * N + i] += damping;
        }
        if (!cholesky_factor(a, N)) {
            damping *= 10;
            continue;
        }
        cholesky_solve(a, N, gradient);
        struct state next = *s;
        double longest = 0, unused[N];
        for (int i = 0; i < N; i++) longest = fmax(longest, fabs(gradient[i]));
        double shorten = longest > 1 ? 1 / longest : 1;
        for (int i = 0; i < N; i++) next.z[i] -= shorten * gradient[i];
        follow(&next);
        residual(w, &next, target, u, r, NULL);
        double after = roughness(next.z, unused) + weight * square(r) / 2;
        if (after < before) {
            *s = next;
            damping = fmax(damping / 10, 1e-9);
            if (longest < 1e-6 || before - after < 1e-9 * before) return;
        } else
            damping *= 10;
    }
}

/* Newton on the stationary point of roughness + multipliers . (XYZ - target): exact to rounding
 * where the continuation has come near. Leaves *s alone when it does not converge. */
static void finish(const struct weights *w, struct xyz target, struct state *s) {
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
        if (!gauss_solve(a, KKT, b)) return;
        for (int i = 0; i < N; i++) size = fmax(size, fabs(b[i]));
        if (!(size < 4)) return;
        for (int i = 0; i < N; i++) t.z[i] += b[i];
        for (int k = 0; k < 3; k++) multiplier[k] += b[N + k];
        follow(&t);
        if (size < 1e-11) break;
    }
    struct xyz v = xyz_of_spectrum(w, &t.r);
    if (fabs(v.x - target.x) + fabs(v.y - target.y) + fabs(v.z - target.z) < 1e-9) *s = t;
}

struct upsampled upsample_color(const struct weights *w, struct lab c) {
    double u[3][3];
    ciede2000_metric(c, u);
    struct state s;
    double y = fmin(fmax(xyz_of_lab(c, w->white).y, 0.01), 0.95);
    for (int i = 0; i < N; i++) s.z[i] = atanh(2 * y - 1);
    follow(&s);
    for (double slack = 1; slack > 5e-5; slack /= 10) approach(w, c, u, slack, &s);
    finish(w, xyz_of_lab(c, w->white), &s);
    struct upsampled out = {.spectrum = s.r, .color = color_of(w, &s)};
    out.difference = ciede2000(c, out.color);
    out.reached = out.difference < UPSAMPLE_REACHED;
    return out;
}
