/* Records: what was really used and how long it took; the next plans learn from them. */
#ifndef APP_OP_RECORD_H
#define APP_OP_RECORD_H

#include "app/book.h"

/* Adds a record (learned_prepare); one that lies further off than the shop's records let expect is
 * marked as doubted and not learnt from until it is confirmed. */
enum status record_enter(struct op_call *call, const struct record_row *record, struct why *why);

/* Takes the newest record of that kind and note back by a contrary row; none there is fine. */
enum status record_take_back(struct op_call *call, const char *kind, const char *note,
                             struct why *why);

#endif
