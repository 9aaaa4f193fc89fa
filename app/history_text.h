/* A list of changes as people read it in a terminal. */
#ifndef APP_HISTORY_TEXT_H
#define APP_HISTORY_TEXT_H

#include "app/op.h"

struct changed { /* one value of one row */
    const char *of, *member, *before, *after;
};
struct history_row {
    int64_t revision, at_utc_min, undoes, undone_by;
    const char *operation, *done, *what;
    struct changed *changed;
    size_t changed_n;
    bool final; /* it wrote no row that is kept in the log: it cannot be taken back */
};

/* A change a paragraph: its number, when, what; the values that it changed below.
 *   piece  whose history it is; NULL: the book's
 *   next   where the next page begins; NULL: that was all
 * Errors: E_MEMORY, those of the shop's document. */
enum status history_print(struct op_call *call, const struct history_row *rows, size_t n,
                          const char *piece, const char *next, struct why *why);

#endif
