/* What work waits for from outside: a laboratory, a client's yes, an ordered part. */
#ifndef CORE_WORK_DAY_WAITS_H
#define CORE_WORK_DAY_WAITS_H

#include "core/work/day_tasks.h"

/* Lets the tasks wait that each piece's waits hold up (job.h, data/waits.tsv), and writes in their
 * meta what for. A wait without a date takes the usual time of its kind, listed as assumed.
 *
 * Errors: E_REFERENCE (kind or operation is no row, or the piece has no such step), with the field
 * in the job document; E_MEMORY. */
enum status day_waits_make(const struct tables *t, const struct plan *plan,
                           const struct day_ask *ask, const struct plan_options *o,
                           struct ledger *l, struct day_tasks *d, struct why *why);

/* Does a laboratory's answer have a date of its own? */
bool day_waits_laboratory(const struct piece *p);

#endif
