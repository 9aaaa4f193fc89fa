/* What was found before for the very same question, kept by the caller.
 *
 * A search that is told of one (struct limit) hashes everything that its answer depends on, asks,
 * and leaves its answer behind when it was not stopped. The answer is the same with and without. */
#ifndef CORE_BASE_RECALL_H
#define CORE_BASE_RECALL_H

#include "core/base/arena.h"

#include <stdbool.h>
#include <stdint.h>

/* 128 bits over the question: two sums with different multipliers. Not against an adversary, who
 * could at worst be shown another of his own recipes. */
struct recall_key {
    uint64_t a, b;
};

struct recall {
    /* A copy of what was kept, in the arena; NULL: nothing. */
    void *(*find)(void *ctx, struct recall_key key, struct arena *arena, size_t *out_n);
    /* Takes a copy; may forget it at any time. */
    void (*keep)(void *ctx, struct recall_key key, const void *bytes, size_t n);
    void *ctx;
};

struct recall_key recall_begin(uint64_t kind); /* kind: of question, any number */
void recall_int(struct recall_key *k, int64_t v);
void recall_reals(struct recall_key *k, const double *v, size_t n);

#endif
