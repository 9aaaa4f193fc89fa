#include "core/recipe/mixture.h"
#include <math.h>
#include <stdio.h>

static enum status check_numbers(const struct recipe_problem *p, struct why *why) {
    if (!p->paints_n || !p->paints)
        return why_say(why, E_MISSING, "/paints",
                       "There is no paint to mix from; give one at least.");
    if (p->paints_n > RECIPE_SHELF_MAX)
        return why_say(why, E_DOMAIN, "/paints",
                       "%zu paints are more than a search takes; choose %d at most.", p->paints_n,
                       RECIPE_SHELF_MAX);
    if (!p->d65) return why_say(why, E_MISSING, "/d65", "The weights of D65 are missing.");
    if (!isfinite(p->target.l) || !isfinite(p->target.a) || !isfinite(p->target.b) ||
        fabs(p->target.l) > 200 || fabs(p->target.a) > 400 || fabs(p->target.b) > 400)
        return why_say(why, E_DOMAIN, "/target",
                       "The target is not a color: L must be 0 to 100, a and b "
                       "finite and below 400.");
    if (p->items_max < 1 || p->items_max > RECIPE_ITEMS_MAX)
        return why_say(why, E_DOMAIN, "/items_max", "%d paints in a recipe: must be 1 to %d.",
                       p->items_max, RECIPE_ITEMS_MAX);
    if (p->parts < 1 || p->parts > RECIPE_PARTS_MAX)
        return why_say(why, E_DOMAIN, "/parts", "%d parts: must be 1 to %d.", p->parts,
                       RECIPE_PARTS_MAX);
    if (p->parts_last && (p->parts_last < p->parts || p->parts_last > RECIPE_PARTS_MAX))
        return why_say(why, E_DOMAIN, "/parts_last", "%d parts: must be %d to %d.", p->parts_last,
                       p->parts, RECIPE_PARTS_MAX);
    if (!(p->pour_sd_parts >= 0 && p->pour_sd_parts <= RECIPE_PARTS_MAX))
        return why_say(why, E_DOMAIN, "/pour_sd_parts",
                       "The reading error of a pour must be 0 or more.");
    if (!(p->window >= 0 && p->window < 1000))
        return why_say(why, E_DOMAIN, "/window", "The window of trade-offs must be 0 or more.");
    if (p->best_max > RECIPE_BEST_MAX)
        return why_say(why, E_DOMAIN, "/best_max", "%zu recipes: must be %d at most.", p->best_max,
                       RECIPE_BEST_MAX);
    return OK;
}

static enum status check_paint(const struct recipe_paint *p, size_t i, struct why *why) {
    char field[32];
    snprintf(field, sizeof field, "/paints/%zu", i);
    if (!p->pigment) return why_say(why, E_MISSING, field, "The paint has no K and S.");
    for (int b = 0; b < SPECTRUM_BANDS; b++)
        if (!(p->pigment->k[b] >= 0 && p->pigment->k[b] < 1e9 && p->pigment->s[b] > 0 &&
              p->pigment->s[b] < 1e9))
            return why_say(why, E_DOMAIN, field,
                           "K must be 0 or more and S above 0 in every band; band %d "
                           "has %g and %g.",
                           b, p->pigment->k[b], p->pigment->s[b]);
    if (p->pour_min < 0 || p->pour_max < 0 || p->in_batch < 0 || p->in_batch > RECIPE_PARTS_MAX)
        return why_say(why, E_DOMAIN, field,
                       "Smallest pour, stock and parts in the batch must be 0 or more.");
    if (!(p->cost_cent >= 0 && p->cost_cent < 1e12))
        return why_say(why, E_DOMAIN, field, "The cost of a part must be 0 or more.");
    return OK;
}

/* What is in the batch, else a paint that must be in, says which binder: no other is poured. */
static enum status fix_binder(struct mixture *m, struct why *why) {
    const struct recipe_problem *p = m->problem;
    const struct recipe_paint *first = NULL;
    for (size_t i = 0; i < p->paints_n && !first; i++)
        if (p->paints[i].in_batch) first = &p->paints[i];
    for (size_t i = 0; i < p->paints_n && !first; i++)
        if (p->paints[i].use == RECIPE_MUST) first = &p->paints[i];
    for (size_t i = 0; i < p->paints_n && first; i++) {
        if (p->paints[i].binder == first->binder) continue;
        if (p->paints[i].use == RECIPE_MUST)
            return why_say(why, E_IMPOSSIBLE, "/paints",
                           "Paint %zu must be in, but does not mix with what must be in or is in "
                           "the batch.",
                           i);
        m->pour_max[i] = 0;
    }
    return OK;
}

