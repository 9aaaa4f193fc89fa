#include "codec/text_wrap.h"

#include <string.h>

size_t text_columns(const char *text, size_t n) {
    size_t c = 0;
    for (size_t i = 0; i < n && text[i]; i++) c += ((unsigned char)text[i] & 0xc0) != 0x80;
    return c;
}

size_t text_width(const struct text *page) {
    enum { USUAL = 80 };
    return page->columns ? page->columns : USUAL;
}

static void blanks(struct text *out, size_t n) {
    for (; n > 0; n--) text_add(out, " ", 1);
}

void text_wrap(struct text *out, size_t at, size_t indent, const char *words) {
    bool first = true;
    out->failed |= !words;
    while (words && *words) {
        size_t n = strcspn(words, " "), c = text_columns(words, n);
        if (!first && at + 1 + c > text_width(out)) {
            text_add(out, "\n", 1);
            blanks(out, indent);
            at = indent;
            first = true;
        }
        if (!first) text_add(out, " ", 1), at++;
        text_add(out, words, n);
        at += c;
        first = false;
        words += n;
        while (*words == ' ') words++;
    }
    text_add(out, "\n", 1);
}

void text_wrap_print(struct text *out, size_t at, size_t indent, const char *fmt, ...) {
    struct text words = {0};
    va_list ap;
    va_start(ap, fmt);
    text_vprint(&words, fmt, ap);
    va_end(ap);
    if (words.failed)
        out->failed = true;
    else
        text_wrap(out, at, indent, words.at);
    text_free(&words);
}

static void column(struct text *out, size_t columns, const char *words, bool right) {
    size_t n = strlen(words), w = text_columns(words, n), left = w < columns ? columns - w : 0;
    if (right) blanks(out, left);
    text_add(out, words, n);
    if (!right) blanks(out, left);
}

void text_left(struct text *out, size_t columns, const char *words) {
    column(out, columns, words, false);
}

void text_right(struct text *out, size_t columns, const char *words) {
    column(out, columns, words, true);
}

size_t text_sentence(const char *text) {
    const char *end = strstr(text, ". ");
    return end ? (size_t)(end - text) + 1 : strlen(text);
}
