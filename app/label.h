/* Codes on labels. */
#ifndef APP_LABEL_H
#define APP_LABEL_H

#include "core/base/arena.h"
#include "core/base/status.h"

/* A QR code (ISO/IEC 18004, level M, quiet zone of four modules) of the text as SVG. Errors:
 * E_TOO_LARGE (the text is too long), E_MEMORY. */
enum status label_code(const char *text, struct arena *arena, const char **out_svg,
                       struct why *why);

#endif
