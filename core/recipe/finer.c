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
    for (size_t i = 0; i < n; i++)
        if (problem->paints[i].in_batch) {
            *out_parts = 0;
            return OK;
        }
    for (int times = 2; problem->parts * times <= RECIPE_PARTS_MAX; times *= 2) {
        memcpy(paints, problem->paints, n * sizeof *paints);
        for (size_t i = 0; i < n; i++) {
            paints[i].pour_min = 1;
            const int most = paints[i].pour_max * times;
            paints[i].pour_max = most < RECIPE_PARTS_MAX ? most : RECIPE_PARTS_MAX;
        }
        p.parts = problem->parts * times;
        struct recipe_result r;
        enum status s = recipe_search(&p, limit, arena, &r, why);
        if (s && s != E_IMPOSSIBLE) return s;
        if (s || r.best[0].difference > reach_of(&p)) continue;
        *out_parts = p.parts;
        return OK;
    }
    *out_parts = 0;
    return OK;
}
