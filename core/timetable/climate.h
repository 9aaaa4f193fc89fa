/* Drying as progress: how long a film needs from a given moment when cold nights count less. */
#ifndef CORE_TIMETABLE_CLIMATE_H
#define CORE_TIMETABLE_CLIMATE_H

#include "core/timetable/timetable.h"

/* Earliest whole minute at which `minutes` >= 0 of drying have passed since t. Nondecreasing in
 * t. climate NULL: t + minutes. */
int64_t climate_after(const struct timetable_climate *climate, int64_t t, int64_t minutes);

/* Latest moment s with climate_after(s, minutes) <= t. */
int64_t climate_before(const struct timetable_climate *climate, int64_t t, int64_t minutes);

/* Fewest and most clock minutes that `minutes` of drying can take, whenever begun; *out_most is
 * INT64_MAX when drying can stand still. */
void climate_range(const struct timetable_climate *climate, int64_t minutes, int64_t *out_fewest,
                   int64_t *out_most);

#endif
