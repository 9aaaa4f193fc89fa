/* Reading pictures that came from outside, in a process of their own.
 *
 * The decoders of picture formats are large, old and fed with whatever somebody made; so they run
 * in a copy of this program that has locked itself in (photo/confine.h): a broken picture can only
 * fail itself. Its answer is taken apart with as much care as any other input. */
#ifndef PHOTO_PICTURE_H
#define PHOTO_PICTURE_H

#include "core/base/limit.h"
#include "core/base/status.h"
#include "photo/blocks.h"
#include "photo/format.h"
#include "photo/rect.h"

#include <stdbool.h>
#include <stddef.h>

enum { PICTURE_RECTS_MAX = 288, PICTURE_SIDE_MAX = 2400 };

struct picture_ask {
    const struct picture_rect *rects; /* [rects_n] of the upright picture, each inside it */
    size_t rects_n;
    int preview_side;         /* the longer side of the small picture at most; 0: none wanted */
    struct picture_rect crop; /* of what; w 0: of all */
};

struct picture_facts {
    enum picture_format format;
    int width, height; /* upright */
    int orientation;   /* Exif's 1..8, as the file says it */
    int bits;          /* a channel */
    char profile[64];  /* name of the color profile, or how the numbers were taken */
    bool profile_embedded;
};

struct picture_answer {
    struct picture_facts facts;
    struct photo_block *blocks; /* [blocks_n]: blocks_in of the first rectangle, and so on */
    size_t blocks_n;
    void *preview; /* JPEG in sRGB; NULL when it was not asked for */
    size_t preview_n;
};

/* Reads a picture in a confined process.
 *
 *   bytes   the file, at most 30 MB; its first bytes decide what it is
 *   limit   stop() is asked ten times a second; NULL: nobody stops it
 *   out     yours; picture_free
 *
 * Errors, at "/photo" or "/rects/N": E_TYPE (not a picture), E_SYNTAX (broken), E_TOO_LARGE (over
 * 30 MB, over 50 megapixels, over its memory), E_DOMAIN (a rectangle outside, CMYK ...), E_LIMIT
 * (stopped, or over its time), E_IO (the process cannot be started or locked in), E_MEMORY. */
enum status picture_read(const void *bytes, size_t n, const struct picture_ask *ask,
                         const struct limit *limit, struct picture_answer *out, struct why *why);
void picture_free(struct picture_answer *a);

/* The same in this process, without any protection: for the worker itself, fuzzing and benches. */
enum status picture_read_here(const void *bytes, size_t n, const struct picture_ask *ask,
                              struct picture_answer *out, struct why *why);

/* First thing in main of every program that reads pictures: does the worker's work and never
 * returns when this process was started as one, else does nothing. */
void picture_worker(int argc, char **argv);

/* What a worker can do that it must not (photo/confine.h); "" nothing, NULL: it did not start. For
 * a test. */
const char *picture_worker_leak(void);

#endif
