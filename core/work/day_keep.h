/* What became of the tasks that the book knows: begun and done ones stand, accepted ones keep their
 * time as far as the rules let them. */
#ifndef CORE_WORK_DAY_KEEP_H
#define CORE_WORK_DAY_KEEP_H

#include "core/work/day_crew.h"

/* From when on the crew's hours must be known: `begin`, or when what is under way was begun, though
 * not more than two weeks before. */
int64_t day_keep_since(const struct plan_options *o, int64_t begin);

/* Fixes in *d what has begun or is done, and tells when it may go on at the earliest. crew: with
 * hours from day_keep_since on. */
void day_keep_tasks(const struct plan_options *o, const struct plan *plan,
                    const struct day_crew *crew, struct day_tasks *d);

/* The accepted timetable of these tasks, for timetable_replan.
 *
 *   out_old_task  [d->n] index in *out_old, TIMETABLE_NONE for a task that was never accepted
 *
 * Returns how many were accepted; 0 too where memory is out (then the days are laid out anew). */
size_t day_keep_accepted(const struct plan_options *o, const struct plan *plan,
                         const struct day_tasks *d, const struct day_crew *crew,
                         struct arena *arena, struct timetable_answer *out_old, int **out_old_task);

#endif
