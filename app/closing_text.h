/* Closed pieces as people read them in a terminal: planned beside actual. */
#ifndef APP_CLOSING_TEXT_H
#define APP_CLOSING_TEXT_H

#include "app/closing.h"

struct closing_view {
    struct closing_row row; /* first: its members are described where they are */
    struct closing_product_row *products;
    size_t products_n;
    double unbooked_cent; /* NAN: all of the price stands under Money */
    bool sale;            /* no client pays: what comes in is a sale */
};

/* Lines of what it came to, from column `indent` on. */
void closing_lines(struct arena *arena, enum unit_system units, const struct closing_view *v,
                   size_t indent, struct text *out);

/* What of the price is in no books, and how it gets there, as a sentence; NULL: all of it is, or no
 * memory. */
const char *closing_unbooked(struct arena *arena, enum unit_system units,
                             const struct closing_view *v);

/* Appends each piece, newest first as they come, and how the list goes on. Errors: E_MEMORY, those
 * of the shop's document. */
enum status closings_print(struct op_call *call, const struct list_answer *list, struct why *why);

#endif
