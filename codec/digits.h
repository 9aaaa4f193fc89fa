/* The small change of dates and times: blanks and numbers of so many digits. */
#ifndef CODEC_DIGITS_H
#define CODEC_DIGITS_H

#include <stddef.h>

/* Behind the blanks at s. */
static inline const char *blanks(const char *s) {
    while (*s == ' ') s++;
    return s;
}

/* Behind `from` to `to` (at most 9) digits at s and no more of them; else NULL, *out untouched. */
static inline const char *digits(const char *s, int from, int to, int *out) {
    int n = 0, v = 0;
    for (; *s >= '0' && *s <= '9' && n < to; s++, n++) v = v * 10 + (*s - '0');
    if (n < from || (*s >= '0' && *s <= '9')) return NULL;
    *out = v;
    return s;
}

#endif
