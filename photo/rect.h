/* A rectangle of pixels: x, y of its upper left corner, the upright picture's own. */
#ifndef PHOTO_RECT_H
#define PHOTO_RECT_H

#include <stdbool.h>

struct picture_rect {
    int x, y, w, h;
};

static inline bool rect_inside(struct picture_rect r, int w, int h) {
    return r.x >= 0 && r.y >= 0 && r.w > 0 && r.h > 0 && r.x <= w - r.w && r.y <= h - r.h;
}

#endif
