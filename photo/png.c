/* PNG: row by row, or as a whole where the file is interlaced. */
#include "photo/exif.h"
#include "photo/raster.h"

#include <math.h>
#include <png.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct png {
    png_structp png;
    png_infop info;
    const uint8_t *p;
    size_t n, at;
    char text[120];
    uint8_t *rows;
};

static void fail(png_structp png, png_const_charp text) {
    struct png *x = png_get_error_ptr(png);
    snprintf(x->text, sizeof x->text, "%s", text);
    longjmp(png_jmpbuf(png), 1);
}

static void warn(png_structp png, png_const_charp text) {
    (void)png, (void)text;
}

static void take(png_structp png, png_bytep to, size_t n) {
    struct png *x = png_get_io_ptr(png);
    if (n > x->n - x->at) png_error(png, "it ends too early");
    memcpy(to, x->p + x->at, n);
    x->at += n;
}

static uint32_t big32(const uint8_t *p) {
    return (uint32_t)p[0] << 24 | (uint32_t)p[1] << 16 | (uint32_t)p[2] << 8 | p[3];
}

/* A chunk anywhere in the file: Exif may stand behind the pixels. */
static const uint8_t *chunk(const uint8_t *p, size_t n, const char *name, size_t *out_n) {
    for (size_t at = 8; at + 12 <= n;) {
        size_t k = big32(p + at);
        if (k > n - at - 12) break;
        if (!memcmp(p + at + 4, name, 4)) {
            *out_n = k;
            return p + at + 8;
        }
        at += 12 + k;
    }
    return NULL;
}

/* Coding-independent code points (H273) win over all else (PNG 3rd edition, 11.3.2.6).
 */
static enum status read_cicp(const uint8_t *c, struct raster_head *head, struct why *why) {
    static const double p3[8] = {.680, .320, .265, .690, .150, .060, .3127, .3290},
                        bt2020[8] = {.708, .292, .170, .797, .131, .046, .3127, .3290};
    if (c[1] == 16 || c[1] == 18)
        return why_say(why, E_DOMAIN, "/photo",
                       "The picture is coded for high dynamic range. Save it as plain sRGB or "
                       "Display P3.");
    if (c[0] == 1) head->space = SPACE_SRGB;
    if (c[0] == 12 || c[0] == 9) {
        head->space = SPACE_GIVEN;
        memcpy(head->xy, c[0] == 12 ? p3 : bt2020, sizeof head->xy);
    }
    if (c[0] == 1 || c[0] == 12 || c[0] == 9) head->icc = NULL, head->icc_n = 0;
    return OK;
}

static enum status read_space(struct png *x, struct raster_head *head, struct why *why) {
    png_charp name;
    int method, intent;
    png_bytep icc;
    png_uint_32 icc_n;
    double xy[8], gamma;
    size_t n;
    bool wide;
    const uint8_t *at = chunk(x->p, x->n, "eXIf", &n);
    if (at) head->orientation = exif_orientation(at, n, &wide);
    if (png_get_iCCP(x->png, x->info, &name, &method, &icc, &icc_n) == PNG_INFO_iCCP) {
        head->icc = icc;
        head->icc_n = icc_n;
    } else if (png_get_sRGB(x->png, x->info, &intent) == PNG_INFO_sRGB) {
        head->space = SPACE_SRGB;
    } else if (png_get_gAMA(x->png, x->info, &gamma) == PNG_INFO_gAMA && gamma > 0.1 &&
               gamma < 1.1) {
        static const double srgb[8] = {.64, .33, .30, .60, .15, .06, .3127, .3290};
        head->space = SPACE_GIVEN;
        /* gAMA 0.45455 is how files without sRGB's chunk say sRGB */
        head->gamma = gamma > 0.4544 && gamma < 0.4547 ? 0 : 1 / gamma;
        memcpy(head->xy, srgb, sizeof srgb);
        if (png_get_cHRM(x->png, x->info, &xy[6], &xy[7], &xy[0], &xy[1], &xy[2], &xy[3], &xy[4],
                         &xy[5]) == PNG_INFO_cHRM)
            memcpy(head->xy, xy, sizeof xy);
        double apart = head->gamma;
        for (int i = 0; i < 8; i++) apart = fmax(apart, fabs(head->xy[i] - srgb[i]));
        if (apart < 0.0005) head->space = SPACE_SRGB;
    }
    at = chunk(x->p, x->n, "cICP", &n);
    return at && n >= 4 ? read_cicp(at, head, why) : OK;
}

static enum status read_all(struct png *x, const struct raster *to, struct why *why) {
    struct raster_head head = {.format = PICTURE_PNG, .orientation = 1};
    bool enough = false;
    png_set_read_fn(x->png, x, take);
    png_set_chunk_malloc_max(x->png, PICTURE_FILE_MAX); /* a chunk may claim to be 2 GB long */
    png_read_info(x->png, x->info);
    enum status s = raster_bounds(png_get_image_width(x->png, x->info),
                                  png_get_image_height(x->png, x->info), why);
    if (s) return s;
    head.width = (int)png_get_image_width(x->png, x->info);
    head.height = (int)png_get_image_height(x->png, x->info);
    head.bits = png_get_bit_depth(x->png, x->info) == 16 ? 16 : 8;
    if ((s = read_space(x, &head, why))) return s;
    s = to->head(to->ctx, &head, &enough, why);
    if (s || enough) return s;
    png_set_expand(x->png);
    png_set_gray_to_rgb(x->png);
    png_set_strip_alpha(x->png);
    if (head.bits == 16) png_set_swap(x->png);
    int passes = png_set_interlace_handling(x->png);
    png_read_update_info(x->png, x->info);
    size_t stride = png_get_rowbytes(x->png, x->info);
    if (stride != (size_t)head.width * 3 * (size_t)(head.bits / 8))
        png_error(x->png, "its rows have an odd length");
    x->rows = calloc(passes > 1 ? (size_t)head.height : 1, stride);
    if (!x->rows) return why_say(why, E_MEMORY, "/photo", "The picture needs too much memory.");
    for (int pass = 0; pass < passes; pass++)
        for (int y = 0; y < head.height; y++) {
            uint8_t *row = x->rows + (passes > 1 ? (size_t)y * stride : 0);
            png_read_row(x->png, row, NULL);
            if (pass == passes - 1) to->row(to->ctx, y, row);
        }
    png_read_end(x->png, NULL);
    return OK;
}

enum status png_decode(const uint8_t *p, size_t n, const struct raster *to, struct why *why) {
    struct png *x = calloc(1, sizeof *x);
    enum status s = E_MEMORY;
    if (!x) return why_say(why, E_MEMORY, "/photo", "There is not enough memory.");
    x->p = p;
    x->n = n;
    x->png = png_create_read_struct(PNG_LIBPNG_VER_STRING, x, fail, warn);
    x->info = x->png ? png_create_info_struct(x->png) : NULL;
    if (!x->info)
        why_say(why, E_MEMORY, "/photo", "There is not enough memory.");
    else if (setjmp(png_jmpbuf(x->png)))
        s = why_say(why, E_SYNTAX, "/photo", "The PNG is broken or cut off (%.100s).", x->text);
    else
        s = read_all(x, to, why);
    png_destroy_read_struct(&x->png, &x->info, NULL);
    free(x->rows);
    free(x);
    return s;
}
