/* What a closed piece took of each product, planned beside actual. */
#ifndef APP_CLOSING_H
#define APP_CLOSING_H

#include "app/book.h"
#include "core/work/plan.h"

struct used_up { /* what was really used of a paint, over the whole piece */
    const char *paint;
    double amount_ml;
};
extern const struct desc desc_used_up, desc_closing_product;

/* Brings the shelf to what was really used: the piece's movements of each paint named are made up
 * to that amount, more or less. Errors: E_REFERENCE, E_DUPLICATE under /used. */
enum status closing_use(struct op_call *call, const char *piece, const struct used_up *used,
                        size_t n, struct why *why);

/* Cans of the plan that nobody logged anything of, and that are not among `used`: as planned. */
enum status closing_unlogged(struct op_call *call, const char *piece, const struct piece_plan *plan,
                             const struct used_up *used, size_t n, struct used_up **out,
                             size_t *out_n, struct why *why);

/* Products of the plan (NULL: none) and those that were used for the piece without being planned;
 * actual_ml is NAN where nothing was logged. */
enum status closing_products(struct op_call *call, const char *piece, const struct piece_plan *plan,
                             struct closing_product_row **out_rows, size_t *out_n, struct why *why);

/* Writes the closing's products: those of the plan (NULL: it could not be planned) and those that
 * were used for the piece without being planned. */
enum status closing_keep(struct op_call *call, const char *piece, const struct piece_plan *plan,
                         struct why *why);

/* Reads them. */
enum status closing_read(struct op_call *call, const char *piece,
                         struct closing_product_row **out_rows, size_t *out_n, struct why *why);

#endif
