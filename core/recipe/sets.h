/* Walks over every set of paints that a recipe may pour. Inside core/recipe only. */
#ifndef CORE_RECIPE_SETS_H
#define CORE_RECIPE_SETS_H

#include "core/recipe/cell.h"
#include "core/recipe/mixture.h"

struct sets {
    const struct mixture *m;
    /* paints that can be poured, by rising mean S, so that a set's base is its weakest: "places" */
    int n;
    size_t paint[RECIPE_SHELF_MAX];                 /* their index in the problem */
    int lo[RECIPE_SHELF_MAX], hi[RECIPE_SHELF_MAX]; /* pours */
    int binder[RECIPE_SHELF_MAX];
    struct cell_shelf shelf;
    int musts_after[RECIPE_SHELF_MAX + 1]; /* wanted paints from here on */
    int poured;                            /* parts of all paints; the caller's */
};

void sets_init(struct sets *s, const struct mixture *m);
/* The next set of set->n + 1 paints of one binder that holds all wanted paints and fits the parts
 * poured, in lexical order of places; the first where set->place[0] is below 0. false: no more,
 * *set is spoilt. */
bool sets_next(const struct sets *s, struct cell_set *set);
/* Writes a set's paints into one lane. */
void sets_load(const struct sets *s, const struct cell_set *set, int lane, struct cell_paints *out);
/* May one paint alone be the recipe? */
bool sets_single(const struct sets *s, int place);
/* Items by paint; parts of all paints but the base. Returns how many. */
size_t sets_items(const struct sets *s, const struct cell_set *set, const short *parts,
                  struct recipe_item *out);

#endif
