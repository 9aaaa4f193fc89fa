/* Things marked in one picture, found again in the next picture of them. */
#ifndef APP_FIND_AGAIN_H
#define APP_FIND_AGAIN_H

#include "app/op.h"

#include <stddef.h>

struct found_place {
    double rect[4];    /* in pixels of the new picture */
    double difference; /* of its color there, CIEDE2000 after the common change of light */
};
struct find_answer {
    struct found_place *places;
    size_t places_n;
    double sure; /* 0..1: share of the things that see their color */
};
extern const struct desc desc_find_answer;

/* A rectangle of the first picture, and where it lies in the new one if somebody says so. */
struct find_thing {
    double rect[4];
    double at[2]; /* NAN: not said */
};

struct find_picture {
    const void *bytes;
    size_t n;
};

/*   things [n], 1..PHOTO_MARKS_MAX
 *   out    in call->arena
 *
 * Errors: those of picture_read, at "/from" and "/things/N/rect" (the first picture) or "/id" (the
 * new one), and of photo_find_again. */
enum status find_again(struct op_call *call, struct find_picture then, struct find_picture now,
                       const struct find_thing *things, size_t n, struct find_answer *out,
                       struct why *why);

#endif
