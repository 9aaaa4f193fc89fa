/* Usual pieces: from a few dimensions to all parts (data/piece_templates.tsv, template_parts.tsv).
 */
#ifndef CORE_WORK_TEMPLATE_H
#define CORE_WORK_TEMPLATE_H

#include "core/work/room.h"

/* Borrowed, or NULL. */
const struct piece_templates_row *template_of(const struct tables *t, const char *id);
/* What the template has under that name; borrowed, or NULL. Either name may be NULL. */
const struct template_parts_row *template_part_row(const struct tables *t, const char *template,
                                                   const char *part);

/* Fills sizes and counts that were not said with the template's usual ones; each is listed as an
 * assumption under `at`. Without a template nothing is filled. Calling it twice changes nothing.
 *
 *   units the shop's, in which what is assumed is round
 *   at    JSON pointer of the piece
 *   why   the field, or NULL
 *
 * Errors: E_REFERENCE (no such template), E_DOMAIN (a size or count out of range). */
enum status template_fill(const struct tables *t, enum unit_system units, const char *at,
                          struct ledger *l, struct piece *piece, struct why *why);

/* The piece's parts: the template's, with what was said of single parts, and added parts.
 *
 *   piece       as filled by template_fill
 *   out_parts   [*out_n] in the arena of the ledger; group, shape, treatment, count, removable are
 *               set in every row; count is of one piece
 *
 * Errors: E_REFERENCE, E_DOMAIN (sizes for which a part cannot be), E_MISSING (an added part
 * without shape), E_MEMORY. */
enum status template_parts(const struct room *r, struct part **out_parts, size_t *out_n,
                           struct why *why);

/* The field of the piece that leaves no room for a part of its template: with the usual value
 * instead, and all else as it is, every size of that part comes out. Counts before lengths; NULL:
 * no single one does.
 *
 *   out_usual, out_said   both values, in mm or a count */
const char *template_at_fault(const struct room *r, const char *part, double *out_usual,
                              double *out_said);

#endif
