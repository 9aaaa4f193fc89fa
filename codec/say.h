/* Text into a caller's buffer, cut where it ends. */
#ifndef CODEC_SAY_H
#define CODEC_SAY_H

#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>

/* Returns the bytes that are there, without the NUL. */
__attribute__((format(printf, 3, 4))) static inline size_t say(char *out, size_t cap,
                                                               const char *fmt, ...) {
    va_list ap;
    va_start(ap, fmt);
    int n = vsnprintf(out, cap, fmt, ap);
    va_end(ap);
    return n < 0 ? 0 : (size_t)n < cap ? (size_t)n : cap ? cap - 1 : 0;
}

#endif
