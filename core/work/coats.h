/* The coating system of one piece: rows in the order of the work, group by group.
 *
 * coats_make (core/work/room.h) reads the inspection and the surfaces. It gathers the parts into
 * lots (coats_lot.c), chooses classes that hold (coats_choose.c), finds what must lie between
 * (coats_stack.c) and writes the rows (coats_prep.c, coats.c, coats_natural.c, coats_effect.c).
 * What was asked for and would not hold stands in p->coats.refused, with what is planned instead.
 */
#ifndef CORE_WORK_COATS_H
#define CORE_WORK_COATS_H

#include "core/work/coats_rules.h"

/* Words for a count of coats: "one coat", "two coats", ... */
const char *coats_words(const struct room *r, int64_t n);

#endif
