/* A mix as it was seen when it was made: what went in, the paints' colors then, the reflectance it
 * was predicted to have. Kept with batches and recipes, so that the same color can be mixed again
 * when the jars have changed. */
#ifndef APP_MIXED_H
#define APP_MIXED_H

#include "app/book.h"
#include "app/color_work.h"

struct mixed_item {
    const char *paint, *hex; /* id; its color then, NULL: not known */
    double parts;
};
struct mixed {
    const char *name, *piece;
    const char *target; /* the color it really had: read when dry, else predicted; NULL: neither */
    struct mixed_item *items;
    size_t items_n;
    struct spectrum reflectance; /* of the target, where known */
    bool spectral;
};

/* Of the batch or recipe with that id. Errors: E_NOT_FOUND, E_DAMAGED, E_MEMORY. */
enum status mixed_of_batch(struct op_call *call, const char *id, struct mixed *out,
                           struct why *why);
enum status mixed_of_recipe(struct op_call *call, const char *id, struct mixed *out,
                            struct why *why);

/* JSON texts for the row: reflectance as 36 numbers, items with their colors. */
const char *mixed_spectrum_text(struct op_call *call, const struct spectrum *r);
const char *mixed_items_text(struct op_call *call, const struct mixed_item *items, size_t n);
enum status mixed_items_read(struct op_call *call, const char *text, struct mixed_item **out,
                             size_t *out_n, struct why *why);

#endif
