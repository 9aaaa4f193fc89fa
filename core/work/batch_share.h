/* One batch for several pieces: of one owner, in one color of one kind of paint. They are to look
 * alike, and two batches never match, so they are painted out of one cup, after one card. */
#ifndef CORE_WORK_BATCH_SHARE_H
#define CORE_WORK_BATCH_SHARE_H

#include "core/work/room.h"

/* [job->pieces_n] in which order the pieces are planned: who is painted from the cup of another
 * comes after those for whom it was mixed. The arena's; NULL: no memory. */
size_t *batch_order(const struct job *job, const struct plan_options *o, struct arena *arena);

/* Says in the room which cup of a sister there is for the piece, and what those before it leave of
 * it: what each likely takes. Reads p->amounts; plan->pieces not planned yet are all 0. */
void batch_cup(const struct plan *plan, const struct piece_plan *p, struct room *r);

/* After all pieces are planned: one of those that share makes card and batch, and their minutes are
 * shared by the paint that each takes; batch_of, batch_others_frac, and a word beside the amounts
 * of what is still to be mixed. */
void batches_join(struct plan *plan, const struct plan_options *o, struct ledger *l);

#endif
