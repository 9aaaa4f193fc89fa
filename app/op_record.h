/* Records: what was really used and how long it took; the next plans learn from them. */
#ifndef APP_OP_RECORD_H
#define APP_OP_RECORD_H

#include "app/book.h"

/* Adds a record; one that is off by more than a factor of 4 is marked as doubted and not learnt
 * from. */
enum status record_enter(struct op_call *call, const struct record_row *record, struct why *why);

/* Takes the newest record of that kind and note back by a contrary row; none there is fine. */
enum status record_take_back(struct op_call *call, const char *kind, const char *note,
                             struct why *why);

#endif
