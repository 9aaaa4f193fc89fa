/* One simulated photograph: patches laid out on a table, lit, seen by a camera, written as JPEG.
 *
 * What is simulated: white balance off, light uneven (plane and falling toward the corners), noise,
 * tone curve on half of the pictures, 8 bit in sRGB or Display P3, JPEG of quality 90 and back.
 * What is not: local tone mapping, gloss, texture, flare, sharpening halos of real phones. */
#ifndef BENCH_PHOTO_PICTURE_H
#define BENCH_PHOTO_PICTURE_H

#include "bench/photo_world.h"
#include "core/photo/photo.h"

enum picture_fault {
    FAULT_NONE,
    FAULT_CLIP,   /* exposed so that the target is at the end of the scale */
    FAULT_DARK,   /* exposed two to four stops too dark, or more */
    FAULT_GLARE,  /* a bright reflection over a part of the target */
    FAULT_WRONG,  /* the stated color of one reference is another's */
    FAULT_MIXED,  /* a second light of another color from one side */
    FAULT_SHADOW, /* a shadow's edge across the target or some references */
    FAULTS
};

/* Everything that makes a picture what it is, apart from the patches. */
struct picture_setup {
    size_t camera, light, light2;
    enum rgb_space space;
    double balance[3];             /* white balance error, factors on the sensor */
    double lamp;                   /* share of the matrix for lamps, photo_world_see */
    double exposure;               /* linear, of the perfect white in the best light */
    double curve;                  /* steepness of the tone curve; 0: none */
    double saturation;             /* 1: as the maker's matrix has it */
    double slope[2];               /* of the light, over the longer side */
    double vignette;               /* loss in the corners */
    double noise;                  /* at white; grows as the square root of light */
    double mixed, mixed_direction; /* share of the second light at its side; angle */
    double shadow, shadow_direction, shadow_at[2],
        shadow_soft;                         /* factor of light behind the edge */
    double glare, glare_at[2], glare_radius; /* added white light */
    uint64_t seed;
};

struct picture_patch {
    struct surface surface;
    int x, y, w, h;
};

enum { PICTURE_W = 720, PICTURE_H = 540, PICTURE_PATCHES_MAX = 80, PICTURE_QUALITY = 90 };

struct picture {
    unsigned char rgb[PICTURE_H * PICTURE_W * 3];
    enum rgb_space space;
};

/* Renders; jpeg: with the round trip through JPEG. */
void picture_take(const struct photo_world *w, const struct picture_setup *s,
                  const struct picture_patch *patches, size_t n, bool jpeg, struct picture *out);

/* The same colors in a file of the other space: every pixel converted and rounded again. Colors
 * outside that space are clipped. */
void picture_convert(const struct picture *p, enum rgb_space space, struct picture *out);

/* The blocks of a rectangle, as photo/ makes them; returns how many. out [PHOTO_BLOCKS_MAX] */
size_t picture_blocks(const struct picture *p, int x, int y, int w, int h, struct photo_block *out);

/* JPEG bytes of a picture (sRGB without profile); the caller frees. */
unsigned char *picture_jpeg(const struct picture *p, unsigned long *out_bytes);

#endif
