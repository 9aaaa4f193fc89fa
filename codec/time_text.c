#include "codec/time_text.h"
#include "codec/digits.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

enum { MIN_PER_DAY = 1440 };

static bool is(const char *s, char a) {
    return *s == a || *s == a - 'a' + 'A';
}

/* am, a.m., pm, p.m. behind an hour of 1..12; *out_pm -1 where there is none */
static const char *half_of_day(const char *s, int *out_pm) {
    const char *t = blanks(s);
    *out_pm = -1;
    if (!is(t, 'a') && !is(t, 'p')) return s;
    int pm = is(t, 'p');
    t++;
    bool dots = *t == '.';
    t += dots;
    if (!is(t, 'm')) return s;
    t++;
    t += dots && *t == '.';
    *out_pm = pm;
    return t;
}

static const char *clock_at(const char *s, int *out_min) {
    int hour, minute = 0, pm;
    bool colon = false;
    if (!strncasecmp(s, "noon", 4)) return *out_min = 720, s + 4;
    if (!strncasecmp(s, "midnight", 8)) return *out_min = 0, s + 8;
    if (!(s = digits(s, 1, 2, &hour))) return NULL;
    if (*s == ':') {
        colon = true;
        if (!(s = digits(s + 1, 2, 2, &minute))) return NULL;
    }
    s = half_of_day(s, &pm);
    if (pm < 0 && !colon) return NULL; /* 8: morning or evening? */
    if (pm >= 0) {
        if (hour < 1 || hour > 12) return NULL;
        hour = hour % 12 + 12 * pm;
    }
    if (minute > 59 || hour * 60 + minute > MIN_PER_DAY) return NULL;
    *out_min = hour * 60 + minute;
    return s;
}

enum status clock_read(const char *text, int64_t *out_min, struct why *why) {
    if (!*blanks(text))
        return why_say(why, E_SYNTAX, "",
                       "A time of day is missing. Write 6:40 pm, 8 am or 18:40.");
    int min, hour;
    const char *s = clock_at(blanks(text), &min), *t;
    if (!s && (t = digits(blanks(text), 1, 2, &hour)) && !*blanks(t))
        return why_say(why, E_SYNTAX, "",
                       "\"%.40s\" is missing am or pm. Write %d am, %d pm or %02d:00.", text,
                       (hour + 11) % 12 + 1, (hour + 11) % 12 + 1, hour % 24);
    if (!s || *blanks(s))
        return why_say(why, E_SYNTAX, "",
                       "\"%.40s\" is not a time of day. Write 6:40 pm, 8 am or 18:40.", text);
    *out_min = min;
    return OK;
}

enum status day_read(const char *text, int64_t *out_day, struct why *why) {
    int64_t day;
    const char *s = date_scan(blanks(text), &day);
    if ((!s || *blanks(s)) && date_is_unclear(text, why)) return E_SYNTAX;
    if (!s || *blanks(s))
        return why_say(why, E_SYNTAX, "",
                       "\"%.40s\" is not a day of the calendar. Write 2026-10-12 or Oct 12, 2026.",
                       text);
    *out_day = day;
    return OK;
}

static const char *local_at(const char *s, int64_t *out_min) {
    int64_t day;
    int min = 0;
    if (!(s = date_scan(s, &day))) return NULL;
    if (*s == 'T' || *s == ' ' || *s == ',') {
        const char *t = blanks(s + 1);
        if (*t && !(s = clock_at(t, &min))) return NULL;
    }
    *out_min = day * MIN_PER_DAY + min;
    return s;
}

enum status local_read(const char *text, int64_t *out_min, struct why *why) {
    int64_t min;
    const char *s = local_at(blanks(text), &min);
    if ((!s || *blanks(s)) && date_is_unclear(text, why)) return E_SYNTAX;
    if (!s || *blanks(s))
        return why_say(
            why, E_SYNTAX, "",
            "\"%.40s\" is not a day and time. Write 2026-10-12 08:00 (the shop's clock).", text);
    *out_min = min;
    return OK;
}

/* Z, +02:00, -0400 */
static const char *zone_at(const char *s, int *out_min) {
    int h, m;
    *out_min = 0;
    if (is(s, 'z')) return s + 1;
    if (*s != '+' && *s != '-') return NULL;
    int sign = *s == '-' ? -1 : 1;
    char two[3] = {s[1], s[1] ? s[2] : 0, 0};
    if (!digits(two, 2, 2, &h)) return NULL;
    s += 3;
    if (*s == ':') s++;
    if (!(s = digits(s, 2, 2, &m)) || h > 15 || m > 59) return NULL;
    *out_min = sign * (h * 60 + m);
    return s;
}

