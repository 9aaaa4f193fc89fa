/* Whether a piece is worth buying, as people read it in a terminal. */
#ifndef APP_WORTH_TEXT_H
#define APP_WORTH_TEXT_H

#include "app/op.h"
#include "core/work/worth.h"

/* Appends what to do and why, the figures behind it, what may turn it round and what was assumed.
 */
enum status worth_print(struct op_call *call, enum unit_system units, const struct worth *w,
                        struct why *why);

#endif
