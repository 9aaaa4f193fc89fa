/* What the last plan said of a piece, for lists. It can be computed again at any time, so it has no
 * revision and no history. */
#ifndef STORE_OUTLOOK_H
#define STORE_OUTLOOK_H

#include "store/store.h"

struct outlook {
    const char *piece, *next_step, *next_task, *blocked_by, *color_hex;
    double price_cent, cost_cent, hours;
    int64_t ready_utc_min;
    bool days_only; /* cost, hours and color stay as they were, and a price that is NAN */
};

/* Keeps the outlooks of pieces that were planned at `revision`. What is as it was is not written.
 * May be called while a reader is open. Errors: E_BUSY, E_IO. */
enum status outlook_keep(struct store *s, const struct outlook *rows, size_t n, int64_t revision,
                         struct why *why);

#endif
