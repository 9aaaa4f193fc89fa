#include "core/work/sheen.h"

#include <math.h>
#include <stdbool.h>

/* MPI: 60 degree gloss from..to, 85 degree sheen from..to; NAN: no limit of this kind. An edge
 * belongs to the upper level where two meet (70, 85), to both where they overlap. */
static const struct {
    double gloss_from, gloss_to, sheen_from, sheen_to;
} levels[] = {
    [1] = {0, 5, NAN, 10},     [2] = {0, 10, 10, 35},    [3] = {10, 25, 10, 35},
    [4] = {20, 35, 35, NAN},   [5] = {35, 70, NAN, NAN}, [6] = {70, 85, NAN, NAN},
    [7] = {85, NAN, NAN, NAN},
};

static bool within(double value, double from, double to) {
    if (isnan(value)) return true;
    return !(value < from) && !(value > to); /* comparisons with NAN are false: no limit */
}

unsigned gloss_levels(double gloss_60, double sheen_85) {
    unsigned bits = 0;
    for (unsigned g = 1; g <= 7; g++)
        if (within(gloss_60, levels[g].gloss_from, levels[g].gloss_to) &&
            within(sheen_85, levels[g].sheen_from, levels[g].sheen_to))
            bits |= 1u << g;
    for (unsigned g = 6; g >= 5; g--) /* 70 is a gloss, 85 a high gloss */
        if (bits & 1u << g && bits & 1u << (g + 1)) bits &= ~(1u << g);
    return bits;
}

int sheen_level(enum sheen s) {
    return (int)s;
} /* the enum is in the order of the levels */

const char *sheen_name(enum sheen s) {
    static const char *const names[] = {0,       "flat",       "velvet", "eggshell",
                                        "satin", "semi-gloss", "gloss",  "high gloss"};
    return names[s];
}
