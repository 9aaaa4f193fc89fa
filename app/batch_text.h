/* Paint that was mixed, as people read it in a terminal. */
#ifndef APP_BATCH_TEXT_H
#define APP_BATCH_TEXT_H

#include "app/op_batch.h"

/* Appends each batch with what is in it and what became of it, and how the list goes on. Errors:
 * E_MEMORY, those of the shop's document. */
enum status batches_print(struct op_call *call, const struct batch_view *rows, size_t n,
                          const char *next, struct why *why);

#endif
