#include "core/photo/find.h"

#include "core/base/linear.h"
#include "core/color/color.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum {
    CANDIDATES = 40,
    PAIRS = 8,
    POINTS = 9,
    CLIMBS = 24,
    CENTERS = 24 /* three times a mark's half */
};

/* Worst difference that still tells anything; all beyond is equally wrong. */
static const double FAR = 12, SEEN = 6;

/* x' = m0 x + m1 y + m2, y' = m3 x + m4 y + m5 */
struct move {
    double m[6];
};

struct search {
    const struct photo_mark *marks;
    struct lab *color; /* of the marks, [n] */
    size_t n;
    const struct photo_coarse *picture;
    double (*seen)[3]; /* [n * POINTS] scratch */
    double *ratio;     /* [n] scratch */
};

static struct lab lab_of(const double rgb[3]) {
    struct rgb c = {rgb[0], rgb[1], rgb[2]};
    return lab_of_xyz(xyz_d50_of_d65(xyz_d65_of_rgb(RGB_DISPLAY_P3, c)), XYZ_D50);
}

static const double *cell_at(const struct photo_coarse *p, double x, double y) {
    if (!(x >= 0 && y >= 0 && x < p->width && y < p->height)) return NULL;
    size_t column = (size_t)(x / p->width * (double)p->columns);
    size_t row = (size_t)(y / p->height * (double)p->rows);
    return p->rgb[row * p->columns + column];
}

static void moved(const struct move *v, double x, double y, double *out_x, double *out_y) {
    *out_x = v->m[0] * x + v->m[1] * y + v->m[2];
    *out_y = v->m[3] * x + v->m[4] * y + v->m[5];
}

static double scale_of(const struct move *v) {
    return sqrt(fabs(v->m[0] * v->m[4] - v->m[1] * v->m[3]));
}

/* The value at half of [n] numbers, which are put in order. */
static double median(double *v, size_t n) {
    for (size_t i = 1; i < n; i++) {
        double t = v[i];
        size_t j = i;
        for (; j > 0 && v[j - 1] > t; j--) v[j] = v[j - 1];
        v[j] = t;
    }
    return n ? v[n / 2] : 0;
}

/* How badly the marks see their colors under a move: mean difference, FAR where there is none.
 * points: 1 (the middles) or POINTS. out_each, if not NULL: [n] the middle's. */
static double misfit(const struct search *s, const struct move *v, int points, double *out_each) {
    double gain[3], sum = 0;
    for (size_t i = 0; i < s->n; i++)
        for (int k = 0; k < points; k++) {
            double reach = 0.85 * s->marks[i].half;
            double x, y, *seen = s->seen[i * POINTS + (size_t)k];
            int dx = k == 0 ? 0 : k % 3 - 1, dy = k == 0 ? 0 : k / 3 - 1;
            if (k == 4) dx = dy = -1; /* the middle stands first, this corner takes its place */
            moved(v, s->marks[i].x + reach * dx, s->marks[i].y + reach * dy, &x, &y);
            const double *cell = cell_at(s->picture, x, y);
            for (int c = 0; c < 3; c++) seen[c] = cell ? cell[c] : NAN;
        }
    for (int c = 0; c < 3; c++) {
        size_t n = 0;
        for (size_t i = 0; i < s->n; i++) {
            double now = s->seen[i * POINTS][c], then = s->marks[i].rgb[c];
            if (now > 1e-4 && then > 1e-4) s->ratio[n++] = now / then;
        }
        gain[c] = n ? median(s->ratio, n) : 1;
    }
    for (size_t i = 0; i < s->n; i++)
        for (int k = 0; k < points; k++) {
            const double *seen = s->seen[i * POINTS + (size_t)k];
            double d = FAR;
            if (!isnan(seen[0])) {
                const double c[3] = {seen[0] / gain[0], seen[1] / gain[1], seen[2] / gain[2]};
                d = fmin(ciede2000(lab_of(c), s->color[i]), FAR);
            }
            sum += d;
            if (out_each && k == 0) out_each[i] = d;
        }
    return sum / (double)(s->n * (size_t)points);
}

/* Similarity that takes two points to two others; false where they coincide or it scales or turns
 * more than people do. */
