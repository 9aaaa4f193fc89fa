#include "core/base/status.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

struct status_row {
    int http;
    const char *code;
    const char *text;
};

static const struct status_row rows[] = {
#define X(name, http, code, text) [name] = {http, code, text},
    STATUS_LIST(X)
#undef X
};

static const struct status_row *row_of(enum status s) {
    return &rows[(int)s >= 0 && s < STATUS_COUNT ? s : E_NUMERIC];
}

int status_http(enum status s) {
    return row_of(s)->http;
}
const char *status_code(enum status s) {
    return row_of(s)->code;
}
const char *status_text(enum status s) {
    return row_of(s)->text;
}

enum status why_say(struct why *why, enum status s, const char *field, const char *fmt, ...) {
    if (why) {
        /* The arguments may point into *why itself, so the text is made beside it. */
        char text[sizeof why->text];
        va_list ap;
        va_start(ap, fmt);
        vsnprintf(text, sizeof text, fmt, ap);
        va_end(ap);
        if (field != why->field) snprintf(why->field, sizeof why->field, "%s", field);
        memcpy(why->text, text, sizeof text);
    }
    return s;
}

enum status why_no_memory(struct why *why) {
    return why_say(why, E_MEMORY, "", "%s", status_text(E_MEMORY));
}

void why_under(struct why *why, const char *prefix) {
    if (!why) return;
    char whole[sizeof why->field];
    size_t n = strlen(prefix);
    if (n >= sizeof whole) n = sizeof whole - 1;
    memcpy(whole, prefix, n);
    snprintf(whole + n, sizeof whole - n, "%s", why->field);
    memcpy(why->field, whole, sizeof whole);
}
