/* Help at a step, and whether it may be begun. */
#ifndef APP_OP_HELP_H
#define APP_OP_HELP_H

#include "app/book.h"

/* May this task of the piece be begun? E_REFUSED at /gate when a hazard blocks it, or when the
 * piece cannot be planned as it stands or the step is not in its plan: what nobody plans nobody has
 * judged. E_REFUSED at /cautions when something must be read first; what is wrong is said. */
enum status help_may_begin(struct op_call *call, const char *piece, const char *task,
                           struct why *why);

#endif