static bool move_of_pair(const double from[2][2], const double to[2][2], struct move *out) {
    double dx = from[1][0] - from[0][0], dy = from[1][1] - from[0][1], d2 = dx * dx + dy * dy;
    double ex = to[1][0] - to[0][0], ey = to[1][1] - to[0][1];
    if (!(d2 > 1e-6)) return false;
    double a = (ex * dx + ey * dy) / d2, b = (ey * dx - ex * dy) / d2, scale = hypot(a, b);
    if (!(scale > 0.4 && scale < 2.5)) return false;
    *out = (struct move){{a, -b, to[0][0] - a * from[0][0] + b * from[0][1], b, a,
                          to[0][1] - b * from[0][0] - a * from[0][1]}};
    return true;
}

/* Least squares of all six numbers over three and more taps. */
static bool move_of_taps(const struct photo_mark *marks, const struct photo_tap *taps, size_t n,
                         struct move *out) {
    for (int axis = 0; axis < 2; axis++) {
        double a[9] = {0}, b[3] = {0};
        for (size_t i = 0; i < n; i++) {
            const double row[3] = {marks[taps[i].mark].x, marks[taps[i].mark].y, 1};
            double want = axis ? taps[i].y : taps[i].x;
            for (int j = 0; j < 3; j++) {
                for (int k = 0; k < 3; k++) a[3 * j + k] += row[j] * row[k];
                b[j] += row[j] * want;
            }
        }
        /* three taps in a line leave one direction open: a breath of "as it was" */
        for (int j = 0; j < 2; j++) {
            a[4 * j] += 1e-6;
            b[j] += 1e-6 * (j == axis);
        }
        if (!gauss_solve(a, 3, b)) return false;
        memcpy(out->m + 3 * axis, b, sizeof b);
    }
    return true;
}

/* Places of the new picture that look like a mark, whatever their brightness: the most alike first,
 * none beside another. Returns how many. */
static size_t candidates(const struct search *s, size_t mark, double out[CANDIDATES][2]) {
    const struct photo_coarse *p = s->picture;
    const double *c = s->marks[mark].rgb;
    double wanted[2] = {log(fmax(c[0], 1e-4) / fmax(c[1], 1e-4)),
                        log(fmax(c[2], 1e-4) / fmax(c[1], 1e-4))};
    double score[CANDIDATES];
    size_t n = 0;
    const double apart = 0.8 * s->marks[mark].half;
    for (size_t row = 1; row + 1 < p->rows; row++)
        for (size_t column = 1; column + 1 < p->columns; column++) {
            const double *v = p->rgb[row * p->columns + column];
            double off = hypot(log(fmax(v[0], 1e-4) / fmax(v[1], 1e-4)) - wanted[0],
                               log(fmax(v[2], 1e-4) / fmax(v[1], 1e-4)) - wanted[1]);
            off += 0.3 * fabs(log(fmax(v[1], 1e-4) / fmax(c[1], 1e-4)));
            /* the middle of something even, not an edge */
            const double *right = v + 3, *below = p->rgb[(row + 1) * p->columns + column];
            off += fabs(log(fmax(right[1], 1e-4) / fmax(v[1], 1e-4))) +
                   fabs(log(fmax(below[1], 1e-4) / fmax(v[1], 1e-4)));
            if (off > 1) continue;
            double x = ((double)column + 0.5) / (double)p->columns * p->width;
            double y = ((double)row + 0.5) / (double)p->rows * p->height;
            size_t at = n;
            bool worse = false;
            for (size_t i = 0; i < n; i++)
                if (fabs(out[i][0] - x) < apart && fabs(out[i][1] - y) < apart) {
                    worse = score[i] <= off;
                    at = i;
                    break;
                }
            if (worse) continue;
            if (at == n && n == CANDIDATES) {
                for (size_t i = at = 0; i < n; i++)
                    if (score[i] > score[at]) at = i;
                if (score[at] <= off) continue;
            } else if (at == n) {
                n++;
            }
            score[at] = off;
            out[at][0] = x;
            out[at][1] = y;
        }
    return n;
}

/* Marks far from each other in color and place make the surest pairs. */
static double pair_worth(const struct search *s, size_t i, size_t j) {
    double apart = hypot(s->marks[i].x - s->marks[j].x, s->marks[i].y - s->marks[j].y);
    return fmin(ciede2000(s->color[i], s->color[j]), 40) * apart;
}

