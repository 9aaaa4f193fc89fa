#include "core/base/name.h"

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
