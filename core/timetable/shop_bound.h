/* What no timetable of a shop can beat. */
#ifndef CORE_TIMETABLE_SHOP_BOUND_H
#define CORE_TIMETABLE_SHOP_BOUND_H

#include "core/timetable/shop.h"

/* *out: lateness and finish that no timetable beats; sittings 0.
 *
 * Finish: the larger of the longest chain with hours and drying, and the least end at which every
 * interval still holds the work that lags force into it (energy of intervals, Baptiste, Le Pape
 * and Nuijten 2001, with working hours as capacity).
 * Lateness: over all orders in which the promised tasks can become ready, each no sooner than its
 * own chain and than the hours that the work of all ready by then needs (dynamic program over
 * subsets, up to 14 promises; more: chains alone).
 * Errors: E_MEMORY. */
enum status shop_bound(const struct shop *s, struct arena *arena, struct timetable_score *out);

/* The finish alone, of timetables with weighted lateness `late` at most; INT64_MAX: any. */
enum status shop_bound_finish(const struct shop *s, int64_t late, struct arena *arena,
                              int64_t *out);

/* A weighted lateness from `least` to `known`, that of a timetable that stands, which none beats:
 * below it some interval cannot hold what must lie in it for each promise alone to be no later. */
enum status shop_bound_late(const struct shop *s, int64_t least, int64_t known, struct arena *arena,
                            int64_t *out);

#endif
