/* Walks over every set of paints that a recipe may pour, weakest paint first, and keeps the arrays
 * of the kernels up to date on the way: a step to the next set changes one paint as a rule.
 * Inside core/recipe only. */
#ifndef CORE_RECIPE_SETS_H
#define CORE_RECIPE_SETS_H

#include "core/recipe/cell.h"
#include "core/recipe/mixture.h"

struct sets_paint { /* one paint in single precision */
    float k[SPECTRUM_BANDS], s[SPECTRUM_BANDS], q[SPECTRUM_BANDS], mean;
};

struct sets {
    const struct mixture *m;
    size_t order[RECIPE_SHELF_MAX]; /* paints that can be poured, by rising mean S */
    size_t order_n;
    struct sets_paint paints[RECIPE_SHELF_MAX]; /* in that order */
    int musts_after[RECIPE_SHELF_MAX + 1];      /* wanted paints from here on */
    float batch_mean;
    /* the set in hand */
    int poured;                                     /* parts */
    size_t paint[RECIPE_ITEMS_MAX];                 /* paint[0] is the base, the weakest */
    int lo[RECIPE_ITEMS_MAX], hi[RECIPE_ITEMS_MAX]; /* pours */
    float q_min[RECIPE_ITEMS_MAX][SPECTRUM_BANDS], q_max[RECIPE_ITEMS_MAX][SPECTRUM_BANDS];
    struct cell_set cell;
};

void sets_init(struct sets *s, const struct mixture *m);
/* Calls visit(ctx) for every set, fewer paints first; ends when *ended. */
void sets_each(struct sets *s, int poured, void (*visit)(void *ctx), void *ctx, const bool *ended);
/* Items by paint of the parts of all but the base; returns how many. */
size_t sets_items(const struct sets *s, const short *parts, struct recipe_item *out);

#endif
