/* Drying as progress: how long a film needs from a given moment when cold nights count less. */
#ifndef CORE_TIMETABLE_CLIMATE_H
#define CORE_TIMETABLE_CLIMATE_H

#include "core/timetable/timetable.h"

enum { DRYING_NEAR = 4 }; /* places in the index by time for each row */

/* Rates with an index by time, so that the row of a moment is found in O(1) where rows are even. */
struct drying {
    const struct timetable_rate *rates;
    int n;
    int *near; /* [DRYING_NEAR * n + 1] first row that begins after first + (k << shift) */
    int64_t first;
    int shift;
};

/* near: [DRYING_NEAR * rates_n + 1], filled here and kept by the caller. */
struct drying drying_make(const struct timetable_climate *climate, int *near);

/* Earliest whole minute at which `minutes` of drying have passed since t. Nondecreasing in t.
 * d NULL: t + minutes. */
int64_t drying_after(const struct drying *d, int64_t t, int64_t minutes);

/* What drying_after adds to each of the n minutes from `from` on, for minutes > 0; false: somewhere
 * more than 16 bits hold, and *out is not whole. Cost: n and the longest of them. */
bool drying_table(const struct drying *d, int64_t from, int32_t n, int64_t minutes, uint16_t *out);

/* Latest moment s with drying_after(s, minutes) <= t. */
int64_t drying_before(const struct drying *d, int64_t t, int64_t minutes);

/* Fewest and most clock minutes that `minutes` of drying can take, whenever begun; *out_most is
 * INT64_MAX when drying can stand still. */
void drying_range(const struct drying *d, int64_t minutes, int64_t *out_fewest, int64_t *out_most);

#endif