/* Pours that fit: every wanted paint its smallest pour, and enough paint for
 * one of the totals. */
static enum status check_fit(const struct mixture *m, struct why *why) {
    const struct recipe_problem *p = m->problem;
    int least = 0;
    for (size_t i = 0; i < p->paints_n; i++) {
        if (p->paints[i].use != RECIPE_MUST) continue;
        if (!m->pour_max[i])
            return why_say(why, E_IMPOSSIBLE, "/paints",
                           "Paint %zu must be in, but its stock is below its "
                           "smallest pour.",
                           i);
        least += m->pour_min[i];
    }
    if (m->musts > p->items_max)
        return why_say(why, E_IMPOSSIBLE, "/items_max",
                       "%d paints must be in, but only %d are allowed.", m->musts, p->items_max);
    if (m->last_total - m->batch_parts < least)
        return why_say(why, E_IMPOSSIBLE, "/parts",
                       "The paints that must be in take %d parts, the batch has "
                       "%d; %d in all are too few.",
                       least, m->batch_parts, m->last_total);
    if (m->batch_parts > m->last_total)
        return why_say(why, E_IMPOSSIBLE, "/parts",
                       "There are %d parts in the batch already; %d in all are "
                       "too few.",
                       m->batch_parts, m->last_total);
    return OK;
}

static void fill_batch(struct mixture *m) {
    const struct recipe_problem *p = m->problem;
    for (size_t i = 0; i < p->paints_n; i++) {
        m->batch_parts += p->paints[i].in_batch;
        for (int b = 0; b < SPECTRUM_BANDS; b++) {
            m->batch.k[b] += p->paints[i].in_batch * p->paints[i].pigment->k[b];
            m->batch.s[b] += p->paints[i].in_batch * p->paints[i].pigment->s[b];
        }
    }
}

static struct lab color_under(const struct weights *w, const struct spectrum *r) {
    return lab_of_xyz(xyz_of_spectrum(w, r), w->white);
}

enum status mixture_make(const struct recipe_problem *p, struct mixture *out, struct why *why) {
    enum status s = check_numbers(p, why);
    for (size_t i = 0; !s && i < p->paints_n; i++) s = check_paint(&p->paints[i], i, why);
    if (s) return s;
    struct mixture m = {.problem = p, .first_total = p->parts};
    m.last_total = p->parts_last ? p->parts_last : p->parts;
    m.by_expected = p->objective == RECIPE_BY_EXPECTED;
    fill_batch(&m);
    for (size_t i = 0; i < p->paints_n; i++) {
        const struct recipe_paint *paint = &p->paints[i];
        m.pour_min[i] = paint->pour_min > 1 ? paint->pour_min : 1;
        m.pour_max[i] = paint->pour_max ? paint->pour_max : RECIPE_PARTS_MAX;
        if (m.pour_max[i] > RECIPE_PARTS_MAX) m.pour_max[i] = RECIPE_PARTS_MAX;
        if (paint->use == RECIPE_NEVER || m.pour_max[i] < m.pour_min[i]) m.pour_max[i] = 0;
        m.musts += paint->use == RECIPE_MUST;
    }
    if ((s = fix_binder(&m, why)) || (s = check_fit(&m, why))) return s;
    const struct weights *light[2] = {p->a, p->led};
    for (int i = 0; i < 2; i++) {
        m.light_known[i] = light[i] && p->target_reflectance;
        if (m.light_known[i]) m.target_light[i] = color_under(light[i], p->target_reflectance);
    }
    *out = m;
    return OK;
}

static void reflectance_of(const struct mixture *m, const double *parts,
                           const struct recipe_item *items, size_t n, struct spectrum *out) {
    struct pigment mix = m->batch;
    for (size_t i = 0; i < n; i++) {
        const struct pigment *g = m->problem->paints[items[i].paint].pigment;
        for (int b = 0; b < SPECTRUM_BANDS; b++) {
            mix.k[b] += parts[i] * g->k[b];
            mix.s[b] += parts[i] * g->s[b];
        }
    }
    for (int b = 0; b < SPECTRUM_BANDS; b++) out->at[b] = reflectance_of_ks(mix.k[b], mix.s[b]);
}

