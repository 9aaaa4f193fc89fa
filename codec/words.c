#include "codec/words.h"

#include <stdio.h>
#include <string.h>

const char *words_listed(const char *const *words, char *out, size_t cap) {
    size_t n = 0;
    out[0] = 0;
    for (; *words; words++) {
        if (!**words) continue;
        int k = snprintf(out + n, cap - n, "%s%s", n ? ", " : "", *words);
        if (k < 0 || (size_t)k >= cap - n) {
            if (n + 4 < cap) memcpy(out + n, " ...", 5);
            break;
        }
        n += (size_t)k;
    }
    return out;
}

bool word_same(const char *a, const char *b) {
    for (; *a && *b; a++, b++) {
        char x = *a == '_' || *a == '-' ? ' ' : *a, y = *b == '_' || *b == '-' ? ' ' : *b;
        if (x >= 'A' && x <= 'Z') x = (char)(x - 'A' + 'a');
        if (y >= 'A' && y <= 'Z') y = (char)(y - 'A' + 'a');
        if (x != y) return false;
    }
    return *a == *b;
}

/* Changes, insertions and deletions between two short words. */
static size_t distance(const char *a, const char *b) {
    enum { LONGEST = 40 };
    size_t row[LONGEST + 1], n = strlen(a), m = strlen(b);
    if (n > LONGEST || m > LONGEST) return LONGEST;
    for (size_t j = 0; j <= m; j++) row[j] = j;
    for (size_t i = 1; i <= n; i++) {
        size_t corner = row[0];
        row[0] = i;
        for (size_t j = 1; j <= m; j++) {
            size_t best = corner + (a[i - 1] != b[j - 1]);
            corner = row[j];
            if (row[j] + 1 < best) best = row[j] + 1;
            if (row[j - 1] + 1 < best) best = row[j - 1] + 1;
            row[j] = best;
        }
    }
    return row[m];
}

const char *word_near(const char *const *words, const char *text) {
    const char *best = NULL;
    size_t least = strlen(text) < 4 ? 2 : 3;
    for (; *words; words++) {
        size_t d = **words ? distance(*words, text) : least;
        if (d < least) {
            least = d;
            best = *words;
        }
    }
    return best;
}
