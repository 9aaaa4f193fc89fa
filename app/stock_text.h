/* How the stock of a paint came about, as people read it in a terminal. */
#ifndef APP_STOCK_TEXT_H
#define APP_STOCK_TEXT_H

#include "app/book.h"

/* Appends each movement with its number and when, and how the list goes on. Errors: E_MEMORY, those
 * of the shop's document. */
enum status movements_print(struct op_call *call, const char *paint, const struct list_answer *list,
                            struct why *why);

#endif
