/* What was agreed at a moment and stays readable: for the operations beside this one. */
#ifndef APP_OP_ACCEPTED_H
#define APP_OP_ACCEPTED_H

#include "app/book.h"

/* When the caution was read for this piece; INT64_MIN: not yet. Errors: E_IO. */
enum status caution_read_at(struct op_call *call, const char *piece, const char *caution,
                            int64_t *out_utc_min, struct why *why);

#endif
