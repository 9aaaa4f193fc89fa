/* Samples of the book as people read them in a terminal. */
#ifndef APP_SAMPLE_TEXT_H
#define APP_SAMPLE_TEXT_H

#include "app/book.h"

/* Appends each card with what is on it and what it dried to, and how the list goes on. Errors:
 * E_MEMORY, those of a sample's or the shop's document. */
enum status samples_print(struct op_call *call, const struct list_answer *list, struct why *why);

#endif
