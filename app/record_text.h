/* The shop's records as people read them in a terminal. */
#ifndef APP_RECORD_TEXT_H
#define APP_RECORD_TEXT_H

#include "app/learned.h"

/* What one record says, for a history: "Hours, Clean and degrease: 1 h 10 min". */
const char *record_words(struct op_call *call, const struct record_row *row);

/* Appends each record as a sentence with its number and when, and how the list goes on. Errors:
 * E_MEMORY, those of the shop's document. */
enum status records_print(struct op_call *call, const struct list_answer *list, struct why *why);

/* The same of what they teach: usual, in the shop, by how much, from how many. */
enum status learned_print(struct op_call *call, const struct learned_row *rows, size_t n,
                          struct why *why);

#endif
