#include "photo/preview.h"

#include "photo/exif.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jpeglib.h>

struct preview {
    struct raster_head head;
    struct picture_rect from; /* of the stored picture */
    int w, h;                 /* of the small one, still as stored */
    int at;                   /* its row that is being summed up */
    int *column;              /* [from.w] where each stored column goes */
    uint32_t *count;          /* [w] */
    uint64_t *sum;            /* [w * 3] of 16 bits */
    uint8_t *rgb;             /* [w * h * 3] */
};

/* The stored rectangle of an upright one. */
static struct picture_rect stored_rect(const struct raster_head *head, struct picture_rect r) {
    int x0, y0, x1, y1, w = head->width, h = head->height, o = head->orientation;
    exif_stored(o, w, h, r.x, r.y, &x0, &y0);
    exif_stored(o, w, h, r.x + r.w - 1, r.y + r.h - 1, &x1, &y1);
    return (struct picture_rect){x0 < x1 ? x0 : x1, y0 < y1 ? y0 : y1, abs(x1 - x0) + 1,
                                 abs(y1 - y0) + 1};
}

struct preview *preview_make(const struct raster_head *head, struct picture_rect crop, int side) {
    struct preview *v = calloc(1, sizeof *v);
    if (!v) return NULL;
    v->head = *head;
    v->from = stored_rect(head, crop);
    int longer = v->from.w > v->from.h ? v->from.w : v->from.h;
    if (side > longer) side = longer;
    v->w = (int)((int64_t)v->from.w * side / longer);
    v->h = (int)((int64_t)v->from.h * side / longer);
    if (v->w < 1) v->w = 1;
    if (v->h < 1) v->h = 1;
    size_t w = (size_t)v->w;
    v->column = calloc((size_t)v->from.w, sizeof *v->column);
    v->count = calloc(w, sizeof *v->count);
    v->sum = calloc(w * 3, sizeof *v->sum);
    v->rgb = calloc(w * 3, (size_t)v->h);
    if (!v->column || !v->count || !v->sum || !v->rgb) {
        preview_free(v);
        return NULL;
    }
    for (int x = 0; x < v->from.w; x++) v->column[x] = (int)((int64_t)x * v->w / v->from.w);
    return v;
}

void preview_free(struct preview *v) {
    if (!v) return;
    free(v->column);
    free(v->count);
    free(v->sum);
    free(v->rgb);
    free(v);
}

static void finish_row(struct preview *v) {
    uint8_t *to = v->rgb + (size_t)v->at * (size_t)v->w * 3;
    for (size_t x = 0; x < (size_t)v->w; x++)
        for (size_t c = 0; v->count[x] && c < 3; c++)
            to[3 * x + c] = (uint8_t)((v->sum[3 * x + c] / v->count[x] * 255 + 32767) / 65535);
    memset(v->sum, 0, sizeof *v->sum * 3 * (size_t)v->w);
    memset(v->count, 0, sizeof *v->count * (size_t)v->w);
}

void preview_row(struct preview *v, int y, const void *rgb) {
    if (y < v->from.y || y >= v->from.y + v->from.h) return;
    int to = (int)((int64_t)(y - v->from.y) * v->h / v->from.h);
    if (to != v->at) finish_row(v);
    v->at = to;
    const uint8_t *narrow = (const uint8_t *)rgb + 3 * (size_t)v->from.x;
    const uint16_t *wide = (const uint16_t *)rgb + 3 * (size_t)v->from.x;
    for (int x = 0; x < v->from.w; x++) {
        size_t k = (size_t)v->column[x], i = 3 * (size_t)x;
        v->count[k]++;
        for (size_t c = 0; c < 3; c++)
            v->sum[3 * k + c] += v->head.bits == 16 ? wide[i + c] : narrow[i + c] * 257u;
    }
}

static bool encode(const uint8_t *rgb, int w, int h, uint8_t **out, size_t *out_n) {
    struct jpeg_compress_struct c;
    struct jpeg_error_mgr errors;
    unsigned long n = 0;
    c.err = jpeg_std_error(&errors);
    jpeg_create_compress(&c);
    jpeg_mem_dest(&c, out, &n);
    c.image_width = (JDIMENSION)w;
    c.image_height = (JDIMENSION)h;
    c.input_components = 3;
    c.in_color_space = JCS_RGB;
    jpeg_set_defaults(&c);
    jpeg_set_quality(&c, 88, TRUE);
    jpeg_start_compress(&c, TRUE);
    for (size_t y = 0; y < (size_t)h; y++) {
        JSAMPROW row = (JSAMPROW)(uintptr_t)(rgb + y * (size_t)w * 3);
        jpeg_write_scanlines(&c, &row, 1);
    }
    jpeg_finish_compress(&c);
    jpeg_destroy_compress(&c);
    *out_n = n;
    return *out != NULL;
}

enum status preview_end(struct preview *v, const struct profile *profile, uint8_t **out,
                        size_t *out_n, struct why *why) {
    bool swaps = exif_swaps(v->head.orientation);
    int w = swaps ? v->h : v->w, h = swaps ? v->w : v->h;
    finish_row(v);
    uint8_t *up = malloc((size_t)w * (size_t)h * 3);
    if (!up) return why_say(why, E_MEMORY, "/photo", "There is not enough memory.");
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            int sx, sy;
            exif_stored(v->head.orientation, v->w, v->h, x, y, &sx, &sy);
            memcpy(up + 3 * ((size_t)y * (size_t)w + (size_t)x),
                   v->rgb + 3 * ((size_t)sy * (size_t)v->w + (size_t)sx), 3);
        }
    profile_show(profile, up, (size_t)w * (size_t)h, up);
    *out = NULL;
    bool good = encode(up, w, h, out, out_n);
    free(up);
    return good ? OK : why_say(why, E_MEMORY, "/photo", "There is not enough memory.");
}
