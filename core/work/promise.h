/* What a client is promised, in lines: on quote and agreement, and kept when they are signed. */
#ifndef CORE_WORK_PROMISE_H
#define CORE_WORK_PROMISE_H

#include "core/work/room.h"

/* Repairs, then every coat once, with the groups that get it where others do not, then what is
 * fitted. Reads repairs,
 * coats, finish; the lines are the ledger's arena's. NULL without memory. */
const char **promise_work(const struct room *r, const struct piece_plan *p, size_t *out_n);

#endif
