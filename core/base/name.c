#include "core/base/name.h"

#include <string.h>

/* The next letter of the folded name, 0 at its end. */
static char next(const char **at, bool begun) {
    const char *p = *at;
    bool blank = false;
    while (*p == ' ' || *p == '\t' || *p == '\n' || *p == '\r') p++, blank = true;
    if (!*p) return 0;
    if (blank && begun) {
        *at = p;
        return ' ';
    }
    *at = p + 1;
    return *p >= 'A' && *p <= 'Z' ? (char)(*p - 'A' + 'a') : *p;
}

void name_fold(const char *name, char *out, size_t n) {
    size_t i = 0;
    char c;
    while (i + 1 < n && (c = next(&name, i > 0))) out[i++] = c;
    if (n) out[i] = 0;
}

bool name_said(const char *name) {
    return name && next(&name, false);
}

bool name_same(const char *a, const char *b) {
    for (bool begun = false;; begun = true) {
        char x = next(&a, begun), y = next(&b, begun);
        if (x != y) return false;
        if (!x) return begun;
    }
}

size_t name_apart(const char *a, const char *b) {
    char x[64], y[64];
    size_t row[64]; /* of the first letters of x: from all that was seen of y so far */
    name_fold(a, x, sizeof x);
    name_fold(b, y, sizeof y);
    size_t n = strlen(x);
    for (size_t i = 0; i <= n; i++) row[i] = i;
    for (size_t j = 0; y[j]; j++) {
        size_t above_left = row[0];
        row[0] = j + 1;
        for (size_t i = 1; i <= n; i++) {
            size_t exchanged = above_left + (x[i - 1] != y[j]);
            size_t added = (row[i] < row[i - 1] ? row[i] : row[i - 1]) + 1;
            above_left = row[i];
            row[i] = exchanged < added ? exchanged : added;
        }
    }
    return row[n];
}
