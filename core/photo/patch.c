#include "core/photo/patch.h"

#include "core/base/linear.h"
#include "core/photo/tuning.h"

#include <math.h>

enum { ROUNDS = 8, SLOPE_BLOCKS_LEAST = 16 };

/* Of the file's code values at the end; a whole patch is then warned of. */
static const double CLIPPED_BLOCK = 0.02, CLIPPED_PATCH = 0.1;

/* The value at a rank, by quickselect; v is reordered. */
static double quantile(double *v, size_t n, double q) {
    size_t low = 0, high = n - 1, want = (size_t)(q * (double)(n - 1) + 0.5);
    while (low < high) {
        double pivot = v[low + (high - low) / 2];
        size_t i = low, j = high;
        for (;;) {
            while (v[i] < pivot) i++;
            while (v[j] > pivot) j--;
            if (i >= j) break;
            double t = v[i];
            v[i++] = v[j];
            v[j--] = t;
        }
        if (want <= j)
            high = j;
        else
            low = j + 1;
    }
    return v[want];
}

/* Values of one channel over the patch, as c (1 + gx dx + gy dy). */
struct plane {
    double c, gx, gy;
};

struct blocks {
    const struct photo_block *block[PHOTO_BLOCKS_MAX];
    double weight[PHOTO_BLOCKS_MAX];
    size_t n;
    double x, y; /* middle */
};

static double value_at(const struct plane *p, double dx, double dy) {
    return p->c + p->gx * dx + p->gy * dy;
}

/* Weighted least squares; a patch too narrow for a slope gets none. */
static struct plane fit_plane(const struct blocks *b, int channel) {
    double a[9] = {0}, r[3] = {0};
    for (size_t i = 0; i < b->n; i++) {
        const double row[3] = {1, b->block[i]->x - b->x, b->block[i]->y - b->y};
        for (int j = 0; j < 3; j++) {
            for (int k = 0; k < 3; k++) a[3 * j + k] += b->weight[i] * row[j] * row[k];
            r[j] += b->weight[i] * row[j] * b->block[i]->rgb[channel];
        }
    }
    double flat = a[0] > 0 ? r[0] / a[0] : 0;
    if (b->n >= SLOPE_BLOCKS_LEAST && a[4] > 1e-9 * a[0] && a[8] > 1e-9 * a[0] &&
        gauss_solve(a, 3, r))
        return (struct plane){r[0], r[1], r[2]};
    return (struct plane){flat, 0, 0};
}

/* Blocks without clipping, or all of them when there are none. */
static void choose(const struct photo_patch *p, struct blocks *b, double *out_clipped,
                   double *out_dark) {
    double clipped = 0, dark = 0;
    b->n = 0;
    for (size_t i = 0; i < p->blocks_n; i++) {
        clipped += p->blocks[i].clipped_frac;
        dark += p->blocks[i].dark_frac;
        if (p->blocks[i].clipped_frac <= CLIPPED_BLOCK) b->block[b->n++] = &p->blocks[i];
    }
    if (b->n == 0)
        for (size_t i = 0; i < p->blocks_n; i++) b->block[b->n++] = &p->blocks[i];
    *out_clipped = clipped / (double)p->blocks_n;
    *out_dark = dark / (double)p->blocks_n;
    b->x = b->y = 0;
    for (size_t i = 0; i < b->n; i++) {
        b->weight[i] = 1;
        b->x += b->block[i]->x / (double)b->n;
        b->y += b->block[i]->y / (double)b->n;
    }
}

/* All of a patch but its rim: a rectangle drawn by hand may touch a neighbor, and compression
 * smears colors over edges. */
static size_t inner_blocks(const struct photo_patch *p, const struct photo_block **out) {
    double low[2] = {2, 2}, high[2] = {-1, -1};
    size_t n = 0;
    for (size_t i = 0; i < p->blocks_n; i++) {
        low[0] = fmin(low[0], p->blocks[i].x), high[0] = fmax(high[0], p->blocks[i].x);
        low[1] = fmin(low[1], p->blocks[i].y), high[1] = fmax(high[1], p->blocks[i].y);
    }
    for (size_t i = 0; i < p->blocks_n; i++) {
        const struct photo_block *o = &p->blocks[i];
        double rim = fmin(fmin(o->x - low[0], high[0] - o->x) / fmax(high[0] - low[0], 1e-9),
                          fmin(o->y - low[1], high[1] - o->y) / fmax(high[1] - low[1], 1e-9));
        if (p->blocks_n < 64 || rim >= 0.15) out[n++] = o;
    }
    return n;
}

static double mean_of(const double rgb[3]) {
    return (rgb[0] + rgb[1] + rgb[2]) / 3;
}

