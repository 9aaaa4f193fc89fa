/* Times as people and documents write them: time of day, day, local minute, instant.
 *
 * Days are days since 1970-01-01 of the Gregorian calendar, minutes are minutes since its midnight;
 * years 1600 to 9999. Zones are not known here: an instant is UTC, a local minute is the shop's.
 * Source: ISO 8601-1:2019 for the spellings; day numbers by the era method of Gregorian
 * arithmetic (400 years = 146,097 days). */
#ifndef CODEC_TIME_TEXT_H
#define CODEC_TIME_TEXT_H

#include "codec/date_text.h"
#include "core/base/status.h"
#include "core/work/job.h"

#include <stdbool.h>

/* "6:40 pm", "8 am", "18:40", "24:00": minutes from midnight, 0..1440. "noon", "midnight" too. */
enum status clock_read(const char *text, int64_t *out_min, struct why *why);
/* "2026-10-12", "Oct 12, 2026": whatever codec/date_text.h reads, here and below */
enum status day_read(const char *text, int64_t *out_day, struct why *why);
/* "2026-10-12 08:00", "2026-10-12T08:00", "2026-10-12 8:00 am"; a day alone is its midnight */
enum status local_read(const char *text, int64_t *out_min, struct why *why);
/* "2026-10-12T12:00Z", "2026-10-12T08:00-04:00", seconds allowed and dropped */
enum status instant_read(const char *text, int64_t *out_min, struct why *why);
/* An instant, or a local minute: that is kept as TIME_OF_CLOCK more, and who knows the zone makes
 * an instant of it (time_is_clock). No instant of the calendar is so late. */
#define TIME_OF_CLOCK ((int64_t)1 << 50)
enum status moment_read(const char *text, int64_t *out_min, struct why *why);
bool time_is_clock(int64_t min);

size_t clock_print(enum unit_system units, int64_t min, char *out,
                   size_t cap);                           /* 6:40 pm | 18:40 */
size_t day_print(int64_t day, char *out, size_t cap);     /* 2026-10-12 */
size_t local_print(int64_t min, char *out, size_t cap);   /* 2026-10-12 08:00 */
size_t instant_print(int64_t min, char *out, size_t cap); /* ...T12:00Z */
/* As people read them: "Mon, Oct 12", "Oct 12, 2026", "Mon, Oct 12, 8:00 am" (of a local minute).
 */
size_t weekday_print(int64_t day, char *out, size_t cap);
size_t date_print(int64_t day, char *out, size_t cap);
size_t moment_print(enum unit_system units, int64_t local_min, char *out, size_t cap);

#endif
