/* What the person measures paint with, and the grid of parts that follows from it. */
#ifndef APP_MEASURING_H
#define APP_MEASURING_H

#include "core/base/arena.h"
#include "core/recipe/measure.h"
#include "core/work/job.h"
#include "tables.h"

#include <stdbool.h>

struct measuring {
    enum measure measure; /* never unsaid */
    double step_ml;       /* what the measure shows; grams at 1.2 g/ml */
    double least_ml;      /* no pour below it */
};

/* From what was asked, else from what the shop says, else what is usual (measure_usual_ml).
 *
 *   measure   MEASURE_UNSAID: the shop's
 *   step_ml   NAN: the shop's smallest where it is of that measure
 *   least_ml  NAN: one step */
struct measuring measuring_of(const struct shop *shop, enum measure measure, double step_ml,
                              double least_ml);

enum { MEASURING_PARTS = 64 };

/* Parts at most: MEASURING_PARTS, since spoons and marks show no more. On a scale, which shows a
 * gram of a kilogram, and where drops are counted, up to RECIPE_PARTS_MAX, as long as the recipes
 * of `items` out of `paints` stay few enough to be proven in a second or two: 1e9, and 2e7 where
 * the surest is wanted, whose variance takes longer (docs/decisions/0014). */
int64_t measuring_parts_max(const struct measuring *m, size_t paints, int64_t items, bool sure);

/* Parts of a batch of amount_ml, each a whole number of steps: as fine as the measure shows, but no
 * more than parts_max. */
void measuring_grid(const struct measuring *m, double amount_ml, int64_t parts_max,
                    int64_t *out_parts, double *out_part_ml);

/* "3 1/2 fl oz"; grams by the paint's density, else its class's. NULL: no memory. */
const char *measuring_text(const struct measuring *m, const struct tables *t,
                           const struct paint *paint, double ml, struct arena *a);

/* The same of an amount of any paint: grams at 1.2 g/ml. */
const char *measuring_amount(const struct measuring *m, double ml, struct arena *a);

/* Why made_ml is made and not asked_ml: the steps of the measure are too large for so little. NULL:
 * it is near enough, or no memory. */
const char *measuring_coarse(const struct measuring *m, double asked_ml, double made_ml,
                             struct arena *a);

/* Density that a scale needs: of the paint, else of its class. */
double measuring_density(const struct tables *t, const struct paint *paint);

/* The same as what core/recipe/measure.h pours with. */
struct measure_kit measuring_kit(const struct measuring *m);

#endif
