/* The shop's clock: offsets of an IANA zone from UTC, as the core wants them.
 *
 * The core knows no zones; it gets a list of offsets (struct zone_span). They are read from the
 * machine's own zone data through libc. */
#ifndef APP_ZONE_H
#define APP_ZONE_H

#include "core/base/arena.h"
#include "core/base/status.h"
#include "core/work/plan.h"

/* Offsets of `zone` from a year before `now` to two years after it.
 *
 *   zone     IANA name ("America/New_York"); NULL: the machine's own zone
 *   out      arena's array, at least one row
 *
 * Errors: E_DOMAIN (no such zone on this machine), E_MEMORY. Safe from several threads. */
enum status zone_spans(const char *zone, int64_t now_utc_min, struct arena *arena,
                       const struct zone_span **out, size_t *out_n, struct why *why);

/* Minutes that the clock is ahead of UTC at that instant; before the first span by the first's. 0
 * of no spans. */
int zone_offset_min(const struct zone_span *spans, size_t n, int64_t utc_min);

/* Minutes and days since 1970 on that clock. */
int64_t zone_local(const struct zone_span *spans, size_t n, int64_t utc_min);
int64_t zone_local_day(const struct zone_span *spans, size_t n, int64_t utc_min);

/* The day on the shop's clock at that instant; by UTC where the zone is not known. */
int64_t zone_day(const char *zone, int64_t utc_min, struct arena *arena);

#endif
