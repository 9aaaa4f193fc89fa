#include "core/recipe/reach.h"

#include "core/color/color.h"

#include <math.h>

enum { SIDE = 10, POINTS = (SIDE + 1) * (SIDE + 2) / 2 };

struct cut { /* a point seen from the half-plane of the hue */
    double l, along, across;
};

struct view {
    const struct weights *w;
    double cos_h, sin_h;
    struct reach *out;
};

static struct cut seen(const struct view *v, const struct pigment *mix) {
    struct spectrum r = pigment_reflectance(mix);
    struct lab c = lab_of_xyz(xyz_of_spectrum(v->w, &r), v->w->white);
    return (struct cut){c.l, c.a * v->cos_h + c.b * v->sin_h, c.b * v->cos_h - c.a * v->sin_h};
}

/* ---- which paints ---- */

static double worth(const struct cut *c, double lightest, double darkest) {
    if (c->l >= lightest || c->l <= darkest) return 1e6;
    return c->along - 0.3 * fabs(c->across);
}

static size_t choose(const struct view *v, const struct pigment *paints, size_t n,
                     const struct pigment **out) {
    double value[REACH_PAINTS_MAX], lightest = -1, darkest = 1e9;
    size_t kept = 0;
    for (size_t i = 0; i < n; i++) {
        struct cut c = seen(v, &paints[i]);
        lightest = fmax(lightest, c.l);
        darkest = fmin(darkest, c.l);
    }
    for (size_t i = 0; i < n; i++) { /* kept in order of worth, the least falls off the end */
        struct cut c = seen(v, &paints[i]);
        double x = worth(&c, lightest, darkest);
        size_t at = kept;
        while (at && value[at - 1] < x) at--;
        if (at == REACH_PAINTS_MAX) continue;
        if (kept < REACH_PAINTS_MAX) kept++;
        for (size_t k = kept - 1; k > at; k--) {
            value[k] = value[k - 1];
            out[k] = out[k - 1];
        }
        value[at] = x;
        out[at] = &paints[i];
    }
    return kept;
}

/* ---- cutting sheets with the half-plane ---- */

/* Chroma is signed here: below zero lies the opposite hue, so a row that goes below it holds the
 * neutral too. */
static void row_take(struct reach *r, double l, double c) {
    int row = (int)floor((l - 1) / REACH_STEP + 0.5);
    if (row < 0 || row >= REACH_ROWS) return;
    r->low[row] = fmin(r->low[row], c);
    r->high[row] = fmax(r->high[row], c);
}

static void segment_take(struct reach *r, struct cut p, struct cut q) {
    int steps = 1 + (int)(fabs(q.l - p.l) / REACH_STEP * 2);
    for (int i = 0; i <= steps; i++) {
        double t = (double)i / steps;
        row_take(r, p.l + t * (q.l - p.l), p.along + t * (q.along - p.along));
    }
}

static void triangle_cut(struct reach *r, const struct cut *p, const struct cut *q,
                         const struct cut *s) {
    const struct cut *corner[3] = {p, q, s};
    struct cut hit[3];
    int hits = 0;
    for (int e = 0; e < 3; e++) {
        const struct cut *from = corner[e], *to = corner[(e + 1) % 3];
        if ((from->across < 0) == (to->across < 0)) continue;
        double t = from->across / (from->across - to->across);
        hit[hits++] = (struct cut){from->l + t * (to->l - from->l),
                                   from->along + t * (to->along - from->along), 0};
    }
    if (hits == 2) segment_take(r, hit[0], hit[1]);
}

static size_t point(int i, int j) { /* i + j <= SIDE */
    return (size_t)(i * (SIDE + 1) - i * (i - 1) / 2 + j);
}

static void sheet_cut(const struct view *v, const struct pigment *const *three) {
    struct cut at[POINTS];
    double weak[3];
    for (int k = 0; k < 3; k++) weak[k] = 1 / fmax(pigment_tinting(three[k]), 1e-9);
    for (int i = 0; i <= SIDE; i++)
        for (int j = 0; i + j <= SIDE; j++) {
            const struct pigment all[3] = {*three[0], *three[1], *three[2]};
            double volume[3] = {i * weak[0], j * weak[1], (SIDE - i - j) * weak[2]};
            struct pigment mix = pigment_mix(all, volume, 3);
            at[point(i, j)] = seen(v, &mix);
        }
    for (int i = 0; i < SIDE; i++)
        for (int j = 0; i + j < SIDE; j++) {
            const struct cut *p = &at[point(i, j)], *q = &at[point(i + 1, j)],
                             *s = &at[point(i, j + 1)];
            triangle_cut(v->out, p, q, s);
            if (i + j + 1 < SIDE) triangle_cut(v->out, &at[point(i + 1, j + 1)], q, s);
        }
}

bool reach_at_hue(const struct pigment *paints, size_t n, const struct weights *w, double hue_deg,
                  struct arena *a, struct reach *out) {
    double h = hue_deg * M_PI / 180;
    struct reach r;
    struct view v = {w, cos(h), sin(h), &r};
    const struct pigment **few = arena_array(a, REACH_PAINTS_MAX, sizeof *few);
    if (!few) return false;
    for (int i = 0; i < REACH_ROWS; i++) {
        r.low[i] = INFINITY;
        r.high[i] = -INFINITY;
    }
    size_t kept = choose(&v, paints, n, few);
    for (size_t i = 0; i < kept; i++)
        for (size_t j = i; j < kept; j++)
            for (size_t k = j; k < kept; k++) { /* a paint twice: pairs, where there are but two */
                if (kept > 2 && (i == j || j == k)) continue;
                const struct pigment *three[3] = {few[i], few[j], few[k]};
                sheet_cut(&v, three);
            }
    for (int i = 0; i < REACH_ROWS; i++) {
        if (r.high[i] < 0) r.low[i] = INFINITY;
        r.low[i] = fmax(r.low[i], 0);
    }
    *out = r;
    return true;
}

bool reach_chroma(const struct reach *r, double l, double *out_low, double *out_high) {
    double at = (l - 1) / REACH_STEP;
    int i = (int)fmin(fmax(floor(at), 0), REACH_ROWS - 1), j = i < REACH_ROWS - 1 ? i + 1 : i;
    bool here = r->low[i] <= r->high[i], next = r->low[j] <= r->high[j];
    double t = fmin(fmax(at - i, 0), 1);
    if (!here && !next) return false;
    if (!here || !next) {
        int only = here ? i : j;
        if ((here ? t : 1 - t) > 0.5) return false;
        *out_low = r->low[only];
        *out_high = r->high[only];
        return true;
    }
    *out_low = r->low[i] + t * (r->low[j] - r->low[i]);
    *out_high = r->high[i] + t * (r->high[j] - r->high[i]);
    return true;
}
