/* Paint that is mixed already for the pieces of a job: the sheet says what is in the cup, and asks
 * for none of it again. */
#ifndef APP_BATCH_THERE_H
#define APP_BATCH_THERE_H

#include "app/op.h"
#include "core/work/job.h"

/* Fills the batch of each piece that has a wanted color and a batch mixed for it: the newest for
 * that color, with the earlier ones that the eye cannot tell from it, as far as they do not stand
 * on the shelf as leftovers. And the one that was mixed for others of the same owner, or the jar of
 * what was left of it, with what those take of it who are not in the job. The rows are the call's
 * arena's. */
enum status batches_there(struct op_call *call, struct job *job, struct why *why);

#endif
