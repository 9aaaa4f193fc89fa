/* What the shelf reaches at a target's hue, whether the target is inside, and which family of
 * colors would extend it. */
#ifndef APP_COLOR_REACH_H
#define APP_COLOR_REACH_H

#include "app/color_work.h"

struct reach_row {
    double l, low, high; /* lightness; chroma from..to */
};

struct reach_answer {
    double hue;               /* degrees, Lab D50 */
    double lightness, chroma; /* of the target */
    bool inside;
    const char
        *family; /* of colors that would extend the reach, "blue-green"; inside: of the target */
    const char *text;
    struct reach_row *rows; /* by rising lightness */
    size_t rows_n;
};

/* Name of the family of a color, after the ten Munsell hues: "yellow-red", "blue-green"; "gray"
 * where it has next to no hue. Static. */
const char *color_family(const struct tables *t, struct lab d50, struct arena *a);

/* Errors: E_MISSING (/target; no paint with a known color), E_MEMORY. */
enum status color_reach(const struct tables *t, const struct shelf *shelf,
                        const struct color_said *target, struct arena *arena,
                        struct reach_answer *out, struct why *why);

extern const struct desc desc_reach;

#endif
