/* Walks over every set of paints that a recipe may pour, weakest paint first,
 * and keeps the arrays of the kernels up to date on the way. A step visits all
 * sets that differ in their last, strongest paint only: their cells share a
 * batch. Inside core/recipe only. */
#ifndef CORE_RECIPE_SETS_H
#define CORE_RECIPE_SETS_H

#include "core/recipe/cell.h"
#include "core/recipe/mixture.h"

struct sets {
    const struct mixture *m;
    /* paints that can be poured, by rising mean S: "places" */
    int n;
    size_t paint[RECIPE_SHELF_MAX];                 /* their index in the problem */
    int lo[RECIPE_SHELF_MAX], hi[RECIPE_SHELF_MAX]; /* pours */
    struct cell_shelf shelf;
    int musts_after[RECIPE_SHELF_MAX + 1]; /* wanted paints from here on */
    float batch_mean;
    /* the sets in hand: places of all paints but the last; place[0] is the base
     */
    int poured; /* parts */
    int place[RECIPE_ITEMS_MAX];
    float q_min[RECIPE_ITEMS_MAX][SPECTRUM_BANDS], q_max[RECIPE_ITEMS_MAX][SPECTRUM_BANDS];
    struct cell_set cell;
};

void sets_init(struct sets *s, const struct mixture *m);
/* Calls visit(ctx, first) for every beginning of a set of two paints or more,
 * smaller sets first; last paints may come from place `first` on where
 * sets_last says so. Ends when *ended. */
void sets_each(struct sets *s, int poured, void (*visit)(void *ctx, int first), void *ctx,
               const bool *ended);
/* May a set of whose other paints the last is before `first` end with the paint
 * at `last`? */
bool sets_last(const struct sets *s, int first, int last);
/* Items by paint; parts of all paints but the base. Returns how many. */
size_t sets_items(const struct sets *s, const short *parts, int last, struct recipe_item *out);

#endif
