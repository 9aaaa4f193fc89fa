/* What runs short over all open pieces. */
#ifndef APP_SHORT_LIST_H
#define APP_SHORT_LIST_H

#include "app/gather.h"
#include "core/work/basis.h"

struct short_row {
    const char *product, *name, *class;
    const char **pieces; /* titles */
    double *wants_ml;    /* of each */
    size_t pieces_n;
    double need_ml, stock_ml, used_ml, buy_ml, cost_cent;
    int64_t cans;
    const char *cans_text;
    bool estimated;
};
extern const struct desc desc_short;

/* Each piece alone may have enough; together they may not. What the coats that are done took is no
 * longer needed; as far as nobody has logged it, it is reckoned to be gone from the shelf.
 *
 * Errors: E_MEMORY, E_IO. */
enum status short_find(struct op_call *call, const struct gathered *g, const struct plan *plan,
                       struct short_row **out_rows, size_t *out_n, struct why *why);

/* What all of it costs, with where that comes from ("/cost_cent"); NAN: of none a price is known.
 */
double short_cost(struct ledger *l, const struct short_row *rows, size_t n);

/* Where what is short, and what it costs, comes from. */
void short_explain(struct ledger *l, const struct short_row *rows, size_t n);

#endif
