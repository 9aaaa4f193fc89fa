#include "core/work/sheen.h"

int sheen_level(enum sheen s) {
    return (int)s; /* the enum is in the order of the levels */
}

const char *sheen_name(enum sheen s) {
    static const char *const names[] = {0,       "flat",       "velvet", "eggshell",
                                        "satin", "semi-gloss", "gloss",  "high gloss"};
    return names[s];
}
