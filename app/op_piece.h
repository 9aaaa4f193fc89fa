/* Pieces in the book, for the operations beside this one. */
#ifndef APP_OP_PIECE_H
#define APP_OP_PIECE_H

#include "app/book.h"
#include "core/work/job.h"

extern const struct desc desc_piece_row;

/* Enters a piece from its document as typed. said_id: the document's id when it is free, or NULL
 * for one made of the title. Errors point below `member`. */
enum status piece_enter(struct op_call *call, const char *document, const char *member,
                        struct piece_row *out_row, struct why *why);

/* Writes a piece's whole document anew, fresh against the caller's revision; *row is as it was
 * read. Errors point below `member`. */
enum status piece_rewrite(struct op_call *call, struct piece_row *row, const char *document,
                          const char *member, struct why *why);

#endif
