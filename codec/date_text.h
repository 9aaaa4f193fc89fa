/* Days of the calendar as people write them.
 *
 * Read are the year first (2026-10-12, 2026/10/12, 2026.10.12) and the month by name (Oct 12, 2026,
 * 12 October 2026). 10/12/2026 is October 12 to some and December 10 to others: it is refused,
 * however it could be meant. Years 1600 to 9999 of the Gregorian calendar.
 * Source: ISO 8601-1:2019 for 2026-10-12; day numbers by the era method of Gregorian arithmetic
 * (400 years = 146,097 days). */
#ifndef CODEC_DATE_TEXT_H
#define CODEC_DATE_TEXT_H

#include "core/base/status.h"

#include <stdbool.h>
#include <stdint.h>

/* Behind the date that the text begins with; NULL, and the day untouched, where there is none. */
const char *date_scan(const char *text, int64_t *out_day);
/* Does it begin with numbers whose order nobody can know? Then the reason says both readings. */
bool date_is_unclear(const char *text, struct why *why);

int64_t day_of_date(int64_t year, int month, int dom); /* no check of the date */
void date_of_day(int64_t day, int64_t *out_year, int *out_month, int *out_dom);
int weekday_of_day(int64_t day);    /* 0 Monday .. 6 Sunday */
const char *month_short(int month); /* 1..12: "Jan" .. "Dec" */

#endif
