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
    double most;                     /* chroma reached at its lightness and hue; not printed */
    const char *family;              /* of the target's hue, "blue-green" */
    double before, after;            /* outside: the best recipe, and with the paint below; NAN */
    const char *extend, *extend_hex; /* the paint that would bring it nearest; NULL: none much */
    const char *same_hue; /* too strong: the strongest of its hue and lightness, CSS LCh; NULL */
    const char *text;
    struct reach_row *rows; /* by rising lightness */
    size_t rows_n;
};

/*  class  of the paints; NULL: every paint whose role is color
 *  limit  of the searches that try other paints (core/recipe/extend.h)
 *
 * Errors: E_MISSING (/target; no paint with a known color), E_MEMORY. Cost: some tens of
 * milliseconds, outside the reach some hundreds. */
enum status color_reach(const struct tables *t, const struct shelf *shelf, const char *class,
                        const struct color_said *target, struct limit limit, struct arena *arena,
                        struct reach_answer *out, struct why *why);

extern const struct desc desc_reach;

#endif
