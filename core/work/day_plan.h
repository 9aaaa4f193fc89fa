/* From the steps of all pieces to days with clock times. */
#ifndef CORE_WORK_DAY_PLAN_H
#define CORE_WORK_DAY_PLAN_H

#include "core/work/plan.h"

/* Fills plan->days and each piece's handle, deliver and cured dates.
 *
 * One timetable over all pieces: hands-on work in the shop's hours, drying day and night, groups
 * in parallel, recoat windows kept. Pieces that are refused have no tasks. */
enum status day_plan_make(const struct tables *t, const struct job *job,
                          const struct plan_options *o, struct ledger *l, struct plan *plan,
                          struct why *why);

#endif
