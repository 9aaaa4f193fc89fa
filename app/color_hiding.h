/* How many coats of a mix hide the ground at hand. */
#ifndef APP_COLOR_HIDING_H
#define APP_COLOR_HIDING_H

#include "app/color_work.h"

struct hiding_row {
    int64_t coats;
    const char *hex;   /* over the ground */
    double difference; /* from the opaque layer */
    double contrast;   /* of luminance to the opaque layer, 0..1 */
};

struct hiding_answer {
    const char *ground_hex;
    bool ground_assumed; /* none was said: a brown old finish */
    int64_t coats;       /* that hide the ground; one more than was tried where they do not */
    bool hidden;
    int64_t coats_if_weak; /* where its jars hide as badly as may be; HIDING_COATS + 1 as above */
    int64_t jars, jars_tried; /* in the mix; of these tried over black and white */
    double coat_um;           /* dry film of one coat, by class of product */
    const char *text, *how;   /* in a sentence; what it was reckoned from */
    struct hiding_row *rows;
    size_t rows_n;
};
enum { HIDING_COATS = 5 };

/*   ground  text NULL: none was said
 *   units   of the lengths in words
 *
 * Errors: those of color_mix. */
enum status color_hiding(const struct tables *t, const struct shelf *shelf,
                         const struct mix_item *items, size_t items_n,
                         const struct color_said *ground, enum unit_system units,
                         struct arena *arena, struct hiding_answer *out, struct why *why);

extern const struct desc desc_hiding;

#endif
