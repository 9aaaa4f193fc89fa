/* Samples in the book, for the operations beside this one. */
#ifndef APP_OP_SAMPLE_H
#define APP_OP_SAMPLE_H

#include "app/book.h"

/* Enters a sample from its document as typed. Errors point below `member`; E_REFERENCE for a paint
 * that is not on the shelf. */
enum status sample_enter(struct op_call *call, const char *document, const char *member,
                         struct sample_row *out_row, struct why *why);

#endif
