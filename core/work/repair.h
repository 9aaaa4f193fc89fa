/* Take-down, repairs and finishing steps: everything that is not a coat, with hours and waits.
 *
 * repair_make is declared in core/work/room.h. It reads inspection, surfaces and coats and fills
 * takedown (before anything else), repairs (their glue and filler gate the coats) and finish
 * (after the last coat may be handled). */
#ifndef CORE_WORK_REPAIR_H
#define CORE_WORK_REPAIR_H

#include "core/work/room.h"

/* Two or one, by the width of the front. */
int pulls_usual(const struct tables *t, double front_mm);

/* Pulls and knobs to be taken off and put on: as said, else as many as are usual on each drawer (by
 * the width of the piece where s, its surfaces, is NULL or has no front) and one a door. */
int64_t pulls_count(const struct tables *t, const struct piece *p, const struct surfaces *s);

/* Are the old pulls or knobs replaced? */
bool pulls_new(const struct piece *p);

/* Old holes that must be filled, and new ones to be drilled, before the primer. */
int64_t holes_to_fill(const struct tables *t, const struct piece *p, const struct surfaces *s);
int64_t holes_to_drill(const struct tables *t, const struct piece *p, const struct surfaces *s);

#endif
