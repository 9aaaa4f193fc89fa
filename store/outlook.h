/* What the last plan said of a piece, for lists. It can be computed again at any time, so it has no
 * revision and no history. */
#ifndef STORE_OUTLOOK_H
#define STORE_OUTLOOK_H

#include "store/store.h"

/* What of it is new; the rest stays as it was. */
enum outlook_part {
    OUTLOOK_ALL,
    OUTLOOK_DAYS,  /* not cost, hours and color, nor a price that is NAN: no recipe was searched */
    OUTLOOK_MONEY, /* price, cost, hours and color: no days were planned */
};

struct outlook {
    const char *piece, *next_step, *next_task, *blocked_by, *color_hex;
    double price_cent, cost_cent, hours;
    int64_t ready_utc_min;
    enum outlook_part part;
};

/* Keeps the outlooks of pieces that were planned at `revision`. What is as it was is not written.
 * May be called while a reader is open. Errors: E_BUSY, E_IO. */
enum status outlook_keep(struct store *s, const struct outlook *rows, size_t n, int64_t revision,
                         struct why *why);

#endif
