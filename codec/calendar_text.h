/* The days as a calendar that other programs read, and as comma-separated text.
 *
 * Calendar: RFC 5545 (iCalendar), all times in UTC, so that no zone needs describing; lines end
 * with CR LF and are folded at 75 octets, never inside a character; texts are escaped. A UID stays
 * the same as long as job and id do, and SEQUENCE grows with the caller's revision, so that reading
 * the file again updates the events (RFC 5545, 3.8.4.7 and 3.8.7.4). */
#ifndef CODEC_CALENDAR_TEXT_H
#define CODEC_CALENDAR_TEXT_H

#include "codec/document.h"

#include <stdint.h>

enum calendar_kind {
    CALENDAR_WORK,   /* hands-on: busy time */
    CALENDAR_DRYING, /* dries by itself: free time */
    CALENDAR_READY,  /* a moment: a piece may leave */
    CALENDAR_WINDOW, /* an edge that must not be missed: from..to is the time left */
};

struct calendar_event {
    const char *id;      /* stable and unique in the job */
    const char *summary; /* one line */
    const char *note;    /* NULL: none */
    const char *piece;   /* category; NULL: none */
    enum calendar_kind kind;
    int64_t from_utc_min, to_utc_min; /* minutes since 1970-01-01, to >= from; years 1600..9999 */
    int32_t alarm_before_min;         /* < 0: no alarm; of a window: before its end */
    const char *person; /* whose time it takes, said first in the calendar; NULL: not told */
    int from_ahead_min, to_ahead_min; /* of UTC, the shop's clock then */
};

struct calendar {
    const char *job;  /* part of every UID */
    const char *name; /* shown as the calendar's name; NULL: none */
    int64_t stamp_utc_min;
    int32_t revision; /* grows with every change of the plan; >= 0 */
    const struct calendar_event *events;
    size_t n;
};

/* Appends the whole calendar. A blocked event (from INT64_MIN) is left out.
 * Errors: E_MISSING (id or summary), E_DUPLICATE (two ids alike), E_DOMAIN (times), E_MEMORY. */
enum status calendar_print(const struct calendar *c, struct text *out, struct why *why);

/* The same rows for people and their spreadsheets: kind, id, piece, person, summary, note, from, to
 * (by the shop's clock: 2026-10-12 08:00), minutes, and what that clock is ahead of UTC at `from`,
 * UTC-04:00.
 * Errors: same. */
enum status calendar_print_csv(const struct calendar *c, struct text *out, struct why *why);

#endif
