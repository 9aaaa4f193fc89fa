#include "core/work/defect.h"

#include <string.h>

const char *role_word(enum coat_role role) {
    static const char *const words[] = {"",        "clean",  "strip", "scuff", "spot_seal",
                                        "barrier", "primer", "rub",   "stain", "color",
                                        "effect",  "clear",  "wax"};
    return words[role];
}

bool word_listed(const char *list, const char *word) {
    size_t want = strlen(word);
    for (const char *at = list + strspn(list, " "); *at; at += strspn(at, " ")) {
        size_t n = strcspn(at, " ");
        if ((n == want && !memcmp(at, word, n)) || (n == 3 && !memcmp(at, "any", 3))) return true;
        at += n;
    }
    return false;
}

size_t defects_of(const struct tables *t, enum coat_role role, const char *class,
                  const struct defects_row **out, size_t cap) {
    size_t n = 0;
    for (size_t i = 0; i < t->defects_n; i++) {
        const struct defects_row *row = &t->defects[i];
        if (!word_listed(row->roles, role_word(role))) continue;
        if (class && !word_listed(row->classes, class)) continue;
        if (n < cap) out[n] = row;
        n++;
    }
    return n;
}
