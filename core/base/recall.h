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

struct limit; /* core/base/limit.h */

struct recall {
    /* A copy of what was kept, in the arena; NULL: nothing, and the caller is now the one who finds
     * it out: keep or drop must follow, on the same thread. Where another thread is finding out the
     * same, waits for its answer, as long as the limit allows. While it finds out, a thread asks
     * for nothing else, so no two can wait for each other. */
    void *(*find)(void *ctx, struct recall_key key, const struct limit *limit, struct arena *arena,
                  size_t *out_n);
    /* Takes a copy; may forget it at any time. */
    void (*keep)(void *ctx, struct recall_key key, const void *bytes, size_t n);
    /* There will be no answer: one of those that wait finds it out itself. */
    void (*drop)(void *ctx, struct recall_key key);
    void *ctx;
};

struct recall_key recall_begin(uint64_t kind); /* kind: of question, any number */
void recall_int(struct recall_key *k, int64_t v);
void recall_reals(struct recall_key *k, const double *v, size_t n);

#endif
