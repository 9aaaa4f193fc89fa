/* The shelf as people read it in a terminal. */
#ifndef APP_PAINT_TEXT_H
#define APP_PAINT_TEXT_H

#include "app/op.h"
#include "store/rows.h"

/* Two lines a paint: its id and name; its kind, color, how much is left, cost.
 *   next  where the next page begins; NULL: that was all
 * Errors: E_MEMORY, those of the shop's document. */
enum status paints_print(struct op_call *call, const struct paint_row *rows, size_t n,
                         const char *next, struct why *why);

/* Supplies, the same way: the id and name; how many are left, the cost of one, the kind. */
enum status supplies_print(struct op_call *call, const struct supply_row *rows, size_t n,
                           const char *next, struct why *why);

#endif
