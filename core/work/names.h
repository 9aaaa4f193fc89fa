/* What a job document refers to must be there: a name that nobody knows is refused, never ignored.
 * (Names that a room of the plan looks up itself are refused there.) */
#ifndef CORE_WORK_NAMES_H
#define CORE_WORK_NAMES_H

#include "core/work/room.h"

/* Materials of parts, parts that slide, tests that are skipped, effects that are wished. Reads
 * p->surfaces.
 *
 * Errors: E_REFERENCE with the field in the job document. */
enum status names_check(const struct room *r, const struct piece_plan *p, struct why *why);

/* What a piece is and what is on it now, by the trade's tables; nothing else of it is looked at.
 *
 *   at   the piece's pointer in the document: "/pieces/0"
 *
 * Errors: E_REFERENCE, naming the one that was likely meant. */
enum status names_piece_check(const struct tables *t, const struct piece *p, const char *at,
                              struct arena *arena, struct why *why);

/* Classes of paints, the mixes of leftovers and of samples: of a shelf as somebody wrote it. The
 * book keeps samples of paints that are gone; it is not asked.
 *
 *   at   the shelf's pointer in the document: "/shelf", or ""
 *
 * Errors: E_REFERENCE; E_MISSING (a mix of nothing, a sample without its color); E_DOMAIN (no
 * parts, a paint twice in a mix, a leftover mixed from itself). */
enum status names_shelf_check(const struct tables *t, const struct shelf *s, const char *at,
                              struct arena *arena, struct why *why);

#endif
