#include "app/measuring.h"

#include "codec/units_text.h"
#include "core/base/units.h"
#include "core/recipe/finer.h"
#include "core/recipe/recipe.h"
#include "core/work/complete.h"
#include "core/work/fact.h"

#include <math.h>
#include <string.h>

#define COARSE_FRAC 0.1 /* a batch so far from what was asked is said */

struct measuring measuring_of(const struct shop *shop, enum measure measure, double step_ml,
                              double least_ml) {
    struct measuring m = {measure ? measure : shop->measure, step_ml, least_ml};
    bool shops = !measure || measure == shop->measure;
    if (!m.measure) m.measure = shop->units == UNITS_METRIC ? MEASURE_ML : MEASURE_FL_OZ;
    if (!(m.step_ml > 0) && shops && shop->smallest_ml > 0) m.step_ml = shop->smallest_ml;
    if (!(m.step_ml > 0)) m.step_ml = measure_usual_ml(m.measure);
    if (!(m.least_ml > m.step_ml)) m.least_ml = m.step_ml;
    return m;
}

/* A scale and a dropper tell a thousand steps apart; marks and spoons do not. */
static bool counts_fine(const struct measuring *m) {
    return m->measure == MEASURE_GRAM || m->measure == MEASURE_DROP;
}

int64_t measuring_parts_max(const struct measuring *m, size_t paints, int64_t items, bool sure) {
    const double n = (double)paints, k = fmin((double)items, n);
    const double most = sure ? 2e7 : 1e9;
    int64_t parts = RECIPE_PARTS_MAX;
    if (!counts_fine(m)) return MEASURING_PARTS;
    while (parts > MEASURING_PARTS && recipe_points(n, k, (double)parts) > most)
        parts = parts * 3 / 4;
    return parts > MEASURING_PARTS ? parts : MEASURING_PARTS;
}

void measuring_grid(const struct measuring *m, double amount_ml, int64_t parts_max,
                    int64_t *out_parts, double *out_part_ml) {
    double step = m->step_ml;
    const double fits = amount_ml / ((double)parts_max + 0.5) / step;
    if (fits > 1) step *= counts_fine(m) ? ceil(fits) : exp2(ceil(log2(fits)));
    double parts = fmax(1, round(amount_ml / step));
    *out_parts = (int64_t)parts;
    *out_part_ml = step;
}

double measuring_density(const struct tables *t, const struct paint *paint) {
    return paint_g_per_ml(t, paint);
}

const char *measuring_text(const struct measuring *m, const struct tables *t,
                           const struct paint *paint, double ml, struct arena *a) {
    char text[64];
    units_print_measure(m->measure, ml, measuring_density(t, paint), text, sizeof text);
    return arena_text(a, text);
}

const char *measuring_amount(const struct measuring *m, double ml, struct arena *a) {
    char text[64];
    units_print_measure(m->measure, ml, PAINT_USUAL_G_PER_ML, text, sizeof text);
    return arena_text(a, text);
}

const char *measuring_coarse(const struct measuring *m, double asked_ml, double made_ml,
                             struct arena *a) {
    const double off = made_ml / asked_ml - 1;
    if (fabs(off) <= COARSE_FRAC) return NULL;
    const char *asked = measuring_amount(m, asked_ml, a), *made = measuring_amount(m, made_ml, a),
               *step = measuring_amount(m, m->step_ml, a);
    if (!asked || !made || !step) return NULL;
    return arena_print(a,
                       "%s is mixed, %s than the %s that were asked for: what is measured with "
                       "shows no less than %s. Measure finer, or ask for a multiple of it.",
                       made, off > 0 ? "more" : "less", asked, step);
}

struct measure_kit measuring_kit(const struct measuring *m) {
    switch (m->measure) {
    case MEASURE_TSP: return (struct measure_kit){MEASURE_BY_SPOON, 0, m->least_ml};
    case MEASURE_ML: return (struct measure_kit){MEASURE_BY_ML, m->step_ml, m->least_ml};
    case MEASURE_DROP: return (struct measure_kit){MEASURE_BY_DROP, 0, m->least_ml};
    case MEASURE_GRAM:
        return (struct measure_kit){MEASURE_BY_SCALE, m->step_ml * PAINT_USUAL_G_PER_ML,
                                    m->least_ml};
    default:
        return (struct measure_kit){MEASURE_BY_FL_OZ, m->step_ml / ML_PER_US_FL_OZ, m->least_ml};
    }
}
