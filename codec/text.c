#include "codec/document.h"

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

void text_vprint(struct text *t, const char *fmt, va_list ap) {
    va_list again;
    va_copy(again, ap);
    int n = vsnprintf(NULL, 0, fmt, ap);
    if (n >= 0 && room_for(t, (size_t)n)) {
        vsnprintf(t->at + t->n, (size_t)n + 1, fmt, again);
        t->n += (size_t)n;
    }
    va_end(again);
}

void text_print(struct text *t, const char *fmt, ...) {
    va_list ap;
    va_start(ap, fmt);
    text_vprint(t, fmt, ap);
    va_end(ap);
}

/* RFC 3629: no overlong forms, no surrogates, nothing above U+10FFFF. */
size_t text_char(const char *s) {
    const unsigned char *c = (const unsigned char *)s;
    if (c[0] < 0x80) return 1;
    size_t n = c[0] >= 0xc2 && c[0] <= 0xdf ? 2
               : (c[0] & 0xf0) == 0xe0      ? 3
               : (c[0] & 0xf8) == 0xf0      ? 4
                                            : 0;
    for (size_t i = 1; i < n; i++)
        if ((c[i] & 0xc0) != 0x80) return 0;
    bool overlong = (c[0] == 0xe0 && c[1] < 0xa0) || (c[0] == 0xf0 && c[1] < 0x90),
         surrogate = c[0] == 0xed && c[1] > 0x9f,
         above = c[0] > 0xf4 || (c[0] == 0xf4 && c[1] > 0x8f);
    return overlong || surrogate || above ? 0 : n;
}

/* Besides what JSON asks for, < > & are escaped, so that the text may stand in a page's data
 * block, and U+2028/2029, so that it may stand in a script. What is no UTF-8 (an error's text may
 * be cut in the middle of a character) becomes U+FFFD, so that the whole stays JSON. */
void text_json(struct text *t, const char *s) {
    const char *from = s;
    text_add(t, "\"", 1);
    for (size_t n; *s; s += n) {
        unsigned char c = (unsigned char)*s;
        const char *esc = NULL;
        char code[8];
        if (!(n = text_char(s)))
            n = 1, esc = "\\ufffd";
        else if (c == '"')
            esc = "\\\"";
        else if (c == '\\')
            esc = "\\\\";
        else if (c == '\n')
            esc = "\\n";
        else if (c == '\t')
            esc = "\\t";
        else if (c < 0x20 || c == 0x7f || c == '<' || c == '>' || c == '&')
            snprintf(code, sizeof code, "\\u%04x", c), esc = code;
        else if (!strncmp(s, "\u2028", 3))
            esc = "\\u2028";
        else if (!strncmp(s, "\u2029", 3))
            esc = "\\u2029";
        if (!esc) continue;
        text_add(t, from, (size_t)(s - from));
        text_add(t, esc, strlen(esc));
        from = s + n;
    }
    text_add(t, from, (size_t)(s - from));
    text_add(t, "\"", 1);
}

void text_free(struct text *t) {
    free(t->at);
    *t = (struct text){.columns = t->columns};
}
