/* Pieces in the book, for the operations beside this one. */
#ifndef APP_OP_PIECE_H
#define APP_OP_PIECE_H

#include "app/book.h"
#include "core/work/job.h"

extern const struct desc desc_piece_row;

/* Enters a piece from its document as typed, under the id that it says, else one made of its title.
 *
 *   member   the argument that holds it, for the pointer of errors: "/piece"
 *   out_row  as it stands in the table, without what the view adds
 *
 * Errors: those of its description and names (names_piece_check), below `member`; E_DUPLICATE at
 * /id. */
enum status piece_enter(struct op_call *call, const char *document, const char *member,
                        struct piece_row *out_row, struct why *why);

/* Writes a piece's whole document anew, and all of *row, which is as it was read.
 *
 * Errors: E_STALE (written after the caller's revision); E_CONFLICT (another id); else as above. */
enum status piece_rewrite(struct op_call *call, struct piece_row *row, const char *document,
                          const char *member, struct why *why);

/* Is there such a piece? Errors: E_REFERENCE at /piece. NULL is fine. */
enum status piece_there(struct op_call *call, const char *piece, struct why *why);

#endif
