#include "core/recipe/measure.h"
#include "core/base/units.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { TSP_STEPS = 4, TBSP_STEPS = 12, CUP_STEPS = 192 };

struct plan_in {
    const struct measure_kit *kit;
    const struct measure_item *items;
    size_t n;
    double total_parts, step; /* step in the kit's own unit */
    double step_ml[MEASURE_ITEMS_MAX];
};

/* ---- texts ---- */

/* Whole and quarter or eighth: "3 1/2", "1/8"; other steps as decimals. */
static const char *fraction_text(struct arena *a, double v, const char *unit) {
    static const char *const eighths[] = {"", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"};
    int e = (int)lround(v * 8), whole = e / 8;
    if (fabs(v * 8 - e) > 1e-6) return arena_print(a, "%.4g %s", v, unit);
    if (!(e % 8)) return arena_print(a, "%d %s", whole, unit);
    if (!whole) return arena_print(a, "%s %s", eighths[e], unit);
    return arena_print(a, "%d %s %s", whole, eighths[e % 8], unit);
}

/* Largest spoons first: quarter cups, tablespoons, teaspoons. */
static const char *spoon_text(struct arena *a, int steps) {
    int quarter_cups = steps / (CUP_STEPS / 4), left = steps % (CUP_STEPS / 4);
    int tbsp = left / TBSP_STEPS, rest = left % TBSP_STEPS;
    const char *cup =
        quarter_cups ? fraction_text(a, quarter_cups / 4., quarter_cups > 4 ? "cups" : "cup") : "";
    const char *spoon = tbsp ? arena_print(a, "%d tbsp", tbsp) : "";
    const char *tea = rest ? fraction_text(a, (double)rest / TSP_STEPS, "tsp") : "";
    if (!cup || !spoon || !tea) return NULL;
    return arena_print(a, "%s%s%s%s%s", cup, *cup && *spoon ? " + " : "", spoon,
                       (*cup || *spoon) && *tea ? " + " : "", tea);
}

static const char *steps_text(const struct plan_in *in, struct arena *a, int steps) {
    double v = steps * in->step;
    switch (in->kit->kind) {
    case MEASURE_BY_FL_OZ: return fraction_text(a, v, "fl oz");
    case MEASURE_BY_SPOON: return steps ? spoon_text(a, steps) : arena_text(a, "nothing");
    case MEASURE_BY_ML: return arena_print(a, "%.6g ml", v);
    case MEASURE_BY_DROP: return arena_print(a, "%d %s", steps, steps == 1 ? "drop" : "drops");
    default: return arena_print(a, "%.6g g", v);
    }
}

/* ---- how much ---- */

static double unit_ml(const struct plan_in *in, size_t i) {
    switch (in->kit->kind) {
    case MEASURE_BY_FL_OZ: return ML_PER_US_FL_OZ;
    case MEASURE_BY_SPOON: return ML_PER_US_TSP;
    case MEASURE_BY_ML: return 1;
    case MEASURE_BY_DROP: return ML_PER_DROP;
    default: return 1 / in->items[i].density_g_per_ml;
    }
}

static double step_of(const struct measure_kit *kit) {
    switch (kit->kind) {
    case MEASURE_BY_SPOON: return .25;
    case MEASURE_BY_DROP: return 1;
    default: return kit->step;
    }
}

static enum status check_items(const struct measure_kit *kit, const struct measure_item *items,
                               size_t n, struct why *why) {
    for (size_t i = 0; i < n; i++) {
        char field[64];
        snprintf(field, sizeof field, "/items/%zu/parts", i);
        if (items[i].parts < 1 || items[i].parts > 1000000)
            return why_say(why, E_DOMAIN, field, "%d parts: must be 1 or more.", items[i].parts);
        snprintf(field, sizeof field, "/items/%zu/density_g_per_ml", i);
        double d = items[i].density_g_per_ml;
        if (kit->kind == MEASURE_BY_SCALE && !(d > 0))
            return why_say(why, E_MISSING, field,
                           "Weighing needs the paint's density; its label or a "
                           "weighed 100 ml tells it.");
        if (kit->kind == MEASURE_BY_SCALE && !(d >= .3 && d <= 10))
            return why_say(why, E_DOMAIN, field,
                           "%g g/ml is no paint's density: must be 0.3 to 10.", d);
    }
    return OK;
}

static enum status check(const struct measure_kit *kit, const struct measure_item *items, size_t n,
                         double want_ml, double allow, struct why *why) {
    if (!n || n > MEASURE_ITEMS_MAX)
        return why_say(why, E_DOMAIN, "/items", "%zu paints: must be 1 to %d.", n,
                       MEASURE_ITEMS_MAX);
    if (!(want_ml > 0 && want_ml <= 1e6))
        return why_say(why, E_DOMAIN, "/want_ml", "%g ml: must be above 0 and at most 1000 liters.",
                       want_ml);
    if (!(allow >= 0 && allow <= 10))
        return why_say(why, E_DOMAIN, "/allow", "%g: must be 0 to 10 times the batch.", allow);
    const double step = step_of(kit);
    if (!(step > 0 && step <= 1e4) || !(kit->least_ml >= 0 && kit->least_ml <= 1e5))
        return why_say(why, E_DOMAIN, "/kit",
                       "The step must be above 0, and the smallest pour 0 or more.");
    return check_items(kit, items, n, why);
}

/* Pours of a batch of `batch_ml`, each rounded to the nearest step and not
 * below the smallest. Returns the worst relative error of a share; *out_ml what
 * it really makes. */
static double round_batch(const struct plan_in *in, double batch_ml, int *steps, double *out_ml) {
    double ml[MEASURE_ITEMS_MAX], sum = 0, worst = 0;
    for (size_t i = 0; i < in->n; i++) {
        double want = batch_ml * in->items[i].parts / in->total_parts;
        double least = fmax(ceil(in->kit->least_ml / in->step_ml[i] - 1e-9), 1);
        steps[i] = (int)fmax(round(want / in->step_ml[i]), least);
        sum += ml[i] = steps[i] * in->step_ml[i];
    }
    for (size_t i = 0; i < in->n; i++) {
        double share = in->items[i].parts / in->total_parts;
        worst = fmax(worst, fabs(ml[i] / sum / share - 1));
    }
    *out_ml = sum;
    return worst < 1e-9 ? 0 : worst;
}

/* Below this batch some paint's share is less than its smallest pour. */
static double least_batch(const struct plan_in *in) {
    double most = 0;
    for (size_t i = 0; i < in->n; i++) {
        double least = fmax(ceil(in->kit->least_ml / in->step_ml[i] - 1e-9), 1) * in->step_ml[i];
        most = fmax(most, least * in->total_parts / in->items[i].parts);
    }
    return most;
}

static double choose_batch(const struct plan_in *in, double want_ml, double allow, int *best,
                           double *out_error) {
    double from = fmax(want_ml, least_batch(in)), to = fmax(want_ml * (1 + allow), from);
    double finest = in->step_ml[0], best_error = INFINITY, best_ml = 0;
    for (size_t i = 1; i < in->n; i++) finest = fmin(finest, in->step_ml[i]);
    double stride = fmax(finest / 4, (to - from) / 4000);
    for (double at = from; at <= to + 4 * finest * (double)in->n; at += stride) {
        int steps[MEASURE_ITEMS_MAX];
        double ml, error = round_batch(in, at, steps, &ml);
        bool enough = ml >= want_ml * (1 - 1e-9), over = at > to && best_ml > 0;
        if (over) break;
        if (!enough || error > best_error - .002) continue;
        best_error = error;
        best_ml = ml;
        memcpy(best, steps, in->n * sizeof *best);
        if (error <= 0) break;
    }
    *out_error = best_error;
    return best_ml;
}

/* ---- in which order ---- */

static void sort_weakest_first(const struct plan_in *in, const int *steps, size_t *order) {
    for (size_t i = 0; i < in->n; i++) {
        size_t at = i;
        for (; at; at--) {
            const struct measure_item *p = &in->items[order[at - 1]], *q = &in->items[i];
            bool later = p->strength > q->strength ||
                         (p->strength == q->strength && steps[order[at - 1]] < steps[i]);
            if (!later) break;
            order[at] = order[at - 1];
        }
        order[at] = i;
    }
}

/* One pour more: its own amount and what is in the vessel then. */
static enum status pour(const struct plan_in *in, struct arena *a, size_t item, int steps,
                        bool check_color, int *sum_steps, struct measure_plan *out) {
    struct measure_pour *p = &out->pours[out->pours_n];
    const struct measure_pour *before = out->pours_n ? p - 1 : NULL;
    bool scale = in->kit->kind == MEASURE_BY_SCALE;
    p->item = item;
    p->steps = steps;
    p->ml = steps * in->step_ml[item];
    p->g = p->ml * in->items[item].density_g_per_ml;
    if (!(in->items[item].density_g_per_ml > 0)) p->g = NAN;
    p->mark_ml = p->ml + (before ? before->mark_ml : 0);
    p->mark_g = p->g + (before ? before->mark_g : 0);
    *sum_steps += steps;
    p->text = steps_text(in, a, steps);
    p->mark = steps_text(in, a, *sum_steps);
    if (scale && !isnan(p->mark_g)) p->mark_g = *sum_steps * in->step;
    p->check = check_color;
    if (!p->text || !p->mark) return E_MEMORY;
    out->pours_n++;
    return OK;
}

/* The strongest goes in by halves: half, a quarter, the rest; each a pour that
 * can be measured. */
static enum status pour_all(const struct plan_in *in, struct arena *a, const int *steps,
                            struct measure_plan *out) {
    size_t order[MEASURE_ITEMS_MAX];
    int sum = 0;
    enum status s = OK;
    sort_weakest_first(in, steps, order);
    for (size_t i = 0; !s && i < in->n; i++) {
        size_t item = order[i];
        int left = steps[item], least = (int)ceil(in->kit->least_ml / in->step_ml[item] - 1e-9);
        if (least < 1) least = 1;
        bool strong = i == in->n - 1 && in->n > 1;
        for (int round = 0; !s && strong && round < 3 && left / 2 >= least; round++) {
            int part = (left + 1) / 2;
            s = pour(in, a, item, part, true, &sum, out);
            left -= part;
        }
        if (!s) s = pour(in, a, item, left, false, &sum, out);
    }
    return s;
}

enum status measure_make(const struct measure_kit *kit, const struct measure_item *items, size_t n,
                         double want_ml, double allow, struct arena *arena,
                         struct measure_plan *out, struct why *why) {
    enum status s = check(kit, items, n, want_ml, allow, why);
    if (s) return s;
    struct plan_in in = {kit, items, n, 0, step_of(kit), {0}};
    for (size_t i = 0; i < n; i++) {
        in.total_parts += items[i].parts;
        in.step_ml[i] = in.step * unit_ml(&in, i);
    }
    struct measure_plan plan = {.pours_n = 0};
    int steps[MEASURE_ITEMS_MAX];
    plan.batch_ml = choose_batch(&in, want_ml, allow, steps, &plan.ratio_error);
    for (size_t i = 0; i < n && plan.batch_ml > 0; i++) {
        struct measure_amount *amount = &plan.amounts[i];
        amount->steps = steps[i];
        amount->ml = steps[i] * in.step_ml[i];
        amount->g = items[i].density_g_per_ml > 0 ? amount->ml * items[i].density_g_per_ml : NAN;
        if (!(amount->text = steps_text(&in, arena, steps[i]))) s = E_MEMORY;
    }
    if (!(plan.batch_ml > 0)) return why_say(why, E_NUMERIC, "/want_ml", "No batch was found.");
    if (!s) s = pour_all(&in, arena, steps, &plan);
    if (s) return why_say(why, s, "", "%s", status_text(s));
    *out = plan;
    return OK;
}
