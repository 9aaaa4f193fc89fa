/* What a wet color will dry to, from the shelf's own pairs of samples. */
#ifndef APP_COLOR_WET_H
#define APP_COLOR_WET_H

#include "app/color_work.h"

struct wet_row { /* one kind of product with wet readings */
    const char *class, *text;
    int64_t pairs;
    bool ready;               /* there are enough pairs */
    double lightness, chroma; /* shift of L*, factor of chroma; NAN until ready */
    double expected_difference;
};

struct wet_answer {
    struct wet_row *rows;
    size_t rows_n;
    double lab[3]; /* that the color asked for should dry to, D50; only where it was asked */
    const char *hex, *notation, *text;
    double expected_difference;
};

/*   class   of the color asked for; NULL: the only one that is ready
 *   color   text NULL: nothing is asked, the rows alone
 *
 * Errors: E_MISSING (too few pairs, field ""; /class), E_MEMORY. */
enum status color_wet(const struct shelf *shelf, const char *class, const struct color_said *color,
                      struct arena *arena, struct wet_answer *out, struct why *why);

extern const struct desc desc_wet;

#endif