static void search_pair(const struct search *s, size_t i, size_t j, struct move *best,
                        double *least) {
    double one[CANDIDATES][2], two[CANDIDATES][2];
    size_t one_n = candidates(s, i, one), two_n = candidates(s, j, two);
    const double from[2][2] = {{s->marks[i].x, s->marks[i].y}, {s->marks[j].x, s->marks[j].y}};
    for (size_t a = 0; a < one_n; a++)
        for (size_t b = 0; b < two_n; b++) {
            const double to[2][2] = {{one[a][0], one[a][1]}, {two[b][0], two[b][1]}};
            struct move v;
            if (!move_of_pair(from, to, &v)) continue;
            double m = misfit(s, &v, 1, NULL);
            if (m < *least) *least = m, *best = v;
        }
}

static void search_all(const struct search *s, struct move *best) {
    double least = INFINITY, before = INFINITY;
    for (int p = 0; p < PAIRS; p++) {
        size_t first = 0, second = 0;
        double worth = -1;
        for (size_t i = 0; i < s->n; i++)
            for (size_t j = i + 1; j < s->n; j++) {
                double w = pair_worth(s, i, j);
                if (w > worth && w < before) worth = w, first = i, second = j;
            }
        if (worth < 0) break;
        before = worth;
        search_pair(s, first, second, best, &least);
    }
}

/* Small changes about the middle of the marks, kept while they help: shift, size, turn. */
static void climb(const struct search *s, struct move *v) {
    double cx = 0, cy = 0, half = 0;
    for (size_t i = 0; i < s->n; i++) {
        cx += s->marks[i].x / (double)s->n;
        cy += s->marks[i].y / (double)s->n;
        half += s->marks[i].half / (double)s->n;
    }
    double now = misfit(s, v, POINTS, NULL), step = half * scale_of(v);
    for (int round = 0; round < CLIMBS && step > 1e-4; round++) {
        bool better = false;
        for (int k = 0; k < 8; k++) {
            double by = k % 2 ? -step : step, x, y;
            struct move w = *v;
            moved(v, cx, cy, &x, &y);
            if (k / 2 == 0) w.m[2] += by;
            if (k / 2 == 1) w.m[5] += by;
            if (k / 2 >= 2) {
                double c = k / 2 == 2 ? 1 + by : cos(by), d = k / 2 == 2 ? 0 : sin(by);
                w = (struct move){{c * v->m[0] - d * v->m[3], c * v->m[1] - d * v->m[4], 0,
                                   d * v->m[0] + c * v->m[3], d * v->m[1] + c * v->m[4], 0}};
                w.m[2] = x - w.m[0] * cx - w.m[1] * cy;
                w.m[5] = y - w.m[3] * cx - w.m[4] * cy;
            }
            double m = misfit(s, &w, POINTS, NULL);
            if (m < now) now = m, *v = w, better = true;
        }
        if (!better) step /= 2;
    }
}

/* Even things look the same until an edge is met: the middle between the edges of both sides. */
static void center(const struct search *s, struct move *v) {
    const double step = s->marks[0].half * scale_of(v) / 8;
    double limit = misfit(s, v, POINTS, NULL) + 0.5;
    for (int axis = 0; axis < 2; axis++) {
        double reach[2] = {0, 0};
        for (int side = 0; side < 2; side++)
            for (int i = 1; i <= CENTERS; i++) {
                struct move w = *v;
                w.m[2 + 3 * axis] += (side ? -i : i) * step;
                if (misfit(s, &w, POINTS, NULL) > limit) break;
                reach[side] = i * step;
            }
        v->m[2 + 3 * axis] += (reach[0] - reach[1]) / 2;
    }
}

