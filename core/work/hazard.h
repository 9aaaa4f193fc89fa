/* What can hurt somebody, what blocks the work, what is refused: the rows of data/hazards.tsv
 * whose facts hold. */
#ifndef CORE_WORK_HAZARD_H
#define CORE_WORK_HAZARD_H

#include "core/work/room.h"

/* True if a notice keeps an operation from being done: its `blocks` is the operation's id or its
 * gate (data/operations.tsv), or "all". */
bool hazard_blocks(const struct tables *t, const struct notice *n, const char *operation);

/* The row that refuses the whole piece, or NULL. */
struct facts;
const struct hazards_row *hazard_refuses(const struct facts *f);

#endif
