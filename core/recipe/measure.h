/* A recipe's parts made into pours that a workshop measure can show.
 *
 * A kit is what the person pours with: a jug with fluid-ounce or milliliter
 * marks, spoons and cups, a dropper, or a scale. Everything is a whole number of the kit's
 * smallest step, so that a batch as it is really poured is again a recipe in
 * whole parts (recipe_judge tells what its color becomes). Source: US customary
 * liquid measures (NIST SP 811); order of pouring: common practice. */
#ifndef CORE_RECIPE_MEASURE_H
#define CORE_RECIPE_MEASURE_H

#include "core/base/arena.h"
#include "core/base/status.h"
#include "core/color/pigment.h"
#include <stdbool.h>
#include <stddef.h>

enum { MEASURE_ITEMS_MAX = 16, MEASURE_POURS_MAX = MEASURE_ITEMS_MAX + 8 };

enum measure_kind {
    MEASURE_BY_FL_OZ,
    MEASURE_BY_SPOON, /* steps of 1/4 tsp; tsp, tbsp and cups follow from it */
    MEASURE_BY_ML,
    MEASURE_BY_DROP, /* steps of a drop */
    MEASURE_BY_SCALE /* grams; needs densities */
};

struct measure_kit {
    enum measure_kind kind;
    double step;     /* fl oz, ml or g, > 0; spoons and drops have their own */
    double least_ml; /* no pour smaller than this; 0: one step */
};

struct measure_item {
    int parts;               /* > 0, by volume */
    double density_g_per_ml; /* > 0; only a scale asks */
    double strength;         /* pigment_tinting(); the strongest is poured last */
};

struct measure_amount { /* one item, whole */
    int steps;
    double ml, g;     /* g is NAN without a density */
    const char *text; /* "3 1/2 fl oz", "1/4 cup + 2 tsp", "45 ml", "12.5 g" */
};

struct measure_pour { /* one pour, in order */
    size_t item;
    int steps;
    double ml, g;
    double mark_ml, mark_g; /* what the vessel or scale shows after it, all items together */
    const char *text, *mark;
    bool check; /* stir, compare with the target, then go on: not the last pour of
                   a strong paint */
};

struct measure_plan {
    struct measure_amount amounts[MEASURE_ITEMS_MAX]; /* in the items' order */
    struct measure_pour pours[MEASURE_POURS_MAX];
    size_t pours_n;
    double batch_ml;    /* >= wanted */
    double ratio_error; /* worst relative error of an item's share through
                           rounding; 0: exact */
};

/* Plans a batch of at least want_ml.
 *
 *   kit, items [n]   n is 1..MEASURE_ITEMS_MAX
 *   want_ml          > 0, at most 1e6
 *   allow            how much more than wanted may be mixed to get the shares
 * right (0.25: a quarter) arena            owns the texts
 *
 * Of all batches from wanted to wanted * (1 + allow), the one with the least
 * ratio_error, and of equal ones (within .002) the smallest. If the smallest
 * pour forces a larger batch, the smallest such is taken, whatever `allow`
 * says. Errors: E_DOMAIN ("/items/2/parts", "/want_ml", ...), E_MISSING (a
 * scale without a density), E_MEMORY. *out is untouched on failure. */
enum status measure_make(const struct measure_kit *kit, const struct measure_item *items, size_t n,
                         double want_ml, double allow, struct arena *arena,
                         struct measure_plan *out, struct why *why);

#endif
