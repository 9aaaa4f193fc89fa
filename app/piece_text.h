/* A list of pieces as people read it in a terminal. */
#ifndef APP_PIECE_TEXT_H
#define APP_PIECE_TEXT_H

#include "app/op.h"
#include "store/rows.h"

/* Two lines a piece: its id and title; where it stands, what comes next, its days and its price.
 *   next  where the next page begins; NULL: that was all
 * Errors: E_MEMORY, those of the shop's document. */
enum status pieces_print(struct op_call *call, const struct piece_row *rows, size_t n,
                         const char *next, struct why *why);

#endif
