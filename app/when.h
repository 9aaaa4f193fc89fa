/* Times that were given by the shop's clock, as instants. */
#ifndef APP_WHEN_H
#define APP_WHEN_H

#include "app/op.h"

/* Makes instants of those arguments that were said by the clock of the shop in the book, or of the
 * machine where none is open. Errors: E_DOMAIN (a zone that is not known here), E_MEMORY. */
enum status when_args(struct op_call *call, struct why *why);

/* The same of one time, by the clock of that zone. */
enum status when_in_zone(struct op_call *call, const char *zone, int64_t *utc_min, struct why *why);

#endif
