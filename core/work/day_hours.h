/* The shop's hours as windows in UTC minutes, and its nights as drying rates. */
#ifndef CORE_WORK_DAY_HOURS_H
#define CORE_WORK_DAY_HOURS_H

#include "core/timetable/timetable.h"
#include "core/work/plan.h"

/* Offset of the shop's clock from UTC at an instant, in minutes. */
int day_offset(const struct plan_options *o, int64_t utc_min);

/* Local minutes since 1970 on the shop's clock -> UTC minutes. A local time that a clock change
 * leaves out is taken with the offset before the change. */
int64_t day_utc_of_local(const struct plan_options *o, int64_t local_min);

/* Opening windows from `from_utc_min` on for `days` days, in order, touching ones joined.
 * Returns the arena's array, NULL without memory; *out_n windows (0: the shop never opens). */
struct timetable_span *day_windows(const struct shop *shop, const struct plan_options *o,
                                   int64_t from_utc_min, int days, struct arena *arena, int *out_n);

/* The night that begins on the evening of a day dries otherwise than the rest. */
struct day_night {
    int64_t day;
    int32_t permille;
};

/* Nights from 8 pm to 8 am on the shop's clock that are colder in the shop than `degc`, in order.
 * Returns the arena's array, NULL without memory; *out_n. */
struct timetable_span *day_nights_below(const struct shop *shop, const struct plan_options *o,
                                        double degc, int64_t from_utc_min, int days,
                                        struct arena *arena, int *out_n);

/* Drying by day at 1, by night at `night_permille` / 1000 of it: day is 8 am to 8 pm on the shop's
 * clock. other [n]: nights with a rate of their own; of two for one day the last holds.
 * Returns 2 rows a day, NULL without memory. */
struct timetable_rate *day_rates(const struct plan_options *o, int64_t from_utc_min, int days,
                                 int32_t night_permille, const struct day_night *other, size_t n,
                                 struct arena *arena, int *out_n);

#endif
