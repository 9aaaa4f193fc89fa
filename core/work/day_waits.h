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

/* Row of data/waits.tsv; NULL: there is none. */
const struct waits_row *day_waits_row(const struct tables *t, const char *kind);

/* What is not here cannot be there this very day: tomorrow at the earliest, also after the day it
 * was expected. at: INT64_MIN when nobody knows. */
int64_t day_waits_at_least(const struct plan_options *o, const struct day_ask *ask, int64_t at);

/* What says that the client must sign a sample of the color before it goes on; NULL: need not. */
#define DAY_SAMPLE "the client's signed sample"
const struct notice *day_waits_sample(const struct piece_plan *p);

/* Writes into the plan what its open tasks wait for, and until when the answer takes it. */
enum status day_waits_show(const struct tables *t, const struct day_tasks *d,
                           const struct timetable_answer *answer, const struct day_ask *ask,
                           const struct plan_options *o, struct ledger *l, struct plan *plan);

/* Does a laboratory's answer have a date of its own? */
bool day_waits_laboratory(const struct piece *p);

#endif
