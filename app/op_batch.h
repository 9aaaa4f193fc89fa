/* Batches in the book, for the operations beside this one. */
#ifndef APP_OP_BATCH_H
#define APP_OP_BATCH_H

#include "app/book.h"

enum { BATCH_ITEMS = 16 };

struct batch_part { /* one paint of it, all its pours together */
    const char *paint, *name, *hex;
    const char *text; /* in the shop's measure: "3 tbsp + 1/2 tsp"; NULL in lists */
    double parts, amount_ml;
};
struct batch_view {
    struct batch_row row;
    struct batch_part *items;
    size_t items_n;
    double difference;  /* of what it dried to; NAN: not read, or no target */
    double left_ml;     /* of it on the shelf; NAN: not put there */
    const char *ticked; /* task that logging it did; NULL: none */
    const char *past;   /* what was poured that the shelf had not; NULL: nothing */
};
extern const struct desc desc_batch; /* struct batch_view */

/* The batch of that id with all that its row does not say. Errors: E_NOT_FOUND, E_IO, E_MEMORY. */
enum status batch_get(struct op_call *call, const char *id, struct batch_view *v, struct why *why);
/* The same, where v->row was read already. */
enum status batch_fill(struct op_call *call, struct batch_view *v, struct why *why);

#endif
