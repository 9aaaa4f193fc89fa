#include "codec/document.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool room_for(struct text *t, size_t more) {
    if (t->failed) return false;
    if (t->n + more + 1 <= t->cap) return true;
    size_t cap = t->cap ? t->cap : 256;
    while (cap < t->n + more + 1) cap *= 2;
    char *at = realloc(t->at, cap);
    if (!at) {
        t->failed = true;
        return false;
    }
    t->at = at;
    t->cap = cap;
    return true;
}

void text_add(struct text *t, const char *s, size_t n) {
    if (!room_for(t, n)) return;
    if (n) memcpy(t->at + t->n, s, n);
    t->n += n;
    t->at[t->n] = 0;
}

void text_print(struct text *t, const char *fmt, ...) {
    va_list ap;
    va_start(ap, fmt);
    int n = vsnprintf(NULL, 0, fmt, ap);
    va_end(ap);
    if (n < 0 || !room_for(t, (size_t)n)) return;
    va_start(ap, fmt);
    vsnprintf(t->at + t->n, (size_t)n + 1, fmt, ap);
    va_end(ap);
    t->n += (size_t)n;
}

/* Besides what JSON asks for, < > & are escaped, so that the text may stand in a page's data
 * block, and U+2028/2029, so that it may stand in a script. */
void text_json(struct text *t, const char *s) {
    text_add(t, "\"", 1);
    const char *from = s;
    for (; *s; s++) {
        unsigned char c = (unsigned char)*s;
        const char *esc = NULL;
        char code[8];
        size_t skip = 1;
        if (c == '"')
            esc = "\\\"";
        else if (c == '\\')
            esc = "\\\\";
        else if (c == '\n')
            esc = "\\n";
        else if (c == '\t')
            esc = "\\t";
        else if (c < 0x20 || c == 0x7f || c == '<' || c == '>' || c == '&') {
            snprintf(code, sizeof code, "\\u%04x", c);
            esc = code;
        } else if (!strncmp(s, "\u2028", 3) || !strncmp(s, "\u2029", 3)) {
            esc = (unsigned char)s[2] == 0xa8 ? "\\u2028" : "\\u2029";
            skip = 3;
        }
        if (!esc) continue;
        text_add(t, from, (size_t)(s - from));
        text_add(t, esc, strlen(esc));
        s += skip - 1;
        from = s + 1;
    }
    text_add(t, from, (size_t)(s - from));
    text_add(t, "\"", 1);
}

void text_free(struct text *t) {
    free(t->at);
    *t = (struct text){0};
}
