/* What passes between the program and its worker: same binary, so plain structs. */
#ifndef PHOTO_WORKER_H
#define PHOTO_WORKER_H

#include "photo/picture.h"

#include <stdint.h>

/* argv[0] of a worker: no word that anybody can type makes one. */
#define WORKER_NAME "coatwright: picture worker"

enum { WORKER_ASK_FD = 0, WORKER_ANSWER_FD = 1, WORKER_PREVIEW_MAX = 32 << 20 };

/* At the start of the memory that the worker is given; then the rectangles, then the picture. */
struct worker_ask {
    uint32_t rects_n;
    int32_t preview_side, probe; /* probe: tell what the process can still do */
    struct picture_rect crop;
    uint64_t bytes_n;
};

/* Through the pipe; then the blocks, then the preview. */
struct worker_answer {
    int32_t status;
    struct why why;
    struct picture_facts facts;
    uint64_t blocks_n, preview_n;
};

#endif
