/* By when do the drying places let all be over at the earliest? */
#ifndef CORE_TIMETABLE_SHOP_ROOM_H
#define CORE_TIMETABLE_SHOP_ROOM_H

#include "core/base/limit.h"
#include "core/timetable/deadline.h"

/* A finish >= `least` that no timetable with weighted lateness `late` at most beats (INT64_MAX:
 * any), looked for below `known`, the finish of a timetable that stands. `least` itself where
 * nothing better is proven, or where known lies too far off.
 *
 *   rounds  of improving the prices, per finish looked at
 *   out     to about a thousandth of the time until `known`
 *
 * Errors: E_MEMORY. */
enum status room_bound(const struct shop *s, int64_t late, int64_t least, int64_t known, int rounds,
                       const struct limit *limit, struct arena *arena, int64_t *out);

#endif
