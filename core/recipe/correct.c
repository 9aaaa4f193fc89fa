#include "core/recipe/correct.h"
#include <math.h>
#include <string.h>

static enum status check(const struct correct_problem *c, int held, struct why *why) {
    if (!held)
        return why_say(why, E_MISSING, "/in_batch", "The batch holds nothing; say what is in it.");
    if (!(c->batch_ml > 0 && c->batch_ml < 1e6))
        return why_say(why, E_DOMAIN, "/batch_ml", "%g ml: must be above 0.", c->batch_ml);
    if (!(c->need_ml >= 0 && c->need_ml < 1e6))
        return why_say(why, E_DOMAIN, "/need_ml", "%g ml: must be 0 or more.", c->need_ml);
    if (!(c->most_ml >= c->batch_ml && c->most_ml >= c->need_ml && c->most_ml < 1e7))
        return why_say(why, E_DOMAIN, "/most_ml",
                       "%g ml: must hold the batch (%g ml) and what is needed (%g ml).", c->most_ml,
                       c->batch_ml, c->need_ml);
    if (!(c->good > 0))
        return why_say(why, E_DOMAIN, "/good",
                       "The difference that is good enough must be above 0.");
    return OK;
}

/* Of the trade-offs that are good enough, the one that pours least; of equal
 * ones the nearest. */
static const struct recipe *least_addition(const struct recipe_problem *p,
                                           const struct recipe_result *r, double good) {
    const struct recipe *best = NULL;
    for (size_t i = 0; i < r->tradeoff_n; i++) { /* by rising objective */
        const struct recipe *t = &r->tradeoff[i];
        if (recipe_objective_of(p, t) > good) break;
        if (!best || t->poured_parts < best->poured_parts) best = t;
    }
    return best ? best : &r->best[0];
}

/* The same paints and target with an empty vessel, as many parts as the old
 * batch had. */
static enum status search_fresh(const struct correct_problem *c, int held,
                                const struct limit *limit, struct arena *arena,
                                struct correction *out, struct why *why) {
    struct recipe_problem p = c->recipe;
    struct recipe_result r;
    struct recipe_paint *paints = arena_array(arena, p.paints_n, sizeof *paints);
    if (!paints) return why_no_memory(why);
    memcpy(paints, p.paints, p.paints_n * sizeof *paints);
    for (size_t i = 0; i < p.paints_n; i++) paints[i].in_batch = 0;
    p.paints = paints;
    p.parts = held;
    p.parts_last = 0;
    p.tradeoff = false;
    enum status s = recipe_search(&p, limit, arena, &r, why);
    if (s) return s;
    out->fresh = r.best[0];
    out->fresh_proof = r.proof;
    out->fresh_ml = c->need_ml > 0 ? c->need_ml : c->batch_ml;
    out->fresh_cent = r.best[0].cost_cent * out->fresh_ml / c->batch_ml;
    return OK;
}

static enum correct_advice advise(const struct correct_problem *c, const struct correction *k,
                                  bool fresh) {
    const struct recipe_problem *p = &c->recipe;
    bool add = recipe_objective_of(p, &k->add) <= c->good;
    if (add && !k->add.poured_parts) return CORRECT_LEAVE;
    bool again = fresh && recipe_objective_of(p, &k->fresh) <= c->good;
    if (!add) return again ? CORRECT_RESTART : CORRECT_NEITHER;
    return again && k->fresh_cent < k->add_cent ? CORRECT_RESTART : CORRECT_ADD;
}

enum status correct_batch(const struct correct_problem *c, const struct limit *limit,
                          struct arena *arena, struct correction *out, struct why *why) {
    struct recipe_problem p = c->recipe;
    struct recipe_result r;
    struct correction k = {.advice = CORRECT_NEITHER};
    int held = 0;
    for (size_t i = 0; p.paints && i < p.paints_n; i++) held += p.paints[i].in_batch;
    enum status s = check(c, held, why);
    if (s) return s;
    double part_ml = c->batch_ml / held;
    p.parts = (int)fmin(fmax(ceil(c->need_ml / part_ml - 1e-9), held), RECIPE_PARTS_MAX);
    p.parts_last = (int)fmin(floor(c->most_ml / part_ml + 1e-9), RECIPE_PARTS_MAX);
    if (p.parts_last < p.parts) p.parts_last = p.parts;
    p.tradeoff = true;
    p.window = c->good; /* from the best at worst 0, everything up to `good` is in
                           the set */
    if ((s = recipe_search(&p, limit, arena, &r, why))) return s;
    k.add = *least_addition(&p, &r, c->good);
    k.proof = r.proof;
    k.add_ml = k.add.poured_parts * part_ml;
    k.after_ml = k.add.total * part_ml;
    k.more_ml = fmax(k.after_ml - c->need_ml, 0);
    k.add_cent = k.add.cost_cent;
    s = search_fresh(c, held, limit, arena, &k, why);
    if (s && s != E_IMPOSSIBLE)
        return s; /* stocks too small for a fresh batch: then only adding is left */
    k.advice = advise(c, &k, !s);
    *out = k;
    return OK;
}
