/* What a task holds by itself against the times at which that is shut, as a film against nights too
 * cold for it. Holds that another task opens or ends are not looked at here. */
#ifndef CORE_TIMETABLE_SHUT_H
#define CORE_TIMETABLE_SHUT_H

#include "core/timetable/shop.h"

/* Start not before which task i, at start..end, can be: what it holds is open again then; `start`
 * itself: it is open until the hold is over. */
int64_t shut_until(const struct shop *s, int i, int64_t start, int64_t end);

/* Latest end by which all that task i holds is over before it is next shut, for one at start..end
 * that meets that; `end` itself: it meets none, or lasts from its start. */
int64_t shut_end_before(const struct shop *s, int i, int64_t start, int64_t end);

/* Do tasks a and b hold by themselves what is shut at the same times, for as long? */
bool shut_alike(const struct shop *s, int a, int b);

#endif
