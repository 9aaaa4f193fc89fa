/* Paints of which nobody ever said how much there is. */
#ifndef APP_UNCOUNTED_H
#define APP_UNCOUNTED_H

#include "app/book.h"

/* Takes the stock out of the rows [n] of such paints: it is not known, which is not the same as
 * none. What was poured or thrown out of them is no count either. */
enum status uncounted_unsay(struct op_call *call, struct paint_row *rows, size_t n,
                            struct why *why);

#endif
