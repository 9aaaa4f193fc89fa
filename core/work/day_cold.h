/* Films that a cold night would spoil. */
#ifndef CORE_WORK_DAY_COLD_H
#define CORE_WORK_DAY_COLD_H

#include "core/work/day_crew.h"

/* A waterborne film forms while its water leaves, and only above its product's lowest temperature
 * (ASTM D2354, from memory); one that a colder night overtakes stays weak, however warm the
 * morning. So it goes on early enough to take the next coat before that night, or, where the
 * shop's hours are too short for that, to be dry to the touch; where they are too short for either
 * it is laid all the same and that is said. Common practice.
 *
 * Adds to the tasks one resource for each lowest temperature that some night falls under
 * (DAY_RESOURCES and on), shut in those nights, and holds of it; needs the people and their skills.
 * Errors: E_MEMORY. */
enum status day_cold_make(const struct tables *t, const struct plan *plan,
                          const struct day_ask *ask, const struct day_crew *crew,
                          const struct plan_options *o, struct ledger *l, struct day_tasks *d,
                          struct notices *out);

/* Nights no longer count, for days in which nothing fits otherwise, and that is said. False: there
 * was none. */
bool day_cold_drop(struct day_tasks *d, struct ledger *l, struct notices *out);

#endif
