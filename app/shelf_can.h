/* Another can of a paint that the book knows: entered with as little as its stock. */
#ifndef APP_SHELF_CAN_H
#define APP_SHELF_CAN_H

#include "app/book.h"
#include "core/work/job.h"

/* E_REFERENCE, E_DOMAIN at MEMBER/can_of as cans_check (core/work/cans.h). Paints that left the
 * shelf count: their samples do too. */
enum status shelf_can_check(struct op_call *call, const struct paint *p, const char *member,
                            struct why *why);

/* The document of a new can with what it does not say said as of the paint that it is a can of, and
 * a name: that paint's, numbered. Where it is no other can *io_document stays.
 *
 * Errors: those of the check. */
enum status shelf_can_fill(struct op_call *call, const struct paint *p, const char *member,
                           const char **io_document, struct why *why);

#endif
