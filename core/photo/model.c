#include "core/photo/model.h"

#include "core/color/color.h"

#include <math.h>

static double encode(double v) {
    return v <= 0.0031308 ? 12.92 * v : 1.055 * pow(v, 1 / 2.4) - 0.055;
}
static double decode(double e) {
    return e <= 0.04045 ? e / 12.92 : pow((e + 0.055) / 1.055, 2.4);
}

/* What a value becomes without the maker's curve, and how it moves with the two tone terms. Outside
 * 0..1 the curve goes on straight: colors beyond the gamut stay in order. */
struct toned {
    double v, by[2];
};

static struct toned tone(const struct model *m, double v) {
    if (v <= 0) return (struct toned){v, {0, 0}};
    double e = encode(v), at = fmin(e, 1), one = at * (1 - at), two = one * (1 - 2 * at);
    double e2 = fmax(e + m->theta[MODEL_TONE] * one + m->theta[MODEL_TONE + 1] * two, 0);
    double out = decode(e2);
    double steep = e2 <= 0.04045 ? 1 / 12.92 : 2.4 * out / (e2 + 0.055);
    return (struct toned){out, {steep * one, steep * two}};
}

double model_light(const struct model *m, int channel, double x, double y) {
    double dx = x - m->width / 2, dy = y - m->height / 2;
    double r2 = (dx * dx + dy * dy) / ((m->width * m->width + m->height * m->height) / 4);
    double v =
        m->theta[MODEL_PLANE] * dx + m->theta[MODEL_PLANE + 1] * dy + m->theta[MODEL_RADIUS] * r2;
    if (channel == 0) v += m->theta[MODEL_CHROMA] * dx + m->theta[MODEL_CHROMA + 1] * dy;
    if (channel == 2) v += m->theta[MODEL_CHROMA + 2] * dx + m->theta[MODEL_CHROMA + 3] * dy;
    return v;
}

void model_light_slope(const struct model *m, int channel, double x, double y, double out[2]) {
    double half2 = (m->width * m->width + m->height * m->height) / 4;
    int chroma = channel == 0 ? MODEL_CHROMA : MODEL_CHROMA + 2;
    const double d[2] = {x - m->width / 2, y - m->height / 2};
    for (int i = 0; i < 2; i++) {
        out[i] = m->theta[MODEL_PLANE + i] + 2 * m->theta[MODEL_RADIUS] * d[i] / half2;
        if (channel != 1) out[i] += m->theta[chroma + i];
    }
}

double model_contrast(const struct model *m, double rgb) {
    double low = 0.98 * rgb, high = 1.02 * rgb;
    double a = tone(m, low).v, b = tone(m, high).v;
    if (!(rgb > 1e-6 && a > 0 && b > a)) return 1;
    return log(b / a) / log(high / low);
}

/* Place of a root term's pair of channels. */
static const int PAIR[3][2] = {{0, 1}, {0, 2}, {1, 2}};

struct root {
    double s, by[2]; /* and its slope along both channels */
};

static struct root root_of(double p, double q) {
    if (!(p > 1e-9 && q > 1e-9)) return (struct root){-(p + q) / 2, {-0.5, -0.5}};
    double r = sqrt(p * q);
    return (struct root){r - (p + q) / 2, {q / r / 2 - 0.5, p / r / 2 - 0.5}};
}

/* Lab of linear Display P3, and its slope. Both steps before the cube roots are linear. */
static struct lab lab_slope(const double out[3], double slope[3][3]) {
    struct rgb c = {out[0], out[1], out[2]};
    struct xyz x = xyz_d50_of_d65(xyz_d65_of_rgb(RGB_DISPLAY_P3, c));
    if (slope) {
        const double at[3] = {x.x / XYZ_D50.x, x.y / XYZ_D50.y, x.z / XYZ_D50.z};
        double f[3];
        for (int k = 0; k < 3; k++) {
            double root = cbrt(at[k]);
            f[k] = at[k] > 216.0 / 24389 ? 1 / (3 * root * root) : 24389.0 / 27 / 116;
        }
        for (int k = 0; k < 3; k++) {
            const struct rgb unit = {k == 0, k == 1, k == 2};
            struct xyz d = xyz_d50_of_d65(xyz_d65_of_rgb(RGB_DISPLAY_P3, unit));
            double fx = f[0] * d.x / XYZ_D50.x, fy = f[1] * d.y, fz = f[2] * d.z / XYZ_D50.z;
            slope[0][k] = 116 * fy;
            slope[1][k] = 500 * (fx - fy);
            slope[2][k] = 200 * (fy - fz);
        }
    }
    return lab_of_xyz(x, XYZ_D50);
}

