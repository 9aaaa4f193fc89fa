#include "core/recipe/finer.h"

#include <string.h>

static double reach_of(const struct recipe_problem *p) {
    return p->reach > 0 ? p->reach : 2;
}

double recipe_points(double n, double k, double parts) {
    double sum = 1;
    for (double i = 0; i < k; i++) sum *= (n - i) / (i + 1);
    for (double i = 1; i < k; i++) sum *= (parts - i) / i;
    return sum;
}

/* The problem on a grid of `times` as many parts, into p and its paints. */
static void refine(const struct recipe_problem *from, int times, struct recipe_problem *p,
                   struct recipe_paint *paints) {
    for (size_t i = 0; i < from->paints_n; i++) {
        const int most = from->paints[i].pour_max * times;
        paints[i] = from->paints[i];
        paints[i].pour_min = 1;
        paints[i].pour_max = most < RECIPE_PARTS_MAX ? most : RECIPE_PARTS_MAX;
    }
    p->parts = from->parts * times;
}

static enum status best_of(const struct recipe_problem *p, const struct limit *limit,
                           struct arena *arena, double *out_difference, bool *out_beyond,
                           struct why *why) {
    struct recipe_result r;
    enum status s = recipe_search(p, limit, arena, &r, why);
    *out_difference = s ? INFINITY : r.best[0].difference;
    *out_beyond = s || r.out_of_reach;
    return s == E_IMPOSSIBLE ? OK : s;
}

enum status recipe_finer(const struct recipe_problem *problem, const struct limit *limit,
                         struct arena *arena, int *out_parts, struct why *why) {
    const size_t n = problem->paints_n;
    struct recipe_paint *paints = arena_array(arena, n, sizeof *paints);
    if (!paints) return why_say(why, E_MEMORY, "", "%s", status_text(E_MEMORY));
    struct recipe_problem p = *problem;
    p.paints = paints;
    p.objective = RECIPE_BY_DIFFERENCE;
    p.variance = NULL, p.variance_key = 0, p.pour_sd_parts = 0;
    p.best_max = 1, p.tradeoff = false, p.parts_last = 0;
    *out_parts = 0;
    for (size_t i = 0; i < n; i++)
        if (problem->paints[i].in_batch) return OK;
    int finest = 1;
    while (problem->parts * finest * 2 <= RECIPE_PARTS_MAX) finest *= 2;
    double difference;
    bool beyond = finest < 2;
    if (!beyond) { /* every recipe of the others is one of the finest grid too */
        refine(problem, finest, &p, paints);
        enum status s = best_of(&p, limit, arena, &difference, &beyond, why);
        if (s) return s;
    }
    for (int times = 2; !beyond && times <= finest; times *= 2) {
        bool of_these;
        refine(problem, times, &p, paints);
        enum status s = best_of(&p, limit, arena, &difference, &of_these, why);
        if (s) return s;
        if (difference > reach_of(&p)) continue;
        *out_parts = p.parts;
        return OK;
    }
    return OK;
}
