/* Recipes one by one, written apart from core/recipe: every way to pour, its color straight from
 * the sums of K and S, and the list of all that the problem allows. */
#ifndef TEST_MODEL_RECIPE_BRUTE_H
#define TEST_MODEL_RECIPE_BRUTE_H

#include "core/base/random.h"
#include "core/recipe/recipe.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

struct brute_row {
    int parts[RECIPE_SHELF_MAX]; /* poured */
    int n, poured, leftover;
    double difference, objective, cost;
};

struct brute {
    const struct recipe_problem *p;
    struct brute_row *rows;
    size_t n, cap;
    struct brute_row at;
};

static double brute_reflect(double k, double s) {
    double q = k / s;
    return 1 + q - sqrt(q * q + 2 * q);
}

static struct lab brute_color(const struct recipe_problem *p, const double *parts) {
    struct xyz c = {0, 0, 0};
    for (int b = 0; b < SPECTRUM_BANDS; b++) {
        double k = 0, s = 0;
        for (size_t i = 0; i < p->paints_n; i++) {
            k += (parts[i] + p->paints[i].in_batch) * p->paints[i].pigment->k[b];
            s += (parts[i] + p->paints[i].in_batch) * p->paints[i].pigment->s[b];
        }
        double r = brute_reflect(k, s);
        c.x += p->d65->x[b] * r, c.y += p->d65->y[b] * r, c.z += p->d65->z[b] * r;
    }
    return lab_of_xyz(c, p->d65->white);
}

static void brute_judge(struct brute *w) {
    const struct recipe_problem *p = w->p;
    struct brute_row *r = &w->at;
    double parts[RECIPE_SHELF_MAX];
    int all[RECIPE_SHELF_MAX];
    r->n = r->poured = r->leftover = 0;
    r->cost = 0;
    for (size_t i = 0; i < p->paints_n; i++) {
        parts[i] = r->parts[i];
        all[i] = r->parts[i] + p->paints[i].in_batch;
        r->n += r->parts[i] > 0;
        r->poured += r->parts[i];
        r->leftover += p->paints[i].leftover ? r->parts[i] : 0;
        r->cost += r->parts[i] * p->paints[i].cost_cent;
    }
    struct lab mid = brute_color(p, parts);
    r->difference = r->objective = ciede2000(p->target, mid);
    if (p->objective == RECIPE_BY_EXPECTED) {
        double v = p->variance ? p->variance(p->variance_ctx, all, p->paints_n) : 0;
        for (size_t i = 0; i < p->paints_n && p->pour_sd_parts > 0; i++) {
            double keep = parts[i];
            if (!r->parts[i]) continue;
            for (int way = -1; way <= 1; way += 2) {
                parts[i] = keep + way * p->pour_sd_parts;
                if (parts[i] < 0) parts[i] = 0;
                double d = ciede2000(mid, brute_color(p, parts));
                v += d * d / 2;
            }
            parts[i] = keep;
        }
        r->objective = sqrt(r->difference * r->difference + v);
    }
    if (w->n == w->cap)
        w->rows = realloc(w->rows, (w->cap = w->cap ? 2 * w->cap : 1024) * sizeof *w->rows);
    w->rows[w->n++] = *r;
}

/* Does the recipe so far, or the batch, hold a paint that this one does not mix with? */
static bool brute_parts(const struct brute *w, size_t i) {
    for (size_t k = 0; k < w->p->paints_n; k++)
        if ((w->at.parts[k] || w->p->paints[k].in_batch) &&
            w->p->paints[k].binder != w->p->paints[i].binder)
            return true;
    return false;
}

static void brute_walk(struct brute *w, size_t i, int left, int items) {
    const struct recipe_problem *p = w->p;
    if (i == p->paints_n) {
        if (!left) brute_judge(w);
        return;
    }
    const struct recipe_paint *paint = &p->paints[i];
    w->at.parts[i] = 0;
    if (paint->use != RECIPE_MUST) brute_walk(w, i + 1, left, items);
    int least = paint->pour_min > 1 ? paint->pour_min : 1;
    for (int k = least; k <= left && (!paint->pour_max || k <= paint->pour_max); k++) {
        w->at.parts[i] = 0;
        if (paint->use == RECIPE_NEVER || items == p->items_max || brute_parts(w, i)) break;
        w->at.parts[i] = k;
        brute_walk(w, i + 1, left - k, items + 1);
    }
    w->at.parts[i] = 0;
}

/* Fills w->rows (to be freed) with every recipe allowed. */
static void brute_all(struct brute *w, const struct recipe_problem *p) {
    memset(w, 0, sizeof *w);
    w->p = p;
    int batch = 0;
    for (size_t i = 0; i < p->paints_n; i++) batch += p->paints[i].in_batch;
    for (int total = p->parts; total <= (p->parts_last ? p->parts_last : p->parts); total++)
        if (total >= batch) brute_walk(w, 0, total - batch, 0);
}

static double brute_best(const struct brute *w) {
    double best = INFINITY;
    for (size_t i = 0; i < w->n; i++) best = fmin(best, w->rows[i].objective);
    return best;
}

/* Is a as good as b in every respect of the trade-off and better in one? */
static bool brute_beats(const struct brute_row *a, const struct brute_row *b) {
    const double same = 1e-9; /* the same color, summed in another order */
    bool as_good = a->objective <= b->objective + same && a->n <= b->n && a->cost <= b->cost &&
                   a->leftover >= b->leftover && a->poured <= b->poured;
    return as_good && (a->objective < b->objective - same || a->n < b->n || a->cost < b->cost ||
                       a->leftover > b->leftover || a->poured < b->poured);
}

#endif
