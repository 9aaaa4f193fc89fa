#include "core/recipe/archive.h"
#include <math.h>
#include <string.h>

/* Objectives closer than this are the same color, summed in another order. */
static const double SAME = 1e-9;

void archive_init(struct archive *a, const struct mixture *m, struct arena *arena) {
    memset(a, 0, sizeof *a);
    a->mixture = m;
    a->arena = arena;
}

double archive_best(const struct archive *a) {
    return a->sets_n ? a->sets[0].objective : INFINITY;
}

/* Is p as good as the reach in every respect but the objective? Where a batch
 * is corrected the parts poured count as well; else every recipe pours the
 * same. */
static bool covers(const struct archived *p, const struct archive_reach *r) {
    return p->n <= r->n && p->cost_cent <= r->cost_cent && p->leftover_parts >= r->leftover_parts &&
           p->poured_parts <= r->poured_parts;
}

double archive_threshold(const struct archive *a, const struct archive_reach *reach) {
    double best = archive_best(a);
    if (!a->mixture->problem->tradeoff) return best;
    for (size_t i = 0; i < a->front_n; i++) /* by rising objective: the first is the lowest */
        if (covers(&a->front[i], reach))
            return fmin(a->front[i].objective, best + a->mixture->problem->window);
    return best + a->mixture->problem->window;
}

double archive_most(const struct archive *a, double threshold) {
    if (a->sets_n < ARCHIVE_SETS) return INFINITY;
    return fmax(threshold, a->sets[ARCHIVE_SETS - 1].objective);
}

static struct archive_reach reach_of(const struct archived *p) {
    return (struct archive_reach){p->n, p->cost_cent, p->leftover_parts, p->poured_parts};
}

static bool same_paints(const struct archived *p, const struct archived *q) {
    if (p->n != q->n) return false;
    for (size_t i = 0; i < p->n; i++)
        if (p->items[i].paint != q->items[i].paint) return false;
    return true;
}

/* Ties are broken by what is cheaper to make, then by order on the shelf, so
 * that the answer does not hang on the order of the search. */
static bool better(const struct archived *p, const struct archived *q) {
    if (p->objective != q->objective) return p->objective < q->objective;
    if (p->n != q->n) return p->n < q->n;
    if (p->cost_cent != q->cost_cent) return p->cost_cent < q->cost_cent;
    for (size_t i = 0; i < p->n; i++) {
        if (p->items[i].paint != q->items[i].paint) return p->items[i].paint < q->items[i].paint;
        if (p->items[i].parts != q->items[i].parts) return p->items[i].parts > q->items[i].parts;
    }
    return false;
}

static void offer_sets(struct archive *a, const struct archived *p) {
    size_t at = a->sets_n;
    for (size_t i = 0; i < a->sets_n; i++)
        if (same_paints(&a->sets[i], p)) {
            if (!better(p, &a->sets[i])) return;
            at = i;
            break;
        }
    if (at == ARCHIVE_SETS) {
        if (!better(p, &a->sets[--at])) return;
    } else if (at == a->sets_n) {
        a->sets_n++;
    }
    for (; at && better(p, &a->sets[at - 1]); at--) a->sets[at] = a->sets[at - 1];
    a->sets[at] = *p;
}

static bool front_grows(struct archive *a) {
    if (a->front_n < a->front_cap) return true;
    size_t cap = a->front_cap ? 2 * a->front_cap : 64;
    struct archived *rows = arena_array(a->arena, cap, sizeof *rows);
    if (!rows) return !(a->no_memory = true);
    if (a->front_n) memcpy(rows, a->front, a->front_n * sizeof *rows);
    a->front = rows;
    a->front_cap = cap;
    return true;
}