/* Blocks that are not of the patch's plane. */
static void outliers(const struct photo_block *const *inner, size_t n, const struct blocks *b,
                     const struct plane plane[3], const double scale[3], struct patch_view *v) {
    size_t bright = 0, dim = 0;
    for (size_t i = 0; i < n; i++) {
        double at = 0, off, enough;
        for (int k = 0; k < 3; k++)
            at += value_at(&plane[k], inner[i]->x - b->x, inner[i]->y - b->y) / 3;
        off = mean_of(inner[i]->rgb) - at;
        enough = fmax(fmax(5 * mean_of(scale), PHOTO_OUTLIER_PART * fmax(at, 0)), 0.004);
        bright += off > enough;
        dim += off < -enough;
    }
    v->bright_frac = (double)bright / (double)n;
    v->dim_frac = (double)dim / (double)n;
}

/* How the patch varies, from its darkest blocks to its brightest. */
static void variation(const struct photo_block *const *inner, size_t n, struct patch_view *v) {
    double light[PHOTO_BLOCKS_MAX], low_sum[3] = {0}, high_sum[3] = {0};
    size_t top = 0, low_n = 0, high_n = 0;
    for (size_t i = 0; i < n; i++) light[i] = mean_of(inner[i]->rgb);
    double low = quantile(light, n, 0.2), high = quantile(light, n, 0.8);
    double least = quantile(light, n, 0.02), most = quantile(light, n, 0.98);
    for (size_t i = 0; i < n; i++) {
        double at = mean_of(inner[i]->rgb);
        top += at > least + (most - least) * 2 / 3;
        low_n += at <= low;
        high_n += at >= high;
        for (int k = 0; k < 3; k++) {
            if (at <= low) low_sum[k] += inner[i]->rgb[k];
            if (at >= high) high_sum[k] += inner[i]->rgb[k];
        }
    }
    v->brightest = most;
    v->range_frac = most > 0 ? 1 - least / most : 0;
    v->top_frac = (double)top / (double)n;
    for (int k = 0; k < 3; k++)
        v->swing[k] = high_sum[k] / (double)high_n - low_sum[k] / (double)low_n;
}

/* The range that noise alone would give, and how wide the patch is. */
static void grain(const struct photo_block *const *inner, size_t n, struct patch_view *v) {
    double light[PHOTO_BLOCKS_MAX], step[PHOTO_BLOCKS_MAX] = {0}, widest[2] = {0},
                                    lowest[2] = {2, 2};
    for (size_t i = 0; i < n; i++) {
        double at = fmax(mean_of(inner[i]->rgb), 1e-4);
        light[i] = mean_of(inner[i]->sd) / at;
        if (i) step[i - 1] = fabs(mean_of(inner[i]->rgb) - mean_of(inner[i - 1]->rgb)) / at;
        widest[0] = fmax(widest[0], inner[i]->x), lowest[0] = fmin(lowest[0], inner[i]->x);
        widest[1] = fmax(widest[1], inner[i]->y), lowest[1] = fmin(lowest[1], inner[i]->y);
    }
    /* The range between the ends: four times the noise of blocks, which hold four pixels and more.
     * Blocks of one pixel say nothing of it; there neighbors do. */
    double pixel = quantile(light, n, 0.5), neighbor = n > 1 ? quantile(step, n - 1, 0.5) : 0;
    v->grain = pixel > 0.1 * neighbor ? 2 * pixel : 3 * neighbor;
    v->width = fmax(widest[0] - lowest[0], widest[1] - lowest[1]);
}

/* A plane a channel through most of the blocks; their weights; how far they scatter. */
static void fit_robust(struct blocks *b, struct plane plane[3], double scale[3]) {
    double off[PHOTO_BLOCKS_MAX], sorted[PHOTO_BLOCKS_MAX];
    /* start at the median: half of the blocks may be anything */
    for (int k = 0; k < 3; k++) {
        for (size_t i = 0; i < b->n; i++) sorted[i] = b->block[i]->rgb[k];
        plane[k] = (struct plane){quantile(sorted, b->n, 0.5), 0, 0};
    }
    for (int round = 0; round < ROUNDS; round++) {
        for (size_t i = 0; i < b->n; i++) off[i] = 0;
        for (int k = 0; k < 3; k++) {
            for (size_t i = 0; i < b->n; i++)
                sorted[i] = fabs(b->block[i]->rgb[k] -
                                 value_at(&plane[k], b->block[i]->x - b->x, b->block[i]->y - b->y));
            /* the first rounds are told apart from a slope by a generous floor */
            double floor = (round < 3 ? 0.02 : 0.003) * fabs(plane[k].c) + 0.0003;
            scale[k] = fmax(1.4826 * quantile(sorted, b->n, 0.5), floor);
            for (size_t i = 0; i < b->n; i++) {
                double e = (b->block[i]->rgb[k] -
                            value_at(&plane[k], b->block[i]->x - b->x, b->block[i]->y - b->y)) /
                           scale[k];
                off[i] = fmax(off[i], fabs(e));
            }
        }
        double moved = 0;
        for (size_t i = 0; i < b->n; i++) { /* Tukey's weight, 4.7 standard deviations */
            double u = off[i] / 4.7, w = u < 1 ? (1 - u * u) * (1 - u * u) : 0;
            moved += fabs(w - b->weight[i]);
            b->weight[i] = w;
        }
        for (int k = 0; k < 3; k++) plane[k] = fit_plane(b, k);
        if (round >= 3 && moved < 0.01 * (double)b->n) break;
    }
}

