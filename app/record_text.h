/* The shop's records as people read them in a terminal. */
#ifndef APP_RECORD_TEXT_H
#define APP_RECORD_TEXT_H

#include "app/book.h"

/* Appends each record as a sentence with its number and when, and how the list goes on. Errors:
 * E_MEMORY, those of the shop's document. */
enum status records_print(struct op_call *call, const struct list_answer *list, struct why *why);

#endif