static void offer_front(struct archive *a, const struct archived *p) {
    struct archive_reach reach = reach_of(p);
    size_t kept = 0, at;
    for (size_t i = 0; i < a->front_n; i++)
        if (a->front[i].objective <= p->objective + SAME && covers(&a->front[i], &reach)) {
            struct archive_reach back = reach_of(&a->front[i]);
            bool equal = fabs(a->front[i].objective - p->objective) <= SAME && covers(p, &back);
            if (!equal || !better(p, &a->front[i])) return;
        }
    for (size_t i = 0; i < a->front_n; i++) {
        struct archive_reach theirs = reach_of(&a->front[i]);
        if (!(p->objective <= a->front[i].objective + SAME && covers(p, &theirs)))
            a->front[kept++] = a->front[i];
    }
    a->front_n = kept;
    if (!front_grows(a)) return;
    for (at = a->front_n++; at && better(p, &a->front[at - 1]); at--)
        a->front[at] = a->front[at - 1];
    a->front[at] = *p;
}

void archive_offer(struct archive *a, const struct recipe_item *items, size_t n, double objective) {
    const struct recipe_problem *problem = a->mixture->problem;
    struct archived p = {.n = n, .objective = objective};
    for (size_t i = 0; i < n; i++) {
        p.items[i] = items[i];
        p.cost_cent += items[i].parts * problem->paints[items[i].paint].cost_cent;
        p.poured_parts += items[i].parts;
        if (problem->paints[items[i].paint].leftover) p.leftover_parts += items[i].parts;
    }
    offer_sets(a, &p);
    if (problem->tradeoff && objective <= archive_best(a) + problem->window) offer_front(a, &p);
}

/* Adds, from the sets kept, those that are nearer to the target under other
 * lights than every row that is as near by day. */
static size_t add_metameric(const struct archive *a, struct recipe *rows, size_t n) {
    for (size_t i = 0; i < a->sets_n; i++) {
        struct recipe r;
        double least = INFINITY;
        mixture_judge(a->mixture, a->sets[i].items, a->sets[i].n, &r);
        for (size_t j = 0; j < n; j++)
            if (rows[j].difference <= r.difference) least = fmin(least, rows[j].metamerism);
        bool wanted = a->sets[i].objective <= archive_best(a) + a->mixture->problem->window;
        if (wanted && r.metamerism < least) rows[n++] = r;
    }
    return n;
}

static void sort_rows(const struct recipe_problem *p, struct recipe *rows, size_t n) {
    for (size_t i = 1; i < n; i++)
        for (size_t j = i;
             j && recipe_objective_of(p, &rows[j]) < recipe_objective_of(p, &rows[j - 1]); j--) {
            struct recipe r = rows[j];
            rows[j] = rows[j - 1];
            rows[j - 1] = r;
        }
}

enum status archive_close(struct archive *a, bool optimal, struct recipe_result *out) {
    const struct recipe_problem *problem = a->mixture->problem;
    size_t want = problem->best_max ? problem->best_max : 5;
    size_t best_n = a->sets_n < want ? a->sets_n : want, front_n = 0;
    struct recipe *best = arena_array(a->arena, best_n + 1, sizeof *best);
    struct recipe *front = arena_array(a->arena, a->front_n + ARCHIVE_SETS + 1, sizeof *front);
    if (!best || !front || a->no_memory) return E_MEMORY;
    for (size_t i = 0; i < best_n; i++) {
        mixture_judge(a->mixture, a->sets[i].items, a->sets[i].n, &best[i]);
        best[i].proven = optimal && i == 0;
    }
    double most = archive_best(a) + problem->window;
    for (size_t i = 0; i < a->front_n; i++)
        if (a->front[i].objective <= most) {
            mixture_judge(a->mixture, a->front[i].items, a->front[i].n, &front[front_n]);
            front[front_n++].proven = optimal;
        }
    if (problem->tradeoff) front_n = add_metameric(a, front, front_n);
    sort_rows(problem, front, front_n);
    out->best = best;
    out->best_n = best_n;
    out->tradeoff = front;
    out->tradeoff_n = front_n;
    return OK;
}
