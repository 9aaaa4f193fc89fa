#include "core/recipe/recipe.h"
#include "core/recipe/archive.h"
#include "core/recipe/prove.h"
#include "core/recipe/recall.h"
#include "core/recipe/seed.h"
#include <string.h>

/* Recipes of one binder that the problem allows: ways to pour `poured` parts from
 * the first i paints with so many items, by prefix sums over the parts. */
static double count_binder(const struct mixture *m, int binder, int poured, double *ways,
                           double *next) {
    const struct recipe_problem *p = m->problem;
    size_t row = (size_t)poured + 1, items = (size_t)p->items_max + 1;
    memset(ways, 0, items * row * sizeof *ways);
    ways[0] = 1;
    for (size_t i = 0; i < p->paints_n; i++) {
        if (!m->pour_max[i] || p->paints[i].binder != binder) continue;
        bool must = p->paints[i].use == RECIPE_MUST;
        for (size_t k = 0; k < items; k++) {
            double sum = 0; /* of ways[k - 1][parts - max .. parts - min] */
            for (int q = 0; q <= poured; q++) {
                int in = q - m->pour_min[i], out = q - m->pour_max[i] - 1;
                if (k && in >= 0) sum += ways[(k - 1) * row + (size_t)in];
                if (k && out >= 0) sum -= ways[(k - 1) * row + (size_t)out];
                size_t at = k * row + (size_t)q;
                next[at] = sum + (must ? 0 : ways[at]);
            }
        }
        memcpy(ways, next, items * row * sizeof *ways);
    }
    double n = 0;
    for (size_t k = 0; k < items; k++) n += ways[k * row + (size_t)poured];
    return n;
}

static double count_recipes(const struct mixture *m, int poured, double *ways, double *next) {
    const struct recipe_paint *paints = m->problem->paints;
    double n = 0;
    if (!poured) return !m->musts;
    for (size_t i = 0; i < m->problem->paints_n; i++) {
        size_t first = 0; /* each binder at the first paint that has it */
        if (!m->pour_max[i]) continue;
        while (!m->pour_max[first] || paints[first].binder != paints[i].binder) first++;
        if (first == i) n += count_binder(m, paints[i].binder, poured, ways, next);
    }
    return n;
}

static enum status count_grid(const struct mixture *m, struct arena *arena, double *out) {
    size_t room = (RECIPE_ITEMS_MAX + 1) * ((size_t)m->last_total + 1);
    double *ways = arena_array(arena, room, sizeof *ways),
           *next = arena_array(arena, room, sizeof *next);
    if (!ways || !next) return E_MEMORY;
    *out = 0;
    for (int total = m->first_total; total <= m->last_total; total++)
        if (total >= m->batch_parts) *out += count_recipes(m, total - m->batch_parts, ways, next);
    return OK;
}

/* The batch as it is, where nothing need be added. */
static void offer_nothing(const struct mixture *m, struct archive *archive, uint64_t *points) {
    if (!m->batch_parts || m->batch_parts < m->first_total || m->musts) return;
    archive_offer(archive, NULL, 0, mixture_objective(m, NULL, 0, mixture_difference(m, NULL, 0)));
    ++*points;
}

static enum status search(const struct recipe_problem *problem, struct mixture *m,
                          const struct limit *limit, struct arena *arena, struct recipe_result *out,
                          struct why *why) {
    struct recipe_result r = {.proof.kind = RECIPE_LIMIT};
    enum status s = count_grid(m, arena, &r.proof.grid_points);
    if (s) return why_say(why, s, "", "%s", status_text(s));
    if (r.proof.grid_points < 1)
        return why_say(why, E_IMPOSSIBLE, "/parts",
                       "No recipe of %d parts fits the smallest pours and the "
                       "stock of these paints.",
                       m->last_total);
    struct archive *archive = arena_take(arena, sizeof *archive);
    if (!archive) return why_no_memory(why);
    archive_init(archive, m, arena);
    offer_nothing(m, archive, &r.proof.points);
    int starts = r.proof.grid_points < 1e5 ? 2 : r.proof.grid_points < 1e7 ? 4 : 12;
    seed_search(m, archive, limit, starts, &r.proof.points, &r.proof.stopped);
    bool done;
    s = prove(m, archive, limit, arena, &r.proof, &done);
    if (!s) s = archive_close(archive, done, &r);
    if (s) return why_say(why, s, "", "%s", status_text(s));
    if (done) r.proof.kind = RECIPE_OPTIMAL;
    r.out_of_reach = !m->by_expected && r.proof.bound > (problem->reach > 0 ? problem->reach : 2);
    *out = r;
    return OK;
}

enum status recipe_search(const struct recipe_problem *problem, const struct limit *limit,
                          struct arena *arena, struct recipe_result *out, struct why *why) {
    struct mixture m;
    enum status s = mixture_make(problem, &m, why);
    if (s) return s;
    if (recipe_recalled(problem, limit, arena, out)) return OK;
    s = search(problem, &m, limit, arena, out, why);
    recipe_keep(problem, limit, arena, s ? NULL : out);
    return s;
}

double recipe_objective_of(const struct recipe_problem *problem, const struct recipe *r) {
    return problem->objective == RECIPE_BY_EXPECTED ? r->expected_difference : r->difference;
}

enum status recipe_judge(const struct recipe_problem *problem, const struct recipe_item *items,
                         size_t items_n, struct recipe *out, struct why *why) {
    struct mixture m;
    enum status s = mixture_make(problem, &m, why);
    if (s) return s;
    int poured = 0;
    if (items_n > RECIPE_ITEMS_MAX)
        return why_say(why, E_DOMAIN, "/items", "%zu paints in a recipe: %d at most.", items_n,
                       RECIPE_ITEMS_MAX);
    for (size_t i = 0; i < items_n; i++) {
        if (items[i].paint >= problem->paints_n || items[i].parts < 1 ||
            items[i].parts > RECIPE_PARTS_MAX)
            return why_say(why, E_DOMAIN, "/items",
                           "Item %zu: parts must be 1 to %d of a paint on the shelf.", i,
                           RECIPE_PARTS_MAX);
        for (size_t j = 0; j < i; j++)
            if (items[j].paint == items[i].paint)
                return why_say(why, E_DOMAIN, "/items", "Items %zu and %zu are the same paint.", j,
                               i);
        poured += items[i].parts;
    }
    if (!poured && !m.batch_parts)
        return why_say(why, E_DOMAIN, "/items",
                       "There is nothing in this mix; pour one part at least.");
    mixture_judge(&m, items, items_n, out);
    return OK;
}
