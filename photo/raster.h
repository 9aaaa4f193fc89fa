/* What a decoder tells of a picture, and whom it gives the pixels: row by row, as stored. */
#ifndef PHOTO_RASTER_H
#define PHOTO_RASTER_H

#include "core/base/status.h"
#include "photo/format.h"

/* Where no profile is embedded: how the file says that its numbers are meant. */
enum raster_space {
    SPACE_UNSAID, /* taken as sRGB, as the web and cameras do */
    SPACE_SRGB,
    SPACE_WIDE, /* Adobe RGB (1998), of DCF's option files */
    SPACE_GIVEN /* primaries, white and a curve of their own: PNG's cHRM and gAMA, or cICP */
};

struct raster_head {
    enum picture_format format;
    int width, height;  /* as stored; 1.. */
    int orientation;    /* Exif's 1..8 */
    int bits;           /* a channel of the rows that follow: 8 or 16 */
    const uint8_t *icc; /* embedded profile, NULL when there is none; lives as long as the rows */
    size_t icc_n;
    enum raster_space space;
    /* SPACE_GIVEN: xy of red, green, blue, white; gamma 0 is sRGB's curve */
    double xy[8], gamma;
};

/* Who wants the pixels. head is called once; anything but OK ends the work with it. RASTER_ENOUGH
 * from head: the rows are not wanted. A row is width x RGB of 8 or (machine order) 16 bits; gray is
 * given as equal values; transparency is left out. */
struct raster {
    enum status (*head)(void *ctx, const struct raster_head *head, bool *out_enough,
                        struct why *why);
    void (*row)(void *ctx, int y, const void *rgb);
    void *ctx;
};

/* One decoder a format; the bytes need not be anything in particular. Errors: E_SYNTAX (broken, cut
 * off), E_DOMAIN (something of the format that is not read: CMYK, moving pictures), E_TOO_LARGE,
 * E_MEMORY, and what head returned. */
enum status jpeg_decode(const uint8_t *p, size_t n, const struct raster *to, struct why *why);
enum status png_decode(const uint8_t *p, size_t n, const struct raster *to, struct why *why);
enum status webp_decode(const uint8_t *p, size_t n, const struct raster *to, struct why *why);
enum status heic_decode(const uint8_t *p, size_t n, const struct raster *to, struct why *why);

/* By the first bytes. E_TYPE: none of the formats that are read. */
enum status raster_decode(const uint8_t *p, size_t n, const struct raster *to, struct why *why);

/* Loads what the libraries load when first used, so that nothing needs a file later on. */
void raster_prepare(void);

/* E_TOO_LARGE beyond PICTURE_PIXELS_MAX, said in words; each decoder asks before it takes memory.
 */
enum status raster_bounds(uint64_t width, uint64_t height, struct why *why);

#endif
