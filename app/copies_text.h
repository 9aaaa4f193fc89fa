/* Copies of the book, and whether it is sound, as people read them in a terminal. */
#ifndef APP_COPIES_TEXT_H
#define APP_COPIES_TEXT_H

#include "app/op.h"
#include "store/copy.h"

/* Appends the copies and how one is brought back; nothing where there is none. By the shop's clock,
 * or by the machine's own where the book cannot be read. */
void copies_print(struct op_call *call, const struct copy_row *rows, size_t n);

/* Appends what became of the files of pictures; nothing where the book has none. brought: what was
 * done with those that were written now, as "copied beside it". */
void pictures_print(struct op_call *call, const struct picture_files *p, const char *brought);

#endif
