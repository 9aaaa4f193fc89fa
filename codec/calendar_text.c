#include "codec/calendar_text.h"

#include "codec/csv_text.h"
#include "codec/time_text.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { FOLD_OCTETS = 75, YEAR_1600_MIN_DAY = -135140, YEAR_9999_MAX_DAY = 2932896 };

/* One content line being written: folds before the 76th octet. */
struct line {
    struct text *out;
    size_t octets;
};

/* One character, whose bytes stay together. */
static void put(struct line *l, const char *s, size_t n) {
    if (l->octets + n > FOLD_OCTETS) {
        text_add(l->out, "\r\n ", 3);
        l->octets = 1;
    }
    text_add(l->out, s, n);
    l->octets += n;
}

static size_t utf8_length(const char *s) {
    size_t n = 1;
    while (((unsigned char)s[n] & 0xC0) == 0x80) n++;
    return n;
}

static void raw(struct line *l, const char *s) {
    for (size_t n; *s; s += n) put(l, s, n = utf8_length(s));
}

static void end(struct line *l) {
    text_add(l->out, "\r\n", 2);
    l->octets = 0;
}

/* Name and plain value. */
static void plain(struct text *out, const char *name, const char *value) {
    struct line l = {out, 0};
    raw(&l, name);
    raw(&l, ":");
    raw(&l, value);
    end(&l);
}

/* Name and TEXT value (RFC 5545, 3.3.11); control characters other than line ends are dropped. */
static void escaped(struct text *out, const char *name, const char *value) {
    struct line l = {out, 0};
    raw(&l, name);
    raw(&l, ":");
    for (size_t n; *value; value += n) {
        n = utf8_length(value);
        if (*value == '\n')
            put(&l, "\\n", 2);
        else if (*value == '\\')
            put(&l, "\\\\", 2);
        else if (*value == ';')
            put(&l, "\\;", 2);
        else if (*value == ',')
            put(&l, "\\,", 2);
        else if ((unsigned char)*value >= 32 && *value != 127)
            put(&l, value, n);
    }
    end(&l);
}

static void instant(struct text *out, const char *name, int64_t utc_min) {
    int64_t day = utc_min / 1440 - (utc_min % 1440 < 0), year;
    int64_t of_day = utc_min - day * 1440;
    int month, dom;
    char value[64];
    date_of_day(day, &year, &month, &dom);
    snprintf(value, sizeof value, "%04" PRId64 "%02d%02dT%02d%02d00Z", year, month, dom,
             (int)(of_day / 60), (int)(of_day % 60));
    plain(out, name, value);
}

/* The same letters for every run: UID of a job's event, only characters that need no care. */
static void uid(struct text *out, const struct calendar *c, const struct calendar_event *e) {
    static const char hex[] = "0123456789abcdef";
    struct line l = {out, 0};
    raw(&l, "UID:");
    const char *part[] = {c->job ? c->job : "job", e->id};
    for (int k = 0; k < 2; k++) {
        for (const char *s = part[k]; *s; s++) {
            unsigned char b = (unsigned char)*s;
            bool safe = (b >= 'a' && b <= 'z') || (b >= 'A' && b <= 'Z') ||
                        (b >= '0' && b <= '9') || b == '-';
            char code[3] = {'_', hex[b >> 4], hex[b & 15]};
            if (safe)
                put(&l, s, 1);
            else
                put(&l, code, sizeof code);
        }
        raw(&l, k ? "@coatwright.invalid" : ".");
    }
    end(&l);
}

static void alarm(struct text *out, const struct calendar_event *e) {
    char value[48];
    bool of_end = e->kind == CALENDAR_WINDOW;
    plain(out, "BEGIN", "VALARM");
    plain(out, "ACTION", "DISPLAY");
    escaped(out, "DESCRIPTION", e->summary);
    snprintf(value, sizeof value, "-PT%" PRId32 "M", e->alarm_before_min);
    plain(out, of_end ? "TRIGGER;RELATED=END" : "TRIGGER", value);
    plain(out, "END", "VALARM");
}

static void summary(struct text *out, const struct calendar_event *e) {
    struct text words = {0};
    if (e->person && *e->person) text_print(&words, "%s: %s", e->person, e->summary);
    escaped(out, "SUMMARY", words.at && !words.failed ? words.at : e->summary);
    out->failed = out->failed || words.failed;
    text_free(&words);
}

static void event(struct text *out, const struct calendar *c, const struct calendar_event *e) {
    char number[16];
    plain(out, "BEGIN", "VEVENT");
    uid(out, c, e);
    instant(out, "DTSTAMP", c->stamp_utc_min);
    snprintf(number, sizeof number, "%" PRId32, c->revision);
    plain(out, "SEQUENCE", number);
    instant(out, "DTSTART", e->from_utc_min);
    if (e->to_utc_min > e->from_utc_min) instant(out, "DTEND", e->to_utc_min);
    summary(out, e);
    if (e->note && *e->note) escaped(out, "DESCRIPTION", e->note);
    if (e->piece && *e->piece) escaped(out, "CATEGORIES", e->piece);
    plain(out, "TRANSP", e->kind == CALENDAR_WORK ? "OPAQUE" : "TRANSPARENT");
    if (e->alarm_before_min >= 0) alarm(out, e);
    plain(out, "END", "VEVENT");
}