struct lab model_color(const struct model *m, const double rgb[3], double x, double y,
                       double slope[3][MODEL_TERMS]) {
    const double half2 = (m->width * m->width + m->height * m->height) / 4;
    const double dx = x - m->width / 2, dy = y - m->height / 2, r2 = (dx * dx + dy * dy) / half2;
    double v[3], tone_by[3][2], out[3], by_v[3][3];
    struct root root[3];
    for (int k = 0; k < 3; k++) {
        struct toned t = tone(m, rgb[k]);
        double factor = exp(m->theta[MODEL_GAIN + k] - model_light(m, k, x, y));
        v[k] = t.v * factor;
        tone_by[k][0] = t.by[0] * factor;
        tone_by[k][1] = t.by[1] * factor;
    }
    for (int i = 0; i < 3; i++) root[i] = root_of(v[PAIR[i][0]], v[PAIR[i][1]]);
    for (int k = 0; k < 3; k++) {
        const double *a = m->theta + MODEL_MATRIX + 2 * k, *p = m->theta + MODEL_ROOT + 3 * k;
        int j = (k + 1) % 3, l = (k + 2) % 3;
        out[k] = v[k] + a[0] * (v[j] - v[k]) + a[1] * (v[l] - v[k]);
        by_v[k][k] = 1 - a[0] - a[1];
        by_v[k][j] = a[0];
        by_v[k][l] = a[1];
        for (int i = 0; i < 3; i++) {
            out[k] += p[i] * root[i].s;
            by_v[k][PAIR[i][0]] += p[i] * root[i].by[0];
            by_v[k][PAIR[i][1]] += p[i] * root[i].by[1];
        }
    }
    double by_out[3][3];
    struct lab c = lab_slope(out, slope ? by_out : NULL);
    if (!slope) return c;
    for (int r = 0; r < 3; r++) {
        double *t = slope[r], by[3];
        for (int k = 0; k < 3; k++)
            by[k] =
                by_out[r][0] * by_v[0][k] + by_out[r][1] * by_v[1][k] + by_out[r][2] * by_v[2][k];
        double all = by[0] * v[0] + by[1] * v[1] + by[2] * v[2];
        for (int k = 0; k < 3; k++) {
            t[MODEL_GAIN + k] = by[k] * v[k];
            t[MODEL_MATRIX + 2 * k] = by_out[r][k] * (v[(k + 1) % 3] - v[k]);
            t[MODEL_MATRIX + 2 * k + 1] = by_out[r][k] * (v[(k + 2) % 3] - v[k]);
            for (int i = 0; i < 3; i++) t[MODEL_ROOT + 3 * k + i] = by_out[r][k] * root[i].s;
        }
        for (int i = 0; i < 2; i++)
            t[MODEL_TONE + i] =
                by[0] * tone_by[0][i] + by[1] * tone_by[1][i] + by[2] * tone_by[2][i];
        t[MODEL_PLANE] = -all * dx;
        t[MODEL_PLANE + 1] = -all * dy;
        t[MODEL_RADIUS] = -all * r2;
        t[MODEL_CHROMA] = -by[0] * v[0] * dx;
        t[MODEL_CHROMA + 1] = -by[0] * v[0] * dy;
        t[MODEL_CHROMA + 2] = -by[2] * v[2] * dx;
        t[MODEL_CHROMA + 3] = -by[2] * v[2] * dy;
    }
    return c;
}
