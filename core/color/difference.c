#include "core/color/difference.h"

#include <math.h>

static const double RAD = 0.017453292519943295;

static double pow7(double x) {
    return x * x * x * x * x * x * x;
}

static double hue_of(double a, double b) {
    if (a == 0 && b == 0) return 0;
    double h = atan2(b, a) / RAD;
    return h < 0 ? h + 360 : h;
}

/* Square root of C^7 / (C^7 + 25^7), which steers both the stretch of a and the blue rotation. */
static double chroma_share(double c) {
    return sqrt(pow7(c) / (pow7(c) + pow7(25)));
}

/* Lengths of the ellipsoid's axes and its tilt for mean lightness, chroma, hue of the pair. */
struct scale {
    double l, c, h, tilt;
};

static struct scale scale_at(double l, double c, double h) {
    double t = 1 - 0.17 * cos((h - 30) * RAD) + 0.24 * cos(2 * h * RAD) +
               0.32 * cos((3 * h + 6) * RAD) - 0.20 * cos((4 * h - 63) * RAD);
    double turn = (h - 275) / 25, l50 = (l - 50) * (l - 50);
    return (struct scale){1 + 0.015 * l50 / sqrt(20 + l50), 1 + 0.045 * c, 1 + 0.015 * c * t,
                          -sin(60 * RAD * exp(-turn * turn)) * 2 * chroma_share(c)};
}

double ciede2000(struct lab p, struct lab q) {
    double stretch = 1 + 0.5 * (1 - chroma_share((hypot(p.a, p.b) + hypot(q.a, q.b)) / 2));
    double a1 = p.a * stretch, a2 = q.a * stretch;
    double c1 = hypot(a1, p.b), c2 = hypot(a2, q.b);
    double h1 = hue_of(a1, p.b), h2 = hue_of(a2, q.b), dh = 0, h = h1 + h2;
    if (c1 > 0 && c2 > 0) {
        dh = h2 - h1;
        if (fabs(dh) <= 180)
            h /= 2;
        else
            h = h < 360 ? (h + 360) / 2 : (h - 360) / 2;
        if (dh > 180)
            dh -= 360;
        else if (dh < -180)
            dh += 360;
    }
    struct scale s = scale_at((p.l + q.l) / 2, (c1 + c2) / 2, h);
    double dl = (q.l - p.l) / s.l, dc = (c2 - c1) / s.c;
    double dhue = 2 * sqrt(c1 * c2) * sin(dh / 2 * RAD) / s.h;
    return sqrt(fmax(dl * dl + dc * dc + dhue * dhue + s.tilt * dc * dhue, 0));
}

void ciede2000_metric(struct lab c, double out_u[3][3]) {
    double stretch = 1 + 0.5 * (1 - chroma_share(hypot(c.a, c.b)));
    double a = c.a * stretch, chroma = hypot(a, c.b);
    struct scale s = scale_at(c.l, chroma, hue_of(a, c.b));
    /* unit vectors of chroma and hue in the stretched plane; any pair will do at the gray axis */
    double ca = chroma > 0 ? a / chroma : 1, cb = chroma > 0 ? c.b / chroma : 0;
    double dc[2] = {ca * stretch / s.c, cb / s.c}, dh[2] = {-cb * stretch / s.h, ca / s.h};
    /* |dc|^2 + |dh|^2 + tilt dc dh = G in (a, b), then its Cholesky factor */
    double aa = dc[0] * dc[0] + dh[0] * dh[0] + s.tilt * dc[0] * dh[0];
    double ab = dc[0] * dc[1] + dh[0] * dh[1] + s.tilt * (dc[0] * dh[1] + dc[1] * dh[0]) / 2;
    double bb = dc[1] * dc[1] + dh[1] * dh[1] + s.tilt * dc[1] * dh[1];
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) out_u[i][j] = 0;
    out_u[0][0] = 1 / s.l;
    out_u[1][1] = sqrt(aa);
    out_u[1][2] = ab / out_u[1][1];
    out_u[2][2] = sqrt(fmax(bb - out_u[1][2] * out_u[1][2], 0));
}

const char *difference_words(double difference) {
    return difference < COLOR_UNSEEN   ? "not seen"
           : difference < COLOR_GLANCE ? "seen side by side"
                                       : "seen at a glance";
}
