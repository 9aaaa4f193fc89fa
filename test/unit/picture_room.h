/* Small pictures of six fields, made for tests, and read as the program reads them. */
#ifndef TEST_UNIT_PICTURE_ROOM_H
#define TEST_UNIT_PICTURE_ROOM_H

#include "photo/picture.h"
#include "test/check.h"
#include "test/photo/made.h"

#include <stdlib.h>

enum { W = 60, H = 40, CELL = 20 };
static const enum picture_format all[] = {PICTURE_JPEG, PICTURE_PNG, PICTURE_WEBP, PICTURE_HEIC};

/* 3 x 2 cells of these encoded values */
static const uint8_t cells[2][3][3] = {{{200, 40, 30}, {30, 160, 60}, {20, 50, 180}},
                                       {{128, 128, 128}, {240, 220, 90}, {60, 30, 90}}};

static inline void paint(uint8_t *rgb) {
    for (int y = 0; y < H; y++)
        for (int x = 0; x < W; x++) memcpy(rgb + 3 * (y * W + x), cells[y / CELL][x / CELL], 3);
}

static inline enum status read_file(uint8_t *file, size_t n, const struct picture_ask *ask,
                                    struct picture_answer *a, struct why *why) {
    memset(why, 0, sizeof *why);
    enum status s = picture_read(file, n, ask, NULL, a, why);
    free(file);
    return s;
}

#endif
