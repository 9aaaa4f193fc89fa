/* A table full of references and targets, laid out at random, and the pictures taken of it. */
#ifndef BENCH_PHOTO_SCENE_H
#define BENCH_PHOTO_SCENE_H

#include "bench/photo_picture.h"

enum reference_set {
    SET_WHITE,
    SET_GRAY,
    SET_STRIP,
    SET_CHIPS6,
    SET_CHIPS12,
    SET_CHART24,
    SET_PAPER6, /* paper and six chips */
    SETS
};
const char *reference_set_name(enum reference_set s);

enum {
    SCENE_PAPER = 0,
    SCENE_GRAY = 1,
    SCENE_STRIP = 2, /* 3 */
    SCENE_CHIPS = 5, /* 12 */
    SCENE_CHART = 17,
    SCENE_TARGET = 41,
    SCENE_TARGETS = 8,
    SCENE_PATCHES = SCENE_TARGET + SCENE_TARGETS
};

/* Targets: 0 and 3 at random, 1 and 4 the same pigments in other amounts, 2 and 5 the nearest mix
 * of other pigments, 6 and 7 at random, one of them a measured watercolor. */
struct scene {
    struct picture_patch patch[SCENE_PATCHES];
    struct lab stated[SCENE_PATCHES]; /* of references: true color, off by 0.5 per axis */
};

void scene_make(const struct photo_world *w, struct random *r, struct scene *out);
/* The places are dealt anew; swap: targets 0 and 1, 3 and 4 change places instead. */
void scene_deal(struct scene *s, struct random *r);
void scene_swap(struct scene *s);

/* Camera and light are the caller's; the rest at random, without fault. */
struct picture_setup scene_setup(size_t camera, size_t light, struct random *r);

/* Adds one strong fault that concerns target 0 (or one strip step, chip and patch get a wrong
 * color). */
void scene_fault(const struct photo_world *w, struct scene *s, struct picture_setup *setup,
                 enum picture_fault fault, struct random *r);
const char *picture_fault_name(enum picture_fault f);

/* All blocks of a picture of a scene, and shots made of them. */
struct scene_blocks {
    struct photo_block block[SCENE_PATCHES][PHOTO_BLOCKS_MAX];
    size_t n[SCENE_PATCHES];
};
void scene_read(const struct scene *s, const struct picture *p, struct scene_blocks *out);

struct scene_shot {
    struct photo_reference reference[32];
    size_t index[32]; /* of the patch */
    struct photo_patch target[SCENE_TARGETS];
    struct photo_shot shot;
};
void scene_shot(const struct scene *s, const struct scene_blocks *b, enum reference_set set,
                struct scene_shot *out);

#endif
