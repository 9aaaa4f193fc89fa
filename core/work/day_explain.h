/* The bases of the days, once they are laid out and sorted. */
#ifndef CORE_WORK_DAY_EXPLAIN_H
#define CORE_WORK_DAY_EXPLAIN_H

#include "core/work/plan.h"

void days_explain(const struct tables *t, struct ledger *l, const struct plan *plan);

#endif
