/* Paint that is mixed already for the pieces of a job: the sheet says what is in the cup, and asks
 * for none of it again. */
#ifndef APP_BATCH_THERE_H
#define APP_BATCH_THERE_H

#include "app/op.h"
#include "core/work/job.h"

/* Where a piece has none, the one that was mixed for another of the same owner is named, if any.
 *
 * Fills the batch of each piece that has a wanted color and a batch mixed for it: the newest for
 * that color, with the earlier ones that the eye cannot tell from it, as far as they do not stand
 * on the shelf as leftovers. The rows are the call's arena's. */
enum status batches_there(struct op_call *call, struct piece *pieces, size_t n, struct why *why);

#endif
