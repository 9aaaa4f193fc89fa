/* A batch that was mixed does the task of mixing it. */
#ifndef APP_BATCH_TASK_H
#define APP_BATCH_TASK_H

#include "app/book.h"

/* Ticks "Mix the batch" of a piece for which a batch was just logged, in the change under way:
 * where what is mixed for its color holds the likeliest need, the task is open, and nothing forbids
 * to begin it. piece: NULL: none. *out_name: of the task; NULL: nothing was ticked, which is no
 * error. Errors: E_IO, E_MEMORY. */
enum status batch_task_tick(struct op_call *call, const char *piece, const char **out_name,
                            struct why *why);

#endif