static void parts_of(const struct recipe_item *items, size_t n, double *out) {
    for (size_t i = 0; i < n; i++) out[i] = items[i].parts;
}

/* Color of batch + items; its reflectance too where asked for (may be NULL). */
static struct lab mixture_color(const struct mixture *m, const struct recipe_item *items, size_t n,
                                struct spectrum *out_reflectance) {
    double parts[RECIPE_ITEMS_MAX] = {0};
    struct spectrum r;
    parts_of(items, n, parts);
    reflectance_of(m, parts, items, n, &r);
    if (out_reflectance) *out_reflectance = r;
    return color_under(m->problem->d65, &r);
}

double mixture_difference(const struct mixture *m, const struct recipe_item *items, size_t n) {
    return ciede2000(m->problem->target, mixture_color(m, items, n, NULL));
}

/* How far the color moves when each pour is off by one standard deviation: mean
 * of the squared differences up and down, summed over the pours, which err
 * independently. */
static double pour_variance(const struct mixture *m, const struct recipe_item *items, size_t n) {
    double sd = m->problem->pour_sd_parts, sum = 0, parts[RECIPE_ITEMS_MAX];
    struct spectrum r;
    if (sd <= 0) return 0;
    struct lab mid = mixture_color(m, items, n, NULL);
    for (size_t i = 0; i < n; i++) {
        for (int way = -1; way <= 1; way += 2) {
            parts_of(items, n, parts);
            parts[i] = fmax(parts[i] + way * sd, 0);
            double total = m->batch_parts;
            for (size_t j = 0; j < n; j++) total += parts[j];
            if (total <= 0) continue;
            reflectance_of(m, parts, items, n, &r);
            double d = ciede2000(mid, color_under(m->problem->d65, &r));
            sum += d * d / 2;
        }
    }
    return sum;
}

static double model_variance(const struct mixture *m, const struct recipe_item *items, size_t n) {
    const struct recipe_problem *p = m->problem;
    if (!p->variance) return 0;
    int parts[RECIPE_SHELF_MAX];
    for (size_t i = 0; i < p->paints_n; i++) parts[i] = p->paints[i].in_batch;
    for (size_t i = 0; i < n; i++) parts[items[i].paint] += items[i].parts;
    double v = p->variance(p->variance_ctx, parts, p->paints_n);
    return v > 0 ? v : 0;
}

double mixture_objective_within(const struct mixture *m, const struct recipe_item *items, size_t n,
                                double difference, double most) {
    if (!m->by_expected) return difference <= most ? difference : INFINITY;
    double sum = difference * difference + model_variance(m, items, n);
    if (!(sqrt(sum) <= most)) return INFINITY;
    double objective = sqrt(sum + pour_variance(m, items, n));
    return objective <= most ? objective : INFINITY;
}

double mixture_objective(const struct mixture *m, const struct recipe_item *items, size_t n,
                         double difference) {
    return mixture_objective_within(m, items, n, difference, INFINITY);
}

void mixture_judge(const struct mixture *m, const struct recipe_item *items, size_t n,
                   struct recipe *out) {
    const struct recipe_problem *p = m->problem;
    struct recipe r = {.items_n = n, .total = m->batch_parts, .metamerism = NAN};
    struct spectrum spectrum;
    for (size_t i = 0; i < n; i++) {
        r.items[i] = items[i];
        r.poured_parts += items[i].parts;
        r.cost_cent += items[i].parts * p->paints[items[i].paint].cost_cent;
        if (p->paints[items[i].paint].leftover) r.leftover_parts += items[i].parts;
    }
    r.total += r.poured_parts;
    r.lab = mixture_color(m, items, n, &spectrum);
    r.difference = ciede2000(p->target, r.lab);
    double model = model_variance(m, items, n), pour = pour_variance(m, items, n);
    r.model_sd = sqrt(model);
    r.pour_sd = sqrt(pour);
    r.expected_difference = sqrt(r.difference * r.difference + model + pour);
    const struct weights *light[2] = {p->a, p->led};
    for (int i = 0; i < 2; i++)
        if (m->light_known[i])
            r.metamerism =
                fmax(r.metamerism, ciede2000(m->target_light[i], color_under(light[i], &spectrum)));
    *out = r;
}