static bool shown(const struct calendar_event *e) {
    return e->from_utc_min != INT64_MIN;
}

static bool in_years(int64_t utc_min) {
    return utc_min >= (int64_t)YEAR_1600_MIN_DAY * 1440 &&
           utc_min < ((int64_t)YEAR_9999_MAX_DAY + 1) * 1440;
}

static enum status check(const struct calendar *c, struct why *why) {
    if (!in_years(c->stamp_utc_min) || c->revision < 0)
        return why_say(why, E_DOMAIN, "/stamp_utc_min",
                       "The stamp must lie in the years 1600 to 9999, the revision not below 0.");
    for (size_t i = 0; i < c->n; i++) {
        const struct calendar_event *e = &c->events[i];
        char field[40];
        snprintf(field, sizeof field, "/events/%zu", i);
        if (!e->id || !*e->id || !e->summary)
            return why_say(why, E_MISSING, field, "An event needs its id and its summary.");
        if (shown(e) && (!in_years(e->from_utc_min) || !in_years(e->to_utc_min) ||
                         e->to_utc_min < e->from_utc_min))
            return why_say(
                why, E_DOMAIN, field,
                "An event must end no earlier than it begins, in the years 1600 to 9999.");
        for (size_t k = 0; k < i; k++)
            if (!strcmp(c->events[k].id, e->id))
                return why_say(why, E_DUPLICATE, field, "\"%s\" is there twice.", e->id);
    }
    return OK;
}

/* A calendar holds one component at least (RFC 5545, 3.4 and 3.6): where there are no days, its
 * zone. */
static void zone_alone(struct text *out) {
    static const char *const lines[][2] = {
        {"BEGIN", "VTIMEZONE"},    {"TZID", "UTC"},
        {"BEGIN", "STANDARD"},     {"DTSTART", "19700101T000000"},
        {"TZOFFSETFROM", "+0000"}, {"TZOFFSETTO", "+0000"},
        {"END", "STANDARD"},       {"END", "VTIMEZONE"}};
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) plain(out, lines[i][0], lines[i][1]);
}

enum status calendar_print(const struct calendar *c, struct text *out, struct why *why) {
    enum status st = check(c, why);
    if (st) return st;
    plain(out, "BEGIN", "VCALENDAR");
    plain(out, "VERSION", "2.0");
    plain(out, "PRODID", "-//Coatwright//Days//EN");
    plain(out, "CALSCALE", "GREGORIAN");
    if (c->name && *c->name) escaped(out, "NAME", c->name); /* RFC 7986 */
    bool any = false;
    for (size_t i = 0; i < c->n; i++)
        if (shown(&c->events[i])) event(out, c, &c->events[i]), any = true;
    if (!any) zone_alone(out);
    plain(out, "END", "VCALENDAR");
    return out->failed ? why_no_memory(why) : OK;
}

static void offset_field(struct text *out, int min) {
    char text[32];
    const int all = min < 0 ? -min : min;
    snprintf(text, sizeof text, "UTC%c%02d:%02d", min < 0 ? '-' : '+', all / 60, all % 60);
    csv_field(out, text, false);
}

enum status calendar_print_csv(const struct calendar *c, struct text *out, struct why *why) {
    static const char *const head[] = {"kind", "id",   "piece", "person",  "summary",
                                       "note", "from", "to",    "minutes", "utc_offset"};
    static const char *const kind[] = {"work", "drying", "ready", "window"};
    enum status st = check(c, why);
    if (st) return st;
    for (size_t i = 0; i < sizeof head / sizeof *head; i++) csv_field(out, head[i], i == 0);
    csv_end(out);
    for (size_t i = 0; i < c->n; i++) {
        const struct calendar_event *e = &c->events[i];
        char from[40], to[40];
        if (!shown(e)) continue;
        local_print(e->from_utc_min + e->from_ahead_min, from, sizeof from);
        local_print(e->to_utc_min + e->to_ahead_min, to, sizeof to);
        csv_field(out, kind[e->kind], true);
        csv_field(out, e->id, false);
        csv_field(out, e->piece, false);
        csv_field(out, e->person, false);
        csv_field(out, e->summary, false);
        csv_field(out, e->note, false);
        csv_field(out, from, false);
        csv_field(out, to, false);
        csv_integer(out, e->to_utc_min - e->from_utc_min, false);
        offset_field(out, e->from_ahead_min);
        csv_end(out);
    }
    return out->failed ? why_no_memory(why) : OK;
}
