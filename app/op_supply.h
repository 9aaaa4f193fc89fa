/* Supplies in the book, for the operations beside this one. */
#ifndef APP_OP_SUPPLY_H
#define APP_OP_SUPPLY_H

#include "app/book.h"

struct supply; /* core/work/job.h */

/* Enters a supply; its count becomes a stock take. */
enum status supply_enter(struct op_call *call, const struct supply *s, struct supply_row *out_row,
                         struct why *why);

#endif
