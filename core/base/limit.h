/* How long a search may run, and what it may remember.
 *
 * Searches count steps of their own kind (documented with each search) and end after `steps`.
 * stop(), if given, is asked every few hundred steps at most; app sets it by clock or by cancel.
 * A search that ends by `steps` is deterministic; one that ends by stop() says so in its answer. */
#ifndef CORE_BASE_LIMIT_H
#define CORE_BASE_LIMIT_H

#include <stdbool.h>
#include <stdint.h>

struct recall; /* core/base/recall.h */

struct limit {
    uint64_t steps; /* 0: no limit by steps */
    bool (*stop)(void *ctx);
    void *ctx;
    const struct recall *recall; /* what was found before; or NULL */
};

static inline bool limit_asked(const struct limit *l) {
    return l && l->stop && l->stop(l->ctx);
}

#endif
