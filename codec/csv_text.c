#include "codec/csv_text.h"
#include "codec/units_text.h"

#include <math.h>
#include <string.h>

/* Would a spreadsheet compute it? Numbers and telephone numbers are no formulas: -12.50, +1 (555).
 */
static bool is_formula(const char *value) {
    bool sign = *value == '+' || *value == '-';
    if (sign) return value[1 + strspn(value + 1, "0123456789 .,()/-")] != 0;
    return *value && strchr("=@\t\r", *value);
}

void csv_field(struct text *t, const char *value, bool first) {
    if (!first) text_add(t, ",", 1);
    if (!value) return;
    const char *mark = is_formula(value) ? "'" : "";
    if (!strpbrk(value, ",\"\r\n")) {
        text_print(t, "%s%s", mark, value);
        return;
    }
    text_print(t, "\"%s", mark);
    for (const char *quote; (quote = strchr(value, '"')); value = quote + 1) {
        text_add(t, value, (size_t)(quote - value));
        text_add(t, "\"\"", 2);
    }
    text_add(t, value, strlen(value));
    text_add(t, "\"", 1);
}

void csv_number(struct text *t, double value, bool first) {
    char text[64] = "";
    if (!isnan(value)) number_print(value, text, sizeof text);
    csv_field(t, text, first);
}

void csv_integer(struct text *t, int64_t value, bool first) {
    if (!first) text_add(t, ",", 1);
    if (value != INT64_MIN) text_print(t, "%lld", (long long)value);
}

void csv_end(struct text *t) {
    text_add(t, "\r\n", 2);
}

static bool at_line_end(const char *p, const char *end) {
    return p == end || *p == '\n' || (*p == '\r' && p + 1 < end && p[1] == '\n');
}

/* One quoted field; *at stands behind the opening mark and is moved behind the closing one. */
static enum status read_quoted(const char **at, const char *end, char between, struct arena *arena,
                               const char **out, struct why *why) {
    const char *p = *at;
    size_t n = 0;
    while (p < end && (*p != '"' || (p + 1 < end && p[1] == '"'))) p += *p == '"' ? 2 : 1, n++;
    if (p == end) return why_say(why, E_SYNTAX, "", "A quotation mark is not closed.");
    char *text = arena_take(arena, n + 1);
    if (!text) return why_no_memory(why);
    for (const char *q = *at; q < p; q++) {
        *text++ = *q;
        if (*q == '"') q++;
    }
    *out = text - n;
    *at = p + 1;
    if (!at_line_end(*at, end) && **at != between)
        return why_say(
            why, E_SYNTAX, "",
            "After a closing quotation mark a \"%c\" or the end of the line must follow.", between);
    return OK;
}

static enum status read_plain(const char **at, const char *end, char between, struct arena *arena,
                              const char **out, struct why *why) {
    const char *p = *at;
    while (!at_line_end(p, end) && *p != between && *p != '"') p++;
    if (p < end && *p == '"')
        return why_say(why, E_SYNTAX, "",
                       "A field with a quotation mark must stand in quotation marks.");
    char *text = arena_take(arena, (size_t)(p - *at) + 1);
    if (!text) return why_no_memory(why);
    memcpy(text, *at, (size_t)(p - *at));
    *out = text;
    *at = p;
    return OK;
}

enum status csv_read(const char **at, const char *end, char between, size_t max,
                     struct arena *arena, const char **out_fields, size_t *out_n, struct why *why) {
    const char *p = *at;
    size_t n = 0;
    *out_n = 0;
    if (p == end) return OK;
    for (;; p++) {
        if (n == max) return why_say(why, E_TOO_LARGE, "", "A line has more than %zu fields.", max);
        bool quoted = p < end && *p == '"';
        p += quoted;
        enum status status = quoted ? read_quoted(&p, end, between, arena, &out_fields[n], why)
                                    : read_plain(&p, end, between, arena, &out_fields[n], why);
        if (status) return status;
        n++;
        if (at_line_end(p, end)) break;
    }
    if (p < end) p += *p == '\r' ? 2 : 1;
    *at = p;
    *out_n = n;
    return OK;
}