enum status instant_read(const char *text, int64_t *out_min, struct why *why) {
    int64_t min;
    int offset, sec;
    const char *s = local_at(blanks(text), &min);
    if (s && *s == ':' && (s = digits(s + 1, 2, 2, &sec)) && sec > 60) s = NULL;
    if (s && *s == '.')
        for (s++; *s >= '0' && *s <= '9';) s++;
    if (s) s = zone_at(s, &offset);
    if (!s || *blanks(s))
        return why_say(why, E_SYNTAX, "",
                       "\"%.40s\" is not an instant. Write 2026-10-12T12:00Z, or with the zone's "
                       "offset: 2026-10-12T08:00-04:00.",
                       text);
    *out_min = min - offset;
    return OK;
}

enum status moment_read(const char *text, int64_t *out_min, struct why *why) {
    int64_t min;
    if (instant_read(text, out_min, NULL) == OK) return OK;
    if (local_read(text, &min, NULL) != OK && date_is_unclear(text, why)) return E_SYNTAX;
    if (local_read(text, &min, NULL) != OK)
        return why_say(
            why, E_SYNTAX, "",
            "\"%.40s\" is not a day and time. Write 2026-10-12 8:00 am or 2026-10-12 08:00 "
            "by the shop's clock, or with a zone: 2026-10-12T12:00Z.",
            text);
    *out_min = TIME_OF_CLOCK + min;
    return OK;
}

bool time_is_clock(int64_t min) {
    return min > TIME_OF_CLOCK / 2;
}

static size_t wrote(int n, size_t cap) {
    return n < 0 ? 0 : (size_t)n < cap ? (size_t)n : cap ? cap - 1 : 0;
}

size_t clock_print(enum unit_system units, int64_t min, char *out, size_t cap) {
    int h = (int)(min / 60), m = (int)(min % 60);
    if (min < 0 || min > MIN_PER_DAY) return wrote(snprintf(out, cap, "-"), cap);
    if (units == UNITS_METRIC) return wrote(snprintf(out, cap, "%02d:%02d", h, m), cap);
    const char *half = h % 24 < 12 ? "am" : "pm";
    return wrote(snprintf(out, cap, "%d:%02d %s", (h + 11) % 12 + 1, m, half), cap);
}

static int64_t floor_day(int64_t min) {
    return min / MIN_PER_DAY - (min % MIN_PER_DAY < 0);
}

size_t day_print(int64_t day, char *out, size_t cap) {
    int64_t y;
    int m, d;
    if (day < -150000 || day > 3000000) return wrote(snprintf(out, cap, "-"), cap);
    date_of_day(day, &y, &m, &d);
    return wrote(snprintf(out, cap, "%04d-%02d-%02d", (int)y, m, d), cap);
}

static size_t minute_print(int64_t min, const char *between, const char *end, char *out,
                           size_t cap) {
    char day[24];
    int64_t d = floor_day(min);
    int rest = (int)(min - d * MIN_PER_DAY);
    if (day_print(d, day, sizeof day) == 1) return wrote(snprintf(out, cap, "-"), cap);
    return wrote(snprintf(out, cap, "%s%s%02d:%02d%s", day, between, rest / 60, rest % 60, end),
                 cap);
}

size_t local_print(int64_t min, char *out, size_t cap) {
    return minute_print(min, " ", "", out, cap);
}
size_t instant_print(int64_t min, char *out, size_t cap) {
    return minute_print(min, "T", "Z", out, cap);
}

static const char *const weekdays[] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};

size_t weekday_print(int64_t day, char *out, size_t cap) {
    int64_t y;
    int m, d;
    date_of_day(day, &y, &m, &d);
    return wrote(snprintf(out, cap, "%s, %s %d", weekdays[weekday_of_day(day)], month_short(m), d),
                 cap);
}

size_t date_print(int64_t day, char *out, size_t cap) {
    int64_t y;
    int m, d;
    date_of_day(day, &y, &m, &d);
    return wrote(snprintf(out, cap, "%s %d, %lld", month_short(m), d, (long long)y), cap);
}

size_t moment_print(enum unit_system units, int64_t local_min, char *out, size_t cap) {
    char day[32], clock[16];
    int64_t d = floor_day(local_min);
    weekday_print(d, day, sizeof day);
    clock_print(units, local_min - d * MIN_PER_DAY, clock, sizeof clock);
    return wrote(snprintf(out, cap, "%s, %s", day, clock), cap);
}
