/* Entries of the book as a terminal lists them: the id and what it is called, below that the rest.
 */
#ifndef APP_ENTRY_TEXT_H
#define APP_ENTRY_TEXT_H

#include "codec/text_wrap.h"

/* Column at which the names stand, so that ids up to a usual length stand beside them. at: so far,
 * 0 to begin with. */
size_t entry_column(size_t at, const char *id);

/* The id, the title from column `at` on (a longer id moves it), and `line` below it, wrapped. */
void entry_print(struct text *out, size_t at, const char *id, const char *title, const char *line);

#endif
