#include "core/recipe/recall.h"

#include "core/base/recall.h"

#include <string.h>

enum { RECIPE_QUESTION = 1 };

static void add_weights(struct recall_key *k, const struct weights *w) {
    recall_int(k, w != NULL);
    if (!w) return;
    recall_reals(k, w->x, SPECTRUM_BANDS);
    recall_reals(k, w->y, SPECTRUM_BANDS);
    recall_reals(k, w->z, SPECTRUM_BANDS);
}

static void add_paint(struct recall_key *k, const struct recipe_paint *p) {
    const int ints[] = {(int)p->use, p->pour_min, p->pour_max, p->leftover, p->in_batch, p->binder};
    recall_reals(k, p->pigment->k, SPECTRUM_BANDS);
    recall_reals(k, p->pigment->s, SPECTRUM_BANDS);
    for (size_t i = 0; i < sizeof ints / sizeof *ints; i++) recall_int(k, ints[i]);
    recall_reals(k, &p->cost_cent, 1);
}

static struct recall_key key_of(const struct recipe_problem *p, const struct limit *limit) {
    struct recall_key k = recall_begin(RECIPE_QUESTION);
    const int ints[] = {p->items_max, p->parts, p->parts_last, (int)p->objective, p->tradeoff};
    const double reals[] = {p->target.l,      p->target.a, p->target.b, p->variance_low,
                            p->pour_sd_parts, p->window,   p->reach};
    recall_int(&k, (int64_t)p->paints_n);
    for (size_t i = 0; i < p->paints_n; i++) add_paint(&k, &p->paints[i]);
    for (size_t i = 0; i < sizeof ints / sizeof *ints; i++) recall_int(&k, ints[i]);
    recall_reals(&k, reals, sizeof reals / sizeof *reals);
    recall_int(&k, (int64_t)p->best_max);
    recall_int(&k, (int64_t)p->variance_key);
    recall_int(&k, (int64_t)limit->steps);
    recall_int(&k, p->target_reflectance != NULL);
    if (p->target_reflectance) recall_reals(&k, p->target_reflectance->at, SPECTRUM_BANDS);
    add_weights(&k, p->d65);
    add_weights(&k, p->a);
    add_weights(&k, p->led);
    return k;
}

static bool may_recall(const struct recipe_problem *p, const struct limit *limit) {
    return limit && limit->recall && (!p->variance || p->variance_key);
}

bool recipe_recalled(const struct recipe_problem *p, const struct limit *limit, struct arena *arena,
                     struct recipe_result *out) {
    size_t n;
    if (!may_recall(p, limit)) return false;
    const struct recall *recall = limit->recall;
    char *kept = recall->find(recall->ctx, key_of(p, limit), limit, arena, &n);
    if (!kept) return false;
    struct recipe_result r;
    memcpy(&r, kept, sizeof r);
    r.best = (struct recipe *)(void *)(kept + sizeof r);
    r.tradeoff = r.best + r.best_n;
    *out = r;
    return true;
}

void recipe_keep(const struct recipe_problem *p, const struct limit *limit, struct arena *arena,
                 const struct recipe_result *r) {
    if (!may_recall(p, limit)) return;
    size_t best = r ? r->best_n * sizeof *r->best : 0,
           more = r ? r->tradeoff_n * sizeof *r->tradeoff : 0;
    char *bytes = r && !r->proof.stopped ? arena_take(arena, sizeof *r + best + more) : NULL;
    if (!bytes) {
        limit->recall->drop(limit->recall->ctx, key_of(p, limit));
        return;
    }
    memcpy(bytes, r, sizeof *r);
    if (best) memcpy(bytes + sizeof *r, r->best, best);
    if (more) memcpy(bytes + sizeof *r + best, r->tradeoff, more);
    limit->recall->keep(limit->recall->ctx, key_of(p, limit), bytes, sizeof *r + best + more);
}
