#include "photo/blocks.h"

#include "photo/exif.h"

#include <math.h>
#include <stdlib.h>

enum { SIDE = 16, CLIPPED = 254, DARK = 8 }; /* of core/photo/photo.h */
_Static_assert(SIDE *SIDE == PHOTO_BLOCKS_MAX, "core/photo/photo.h");

struct sum { /* sums about a first value, so that the squares of bright, even patches hold */
    double first[3], sum[3], squares[3];
    uint32_t n, clipped, dark;
};

struct patch {
    struct picture_rect rect;
    int stored_x, stored_y, stored_w, stored_h;
    int nx, ny;
    struct sum *sums; /* [nx * ny] */
};

struct blocks {
    struct raster_head head;
    struct patch *patches;
    size_t n;
    struct sum *sums;
    size_t sums_n;
    float *linear; /* [width * 3] */
};

static int side(int pixels) {
    return pixels < SIDE ? pixels : SIDE;
}

size_t blocks_in(struct picture_rect r) {
    return (size_t)side(r.w) * (size_t)side(r.h);
}

static void place(const struct raster_head *head, struct patch *p) {
    struct picture_rect r = p->rect;
    int x0, y0, x1, y1;
    exif_stored(head->orientation, head->width, head->height, r.x, r.y, &x0, &y0);
    exif_stored(head->orientation, head->width, head->height, r.x + r.w - 1, r.y + r.h - 1, &x1,
                &y1);
    p->stored_x = x0 < x1 ? x0 : x1;
    p->stored_y = y0 < y1 ? y0 : y1;
    p->stored_w = abs(x1 - x0) + 1;
    p->stored_h = abs(y1 - y0) + 1;
}

struct blocks *blocks_make(const struct raster_head *head, const struct picture_rect *rects,
                           size_t n) {
    struct blocks *b = calloc(1, sizeof *b);
    if (!b) return NULL;
    b->head = *head;
    b->n = n;
    for (size_t i = 0; i < n; i++) b->sums_n += blocks_in(rects[i]);
    b->patches = calloc(n + 1, sizeof *b->patches);
    b->sums = calloc(b->sums_n + 1, sizeof *b->sums);
    b->linear = calloc((size_t)head->width * 3, sizeof *b->linear);
    if (!b->patches || !b->sums || !b->linear) {
        blocks_free(b);
        return NULL;
    }
    struct sum *next = b->sums;
    for (size_t i = 0; i < n; i++) {
        struct patch *p = &b->patches[i];
        p->rect = rects[i];
        p->nx = side(rects[i].w);
        p->ny = side(rects[i].h);
        p->sums = next;
        next += blocks_in(rects[i]);
        place(head, p);
    }
    return b;
}

void blocks_free(struct blocks *b) {
    if (!b) return;
    free(b->patches);
    free(b->sums);
    free(b->linear);
    free(b);
}

/* The block whose pixels (from..to of its rectangle's side) hold this one. */
static int block_of(int at, int n, int pixels) {
    return (int)(((int64_t)(at + 1) * n - 1) / pixels);
}

static void add(struct sum *s, const float *linear, bool clipped, bool dark) {
    for (int c = 0; c < 3; c++) {
        double v = (double)linear[c];
        if (!s->n) s->first[c] = v;
        s->sum[c] += v - s->first[c];
        s->squares[c] += (v - s->first[c]) * (v - s->first[c]);
    }
    s->n++;
    s->clipped += clipped;
    s->dark += dark;
}

static void add_run(struct blocks *b, const struct patch *p, int y, const void *rgb) {
    const uint8_t *narrow = rgb;
    const uint16_t *wide = rgb;
    const struct raster_head *h = &b->head;
    for (int i = 0; i < p->stored_w; i++) {
        int x = p->stored_x + i, ux, uy;
        bool clipped = false, dark = true;
        for (size_t c = 0; c < 3; c++) {
            size_t k = 3 * (size_t)x + c;
            int v = h->bits == 16 ? wide[k] / 257 : narrow[k];
            clipped |= v >= CLIPPED;
            dark &= v <= DARK;
        }
        exif_upright(h->orientation, h->width, h->height, x, y, &ux, &uy);
        int bx = block_of(ux - p->rect.x, p->nx, p->rect.w),
            by = block_of(uy - p->rect.y, p->ny, p->rect.h);
        add(&p->sums[by * p->nx + bx], b->linear + 3 * (size_t)i, clipped, dark);
    }
}

void blocks_row(struct blocks *b, const struct profile *profile, int y, const void *rgb) {
    for (size_t i = 0; i < b->n; i++) {
        const struct patch *p = &b->patches[i];
        if (y < p->stored_y || y >= p->stored_y + p->stored_h) continue;
        size_t from = (size_t)p->stored_x * 3 * (size_t)(b->head.bits / 8);
        profile_linear(profile, (const uint8_t *)rgb + from, (size_t)p->stored_w, b->linear);
        add_run(b, p, y, rgb);
    }
}

/* Where block i of n begins on a side of so many pixels: block_of's other way round. */
static double edge(int i, int n, int pixels) {
    return (double)((int64_t)i * pixels / n);
}

static struct photo_block block(const struct blocks *b, const struct patch *p, int bx, int by) {
    const struct sum *s = &p->sums[by * p->nx + bx];
    double longer = b->head.width > b->head.height ? b->head.width : b->head.height, n = s->n;
    struct photo_block out = {.clipped_frac = s->clipped / n, .dark_frac = s->dark / n};
    for (int c = 0; c < 3; c++) {
        double mean = s->sum[c] / n, variance = s->squares[c] / n - mean * mean;
        out.rgb[c] = s->first[c] + mean;
        out.sd[c] = variance > 0 ? sqrt(variance) : 0;
    }
    out.x = p->rect.x + (edge(bx, p->nx, p->rect.w) + edge(bx + 1, p->nx, p->rect.w)) / 2;
    out.y = p->rect.y + (edge(by, p->ny, p->rect.h) + edge(by + 1, p->ny, p->rect.h)) / 2;
    out.x /= longer;
    out.y /= longer;
    return out;
}

static bool within(double v, double low, double high) {
    return isfinite(v) && v >= low && v <= high;
}

bool block_sound(const struct photo_block *b) {
    bool good = within(b->clipped_frac, 0, 1) && within(b->dark_frac, 0, 1) && within(b->x, 0, 1) &&
                within(b->y, 0, 1);
    for (int c = 0; c < 3; c++) good = good && within(b->rgb[c], -1, 4) && within(b->sd[c], 0, 4);
    return good;
}

enum status blocks_end(const struct blocks *b, struct photo_block **out, size_t *out_n,
                       struct why *why) {
    struct photo_block *rows = calloc(b->sums_n + 1, sizeof *rows);
    size_t n = 0;
    if (!rows) return why_say(why, E_MEMORY, "/photo", "There is not enough memory.");
    for (size_t i = 0; i < b->n; i++)
        for (int y = 0; y < b->patches[i].ny; y++)
            for (int x = 0; x < b->patches[i].nx; x++) rows[n++] = block(b, &b->patches[i], x, y);
    for (size_t i = 0; i < n; i++)
        if (!block_sound(&rows[i])) {
            free(rows);
            return why_say(why, E_SYNTAX, "/photo",
                           "The picture's color profile gives numbers that no light has: it is "
                           "broken. Save the picture as sRGB.");
        }
    *out = rows;
    *out_n = n;
    return OK;
}
