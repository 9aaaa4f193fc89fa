/* What went wrong, on standard error: a line to read, or JSON. */
#ifndef CLI_COMPLAINT_H
#define CLI_COMPLAINT_H

#include "core/base/status.h"

#include <stdbool.h>

/* json: {"error":{"code","field","text"}}. Else "field: text", in which nothing moves the
 * terminal's pen: what was quoted may hold bytes that are no text, and may be cut within a
 * character. */
void complain(enum status s, const struct why *why, bool json);

#endif
