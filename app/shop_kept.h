/* The shop as the book keeps it, fit to be read: what was allowed once and is no more must not stop
 * the work. */
#ifndef APP_SHOP_KEPT_H
#define APP_SHOP_KEPT_H

#include "app/op.h"

/* A shop's document fit to be read, itself where it is. The other arguments and errors as below. */
enum status shop_fit(const char *document, struct arena *a, const char **out_document,
                     const char **out_was, struct why *why);

/* The shop's document. A smallest amount beyond SMALLEST_MAX_ML is the largest allowed there; the
 * next change of the shop stores it so.
 *
 *   out_was   what was kept instead, as typed; NULL: nothing was too large. May be NULL.
 *
 * Errors: E_MEMORY, E_IO. */
enum status shop_kept(struct op_call *call, const char **out_document, int64_t *out_revision,
                      const char **out_was, struct why *why);

#endif
