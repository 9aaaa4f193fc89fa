/* Pictures made for tests, in every format that is read, with what belongs into their heads. */
#ifndef TEST_PHOTO_MADE_H
#define TEST_PHOTO_MADE_H

#include "photo/format.h"

#include <stddef.h>
#include <stdint.h>

struct made {
    int w, h;
    const uint8_t *rgb;    /* [w * h * 3] as stored */
    const uint16_t *rgb16; /* PNG alone: instead of rgb */
    int orientation;       /* 0: not said */
    const void *icc;
    size_t icc_n;
    bool interlaced; /* PNG: Adam7; JPEG: progressive */
    int quality;     /* JPEG; 0: 95 */
};

/* The file's bytes, malloc; NULL when this format cannot be written here. */
uint8_t *made_file(enum picture_format format, const struct made *m, size_t *out_n);

uint8_t *made_cmyk_jpeg(size_t *out_n);

/* ICC profiles as bytes, malloc. */
uint8_t *made_profile_p3(size_t *out_n);                  /* Display P3: sRGB's curve */
uint8_t *made_profile_p3_linear(size_t *out_n);           /* the same primaries, gamma 1 */
uint8_t *made_profile_gamma(double gamma, size_t *out_n); /* other primaries, one power */
uint8_t *made_profile_table(size_t *out_n);               /* curves as tables of 1,024 values */
uint8_t *made_profile_grid(size_t *out_n); /* a grid of colors (A2B0), channels that mix */

#endif
