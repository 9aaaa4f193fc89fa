/* The shelf in the book, for the operations beside this one. */
#ifndef APP_OP_SHELF_H
#define APP_OP_SHELF_H

#include "app/book.h"

extern const struct desc desc_paint_row;

/* Enters a paint from its document as typed; a stock that it says becomes a stock take. Errors
 * point below `member`. */
enum status paint_enter(struct op_call *call, const char *document, const char *member,
                        struct paint_row *out_row, struct why *why);

/* The name, or where a paint of the shelf has it, "NAME 2" and so on. */
enum status paint_free_name(struct op_call *call, const char *name, const char **out,
                            struct why *why);

/* E_CONFLICT at `member` when two paints of the shelf have one name (core/base/name.h). */
enum status paint_names_differ(struct op_call *call, const char *member, struct why *why);

/* Adds a movement of a paint that is there; piece, batch, note may be NULL. */
enum status paint_move(struct op_call *call, const char *paint, const char *kind, double amount_ml,
                       double cost_cent, const char *piece, const char *batch, const char *note,
                       struct why *why);

/* Why a stock changes, as a person says it. */
enum stock_move {
    STOCK_UNSAID,
    STOCK_BOUGHT,
    STOCK_USED,
    STOCK_COUNTED, /* so much is left */
    STOCK_THROWN
};
extern const char *const words_stock_move[];
/* What comes (+) or goes (-) when `said` was bought, used, counted or thrown away of what is
 * `there`; all in one unit. */
double stock_moved(enum stock_move kind, double said, double there);

#endif
