/* Facts of the job that contradict each other, named before any timetable is tried. */
#ifndef CORE_WORK_DAY_CHECK_H
#define CORE_WORK_DAY_CHECK_H

#include "core/work/day_tasks.h"

/* Errors: E_DOMAIN with the field in the job document and both facts in words. */
enum status day_check_facts(const struct job *job, const struct plan *plan,
                            const struct day_ask *ask, struct why *why);

/* Says of the tasks what will go badly: a film longer than any working day, a batch too old before
 * its coat is on, a group larger than the floor. */
void day_check_tasks(const struct day_tasks *d, const struct plan *plan, const struct day_ask *ask,
                     struct ledger *l, struct notices *out);

/* Says of the shop's air what products on its way will not bear: too cold, too damp, too near the
 * dew point; by night as well. shelf: labels that know better than the class. */
void day_check_air(const struct tables *t, const struct plan *plan, const struct shelf *shelf,
                   struct ledger *l, struct notices *out);

#endif
