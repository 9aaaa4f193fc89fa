/* Money in and out as people read it in a terminal. */
#ifndef APP_MONEY_TEXT_H
#define APP_MONEY_TEXT_H

#include "app/book.h"
#include "app/op.h"
#include "core/work/job.h"

/* "−$43.80"; of a drive that nothing was paid for its way, "24 mi". In the arena. */
const char *money_amount(struct arena *arena, enum unit_system units, const struct money_row *row);

/* Appends an entry a line: date for the books, what for, how much, of what; and how the list goes
 * on. Errors: E_MEMORY, those of the shop's document. */
enum status money_print(struct op_call *call, const struct list_answer *list, struct why *why);

#endif