/* The color in the middle of the blocks that count, and its slope; returns the sum of weights. */
static double color_and_slope(const struct blocks *b, const struct plane plane[3],
                              const double scale[3], struct patch_view *v) {
    double sum = 0, x = 0, y = 0, xx = 0, yy = 0;
    for (size_t i = 0; i < b->n; i++) {
        sum += b->weight[i];
        x += b->weight[i] * b->block[i]->x;
        y += b->weight[i] * b->block[i]->y;
    }
    v->x = sum > 0 ? x / sum : b->x;
    v->y = sum > 0 ? y / sum : b->y;
    for (size_t i = 0; i < b->n; i++) {
        xx += b->weight[i] * (b->block[i]->x - v->x) * (b->block[i]->x - v->x);
        yy += b->weight[i] * (b->block[i]->y - v->y) * (b->block[i]->y - v->y);
    }
    double noise = 0;
    v->has_slope = b->n >= SLOPE_BLOCKS_LEAST;
    for (int k = 0; k < 3; k++) {
        v->rgb[k] = value_at(&plane[k], v->x - b->x, v->y - b->y);
        v->rgb_sd[k] = scale[k] / sqrt(fmax(sum, 1));
        v->has_slope = v->has_slope && v->rgb[k] > 0.004;
        v->slope[k][0] = plane[k].gx / fmax(v->rgb[k], 1e-6);
        v->slope[k][1] = plane[k].gy / fmax(v->rgb[k], 1e-6);
        noise = fmax(noise, scale[k] / fmax(v->rgb[k], 1e-6));
    }
    v->has_slope = v->has_slope && xx > 0 && yy > 0;
    /* neighboring blocks share noise (compression): three times as uncertain as if they did not */
    v->slope_sd[0] = v->has_slope ? 3 * noise / sqrt(xx) : 0;
    v->slope_sd[1] = v->has_slope ? 3 * noise / sqrt(yy) : 0;
    return sum;
}

struct patch_view patch_view(const struct photo_patch *p) {
    struct blocks b;
    struct plane plane[3];
    const struct photo_block *inner[PHOTO_BLOCKS_MAX];
    double clipped, dark, scale[3];
    struct patch_view v = {0};
    choose(p, &b, &clipped, &dark);
    fit_robust(&b, plane, scale);
    v.used_frac = color_and_slope(&b, plane, scale, &v) / (double)p->blocks_n;
    size_t n = inner_blocks(p, inner);
    outliers(inner, n, &b, plane, scale, &v);
    variation(inner, n, &v);
    grain(inner, n, &v);
    v.uneven = p->blocks_n >= SLOPE_BLOCKS_LEAST &&
               (fmax(v.bright_frac, v.dim_frac) > PHOTO_OUTLIER_FRAC ||
                v.range_frac > PHOTO_OUTLIER_RANGE + v.grain + v.width);
    if (clipped > CLIPPED_PATCH) v.warnings |= PHOTO_CLIPPED;
    if (dark > 0.5) v.warnings |= PHOTO_DARK;
    return v;
}

void patch_darkest(const struct photo_patch *p, struct patch_view *v) {
    const struct photo_block *inner[PHOTO_BLOCKS_MAX];
    double light[PHOTO_BLOCKS_MAX], n = 0, x = 0, y = 0, rgb[3] = {0};
    size_t inner_n = inner_blocks(p, inner);
    for (size_t i = 0; i < inner_n; i++) light[i] = mean_of(inner[i]->rgb);
    double limit = quantile(light, inner_n, 0.05);
    for (size_t i = 0; i < inner_n; i++) {
        if (mean_of(inner[i]->rgb) > limit) continue;
        n++;
        x += inner[i]->x;
        y += inner[i]->y;
        for (int k = 0; k < 3; k++) rgb[k] += inner[i]->rgb[k];
    }
    v->x = x / n;
    v->y = y / n;
    for (int k = 0; k < 3; k++) v->rgb[k] = rgb[k] / n;
    v->has_slope = false;
}