static enum status check(const struct photo_mark *marks, size_t n, const struct photo_coarse *p,
                         const struct photo_tap *taps, size_t taps_n, struct why *why) {
    char at[32];
    if (n < 1 || (taps_n < 1 && n < 3))
        return why_say(why, E_MISSING, n ? "/taps" : "/marks",
                       "There is too little to find it by: mark three things, or tap one of them.");
    if (n > PHOTO_MARKS_MAX || taps_n > n)
        return why_say(why, E_TOO_LARGE, n > PHOTO_MARKS_MAX ? "/marks" : "/taps",
                       "At most %d marks, and one tap for each.", PHOTO_MARKS_MAX);
    if (p->columns < 8 || p->rows < 8 || p->columns > PHOTO_COARSE_MAX ||
        p->rows > PHOTO_COARSE_MAX || !(p->width > 0 && p->width <= 1) ||
        !(p->height > 0 && p->height <= 1))
        return why_say(why, E_DOMAIN, "/picture", "The picture needs 8 to %d squares a side.",
                       PHOTO_COARSE_MAX);
    for (size_t i = 0; i < p->rows * p->columns; i++)
        for (int k = 0; k < 3; k++)
            if (!(p->rgb[i][k] >= -1 && p->rgb[i][k] <= 4))
                return why_say(why, E_DOMAIN, "/picture", "Square %zu has no color.", i);
    for (size_t i = 0; i < n; i++) {
        const struct photo_mark *m = &marks[i];
        bool good = m->x >= 0 && m->x <= 1 && m->y >= 0 && m->y <= 1 && m->half > 0 && m->half <= 1;
        for (int k = 0; k < 3; k++) good = good && m->rgb[k] >= -1 && m->rgb[k] <= 4;
        snprintf(at, sizeof at, "/marks/%zu", i);
        if (!good) return why_say(why, E_DOMAIN, at, "The mark lies outside, or has no color.");
    }
    for (size_t i = 0; i < taps_n; i++) {
        snprintf(at, sizeof at, "/taps/%zu", i);
        if (taps[i].mark >= n || !(taps[i].x >= 0 && taps[i].x <= 1) ||
            !(taps[i].y >= 0 && taps[i].y <= 1))
            return why_say(why, E_DOMAIN, at, "The tap is of no mark, or lies outside.");
    }
    return OK;
}

static bool begin(const struct search *s, const struct photo_tap *taps, size_t taps_n,
                  struct move *out) {
    *out = (struct move){{1, 0, 0, 0, 1, 0}};
    if (taps_n == 0) {
        search_all(s, out);
        return true;
    }
    if (taps_n == 1) {
        out->m[2] = taps[0].x - s->marks[taps[0].mark].x;
        out->m[5] = taps[0].y - s->marks[taps[0].mark].y;
        return true;
    }
    if (taps_n == 2) {
        const struct photo_mark *p = &s->marks[taps[0].mark], *q = &s->marks[taps[1].mark];
        const double from[2][2] = {{p->x, p->y}, {q->x, q->y}};
        const double to[2][2] = {{taps[0].x, taps[0].y}, {taps[1].x, taps[1].y}};
        return move_of_pair(from, to, out);
    }
    return move_of_taps(s->marks, taps, taps_n, out);
}

enum status photo_find_again(const struct photo_mark *marks, size_t n,
                             const struct photo_coarse *picture, const struct photo_tap *taps,
                             size_t taps_n, struct arena *a, struct photo_found *out,
                             double *out_sure, struct why *why) {
    enum status status = check(marks, n, picture, taps, taps_n, why);
    if (status != OK) return status;
    struct search s = {.marks = marks, .n = n, .picture = picture};
    double *each = arena_array(a, n, sizeof *each);
    s.color = arena_array(a, n, sizeof *s.color);
    s.seen = arena_array(a, n * POINTS, sizeof *s.seen);
    s.ratio = arena_array(a, n, sizeof *s.ratio);
    if (!each || !s.color || !s.seen || !s.ratio) return why_no_memory(why);
    for (size_t i = 0; i < n; i++) s.color[i] = lab_of(marks[i].rgb);
    struct move v;
    if (!begin(&s, taps, taps_n, &v))
        return why_say(why, E_DOMAIN, "/taps", "The taps lie on each other. Tap two things apart.");
    climb(&s, &v);
    center(&s, &v);
    center(&s, &v); /* the other way may be free by now */
    misfit(&s, &v, 1, each);
    size_t seen = 0;
    for (size_t i = 0; i < n; i++) seen += each[i] < SEEN;
    if (2 * seen < n)
        return why_say(why, E_NOT_FOUND, "/picture",
                       "The marked things are not found in this picture. Tap two of them.");
    for (size_t i = 0; i < n; i++) {
        moved(&v, marks[i].x, marks[i].y, &out[i].x, &out[i].y);
        out[i].half = marks[i].half * scale_of(&v);
        out[i].difference = each[i];
    }
    *out_sure = (double)seen / (double)n;
    return OK;
}
