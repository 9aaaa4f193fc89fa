#include "core/color/munsell.h"

#include "tables.h"

#include <assert.h>
#include <math.h>

/* CIE illuminant C, 2 degree observer */
static const struct xyz WHITE_C = {0.31006 / 0.31616, 1, (1 - 0.31006 - 0.31616) / 0.31616};

double munsell_y_of_value(double v) {
    return v * (1.1914 + v * (-0.22533 + v * (0.23352 + v * (-0.020484 + v * 0.00081939)))) / 100;
}

static double munsell_value_of_y(double y) {
    double lo = 0, hi = 10;
    for (int i = 0; i < 60; i++) {
        double mid = (lo + hi) / 2;
        if (munsell_y_of_value(mid) < y)
            lo = mid;
        else
            hi = mid;
    }
    return (lo + hi) / 2;
}

void munsell_book_make(const struct tables *t, struct munsell_book *out) {
    *out = (struct munsell_book){0};
    for (size_t i = 0; i < t->munsell_n; i++) {
        const struct munsell_row *r = &t->munsell[i];
        int v = r->value - 1, h = (int)lround(r->hue / 2.5), c = r->chroma / 2 - 1;
        assert(v >= 0 && v < MUNSELL_VALUES && h >= 0 && h < MUNSELL_HUES);
        assert(c == out->steps[v][h] && c < MUNSELL_STEPS);
        double y = munsell_y_of_value(r->value);
        struct xyz xyz = {r->x / r->y * y, y, (1 - r->x - r->y) / r->y * y};
        struct lch p = lch_of_lab(lab_of_xyz(xyz, WHITE_C));
        out->radius[v][h][c] = p.c;
        out->angle[v][h][c] = p.h;
        out->steps[v][h] = c + 1;
    }
}

struct polar {
    double radius, angle;
};

/* Angles next to each other on the circle: b brought within half a turn of a. */
static double near(double a, double b) {
    return a + remainder(b - a, 360);
}

static struct polar between(struct polar a, struct polar b, double u) {
    return (struct polar){a.radius + u * (b.radius - a.radius),
                          a.angle + u * (near(a.angle, b.angle) - a.angle)};
}

/* On one ray of chips (value v, hue h) at chroma c >= 0. */
static struct polar on_ray(const struct munsell_book *b, int v, int h, double c) {
    const double *radius = b->radius[v][h], *angle = b->angle[v][h];
    int n = b->steps[v][h], i = (int)(c / 2);
    if (i < 1) return (struct polar){radius[0] * c / 2, angle[0]};
    if (i < n)
        return between((struct polar){radius[i - 1], angle[i - 1]},
                       (struct polar){radius[i], angle[i]}, c / 2 - i);
    double step = n > 1 ? radius[n - 1] - radius[n - 2] : radius[0];
    return (struct polar){radius[n - 1] + step * (c / 2 - n), angle[n - 1]};
}

static struct polar on_plane(const struct munsell_book *b, int v, double hue, double c) {
    double at = hue / 2.5;
    int h = (int)at;
    return between(on_ray(b, v, h % MUNSELL_HUES, c), on_ray(b, v, (h + 1) % MUNSELL_HUES, c),
                   at - h);
}

/* hue 0..100 (exclusive), value 0..10 */
static struct polar polar_of(const struct munsell_book *b, double hue, double value, double c) {
    if (value <= 1) { /* toward black the same chroma spans less and less */
        struct polar p = on_plane(b, 0, hue, c);
        p.radius *= value;
        return p;
    }
    int v = value < MUNSELL_VALUES ? (int)value : MUNSELL_VALUES - 1;
    if (value >= MUNSELL_VALUES) return on_plane(b, MUNSELL_VALUES - 1, hue, c);
    return between(on_plane(b, v - 1, hue, c), on_plane(b, v, hue, c), value - v);
}

static double wrap(double v, double turn) {
    double w = fmod(v, turn);
    return w < 0 ? w + turn : w;
}

struct lab munsell_color(const struct munsell_book *b, struct munsell m) {
    double value = fmin(fmax(m.value, 0), 10), chroma = fmin(fmax(m.chroma, 0), 50);
    struct polar p = polar_of(b, wrap(m.hue, 100), value, chroma);
    double l = lab_of_xyz((struct xyz){0, munsell_y_of_value(value), 0}, WHITE_C).l;
    struct lab c = lab_of_lch((struct lch){l, p.radius, p.angle});
    return lab_of_xyz(xyz_adapt(xyz_of_lab(c, WHITE_C), WHITE_C, XYZ_D50), XYZ_D50);
}

/* Chroma at which the ray of this hue has the radius. */
static double chroma_at(const struct munsell_book *b, double hue, double value, double radius) {
    double lo = 0, hi = 50;
    for (int i = 0; i < 50; i++) {
        double mid = (lo + hi) / 2;
        if (polar_of(b, hue, value, mid).radius < radius)
            lo = mid;
        else
            hi = mid;
    }
    return (lo + hi) / 2;
}

/* Hue whose angle is the wanted one at this chroma: the sector whose ends enclose it, then by
 * bisection. */
static double hue_at(const struct munsell_book *b, double value, double chroma, double angle) {
    double lo = 0, hi = 0, best = 400;
    for (int h = 0; h < MUNSELL_HUES; h++) {
        double a = polar_of(b, 2.5 * h, value, chroma).angle;
        double ahead = wrap(angle - a, 360);
        if (ahead < best) best = ahead, lo = 2.5 * h;
    }
    hi = lo + 2.5;
    for (int i = 0; i < 50; i++) {
        double mid = (lo + hi) / 2;
        if (remainder(angle - polar_of(b, wrap(mid, 100), value, chroma).angle, 360) > 0)
            lo = mid;
        else
            hi = mid;
    }
    return wrap((lo + hi) / 2, 100);
}

static bool beyond_chips(const struct munsell_book *b, struct munsell m) {
    int v = (int)fmin(fmax(round(m.value), 1), MUNSELL_VALUES) - 1;
    int h = (int)lround(m.hue / 2.5) % MUNSELL_HUES;
    return m.chroma > 2 * b->steps[v][h] + 1;
}

struct munsell munsell_of_color(const struct munsell_book *b, struct lab c, bool *out_beyond) {
    struct xyz xyz = xyz_adapt(xyz_of_lab(c, XYZ_D50), XYZ_D50, WHITE_C);
    struct munsell m = {0, munsell_value_of_y(xyz.y), 0};
    struct lch p = lch_of_lab(lab_of_xyz(xyz, WHITE_C));
    if (m.value > 1e-3 && p.c > 1e-9) {
        m.chroma = p.c / 5;
        for (int i = 0; i < 30; i++) {
            struct munsell was = m;
            m.hue = hue_at(b, m.value, m.chroma, p.h);
            m.chroma = chroma_at(b, m.hue, m.value, p.c);
            if (fabs(m.chroma - was.chroma) + fabs(m.hue - was.hue) < 1e-9) break;
        }
    }
    if (out_beyond) *out_beyond = beyond_chips(b, m);
    return m;
}
