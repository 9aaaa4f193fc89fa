/* How long a search may run.
 *
 * Searches count steps of their own kind (documented with each search) and end after `steps`.
 * stop(), if given, is asked every few hundred steps at most; app sets it by clock or by cancel.
 * A search that ends by `steps` is deterministic; one that ends by stop() says so in its answer. */
#ifndef CORE_BASE_LIMIT_H
#define CORE_BASE_LIMIT_H

#include <stdbool.h>
#include <stdint.h>

struct limit {
    uint64_t steps; /* 0: no limit by steps */
    bool (*stop)(void *ctx);
    void *ctx;
};

static inline bool limit_asked(const struct limit *l) {
    return l && l->stop && l->stop(l->ctx);
}

#endif
