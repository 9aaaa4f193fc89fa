#include "codec/date_text.h"
#include "codec/digits.h"

#include <stddef.h>
#include <string.h>

int64_t day_of_date(int64_t year, int month, int dom) {
    /* years begin in March, so that the leap day is the last of its year */
    year -= month <= 2;
    int64_t era = (year >= 0 ? year : year - 399) / 400;
    int64_t yoe = year - era * 400;
    int64_t doy = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + dom - 1;
    int64_t doe = yoe * 365 + yoe / 4 - yoe / 100 + doy;
    return era * 146097 + doe - 719468;
}

void date_of_day(int64_t day, int64_t *out_year, int *out_month, int *out_dom) {
    int64_t z = day + 719468;
    int64_t era = (z >= 0 ? z : z - 146096) / 146097;
    int64_t doe = z - era * 146097;
    int64_t yoe = (doe - doe / 1460 + doe / 36524 - doe / 146096) / 365;
    int64_t doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
    int64_t mp = (5 * doy + 2) / 153;
    *out_dom = (int)(doy - (153 * mp + 2) / 5 + 1);
    *out_month = (int)(mp < 10 ? mp + 3 : mp - 9);
    *out_year = yoe + era * 400 + (*out_month <= 2);
}

int weekday_of_day(int64_t day) {
    return (int)(((day + 3) % 7 + 7) % 7);
} /* 1970-01-01: Thursday */

static const char *const months[] = {"january",   "february", "march",    "april",
                                     "may",       "june",     "july",     "august",
                                     "september", "october",  "november", "december"};

const char *month_short(int month) {
    static const char *const names[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                        "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    return names[month - 1];
}

static bool is_separator(char c) {
    return c == '-' || c == '/' || c == '.';
}

/* A month's whole name or its first three letters or more, with or without a point: Sept. */
static const char *month_name(const char *s, int *out_month) {
    size_t n = 0;
    while ((s[n] | 32) >= 'a' && (s[n] | 32) <= 'z') n++;
    for (int m = 0; m < 12 && n >= 3; m++) {
        size_t k = 0;
        while (k < n && months[m][k] == (s[k] | 32)) k++;
        if (k < n) continue;
        *out_month = m + 1;
        return s + n + (s[n] == '.');
    }
    return NULL;
}

static bool exists(int year, int month, int dom) {
    static const int longest[] = {31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    if (year < 1600 || month < 1 || month > 12 || dom < 1 || dom > longest[month - 1]) return false;
    return month != 2 || dom != 29 || leap;
}

/* 2026-10-12, 2026/10/12 */
static const char *year_first(const char *s, int *year, int *month, int *dom) {
    if (!(s = digits(s, 4, 4, year)) || !is_separator(*s)) return NULL;
    char between = *s;
    if (!(s = digits(s + 1, 1, 2, month)) || *s != between) return NULL;
    return digits(s + 1, 1, 2, dom);
}

/* Oct 12, 2026 */
static const char *month_first(const char *s, int *year, int *month, int *dom) {
    if (!(s = month_name(s, month)) || !(s = digits(blanks(s), 1, 2, dom))) return NULL;
    s = blanks(s);
    return digits(blanks(s + (*s == ',')), 4, 4, year);
}

/* 12 Oct 2026, 12-Oct-2026 */
static const char *day_first(const char *s, int *year, int *month, int *dom) {
    if (!(s = digits(s, 1, 2, dom))) return NULL;
    s += *s == '.' || *s == '-';
    if (!(s = month_name(blanks(s), month))) return NULL;
    s += *s == ',' || *s == '-';
    return digits(blanks(s), 4, 4, year);
}

const char *date_scan(const char *text, int64_t *out_day) {
    static const char *(*const ways[])(const char *, int *, int *,
                                       int *) = {year_first, month_first, day_first};
    for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
        int year, month, dom;
        const char *end = ways[i](text, &year, &month, &dom);
        if (!end || !exists(year, month, dom)) continue;
        *out_day = day_of_date(year, month, dom);
        return end;
    }
    return NULL;
}

bool date_is_unclear(const char *text, struct why *why) {
    int a, b, year;
    const char *s = digits(blanks(text), 1, 2, &a);
    if (!s || !is_separator(*s) || !(s = digits(s + 1, 1, 2, &b)) || !is_separator(*s))
        return false;
    if (!(s = digits(s + 1, 2, 4, &year))) return false;
    year += year < 100 ? 2000 : 0;
    bool month_a = exists(year, a, b), month_b = exists(year, b, a);
    if (!month_a && !month_b) return false;
    int month = month_a ? a : b, dom = month_a ? b : a;
    const char *name = month_short(month);
    if (month_a && month_b && a != b)
        why_say(why, E_SYNTAX, "",
                "\"%.40s\" can be %s %d or %s %d. Write %d-%02d-%02d or %s %d, %d.", text, name,
                dom, month_short(dom), month, year, month, dom, name, dom, year);
    else
        why_say(why, E_SYNTAX, "",
                "\"%.40s\" does not say which number is the month. Write %d-%02d-%02d or "
                "%s %d, %d.",
                text, year, month, dom, name, dom, year);
    return true;
}
