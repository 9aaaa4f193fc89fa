/* Which literal to decide next, when to start over, when to stop. */
#include "core/timetable/learn_inside.h"

#include <string.h>

enum { RESTART_BASE = 100, FIRST_LEARNT_MOST = 6000, ASK_EVERY = 16 };
static const float GROWN = 1e20f;

/* ---- heap of literals by activity ---- */

static void heap_place(struct learn *e, int32_t literal, int32_t at) {
    e->heap[at] = literal;
    e->heap_pos[literal] = at;
}

static void heap_up(struct learn *e, int32_t at) {
    int32_t literal = e->heap[at];
    for (int32_t up; at > 0; at = up) {
        up = (at - 1) / 2;
        if (e->activity[e->heap[up]] >= e->activity[literal]) break;
        heap_place(e, e->heap[up], at);
    }
    heap_place(e, literal, at);
}

void heap_insert(struct learn *e, int32_t literal) {
    heap_place(e, literal, e->heap_n++);
    heap_up(e, e->heap_n - 1);
}

static int32_t heap_pop(struct learn *e) {
    int32_t top = e->heap[0], moved = e->heap[--e->heap_n], at = 0;
    e->heap_pos[top] = -1;
    if (!e->heap_n) return top;
    for (int32_t child; (child = 2 * at + 1) < e->heap_n; at = child) {
        if (child + 1 < e->heap_n && e->activity[e->heap[child + 1]] > e->activity[e->heap[child]])
            child++;
        if (e->activity[e->heap[child]] <= e->activity[moved]) break;
        heap_place(e, e->heap[child], at);
    }
    heap_place(e, moved, at);
    return top;
}

/* All activities shrink together before they overflow; the order stays. */
static void shrink(struct learn *e) {
    for (int32_t i = 0; i < e->first_lit[e->vars_n]; i++) e->activity[i] *= 1 / GROWN;
    e->bump *= 1 / GROWN;
}

void learn_bump(struct learn *e, struct lit l) {
    int x = l.s >> 1;
    int32_t k = l.s & 1 ? 1 - l.k : l.k; /* as "x at least k" */
    int32_t literal = e->first_lit[x] + k - e->base[x] - 1;
    e->activity[literal] += e->bump;
    if (e->activity[literal] > GROWN) shrink(e);
    if (e->heap_pos[literal] >= 0)
        heap_up(e, e->heap_pos[literal]);
    else
        heap_insert(e, literal);
}

static int var_of(const struct learn *e, int32_t literal) {
    int lo = 0, hi = e->vars_n;
    while (hi - lo > 1) {
        int mid = (lo + hi) / 2;
        if (e->first_lit[mid] <= literal)
            lo = mid;
        else
            hi = mid;
    }
    return lo;
}

/* ---- decisions ---- */

static bool pick_active(struct learn *e, struct lit *out) {
    while (e->heap_n) {
        int32_t literal = heap_pop(e);
        int x = var_of(e, literal);
        int32_t k = e->base[x] + 1 + literal - e->first_lit[x];
        if (learn_low(e, x) >= k || learn_high(e, x) < k) continue;
        bool yes = e->phase[x] != NOBODY_NEEDS && e->phase[x] >= k;
        *out = yes ? at_least(x, k) : at_most(x, k - 1);
        return true;
    }
    return false;
}

static bool pick_first(const struct learn *e, int decide, struct lit *out) {
    int best = -1;
    for (int x = 0; x < decide; x++) {
        int32_t low = learn_low(e, x), high = learn_high(e, x);
        if (low == high) continue;
        if (best < 0 || low < learn_low(e, best) ||
            (low == learn_low(e, best) && high < learn_high(e, best)))
            best = x;
    }
    if (best < 0) return false;
    *out = at_most(best, learn_low(e, best));
    return true;
}

static void decide(struct learn *e, struct lit l) {
    e->level_at[e->level_n++] = e->trail_n;
    learn_put(e, l, (struct reason){BY_CHOICE, 0});
}

/* Source: Luby, Sinclair and Zuckerman 1993. */
static uint64_t luby(int i) {
    int size = 1, seq = 0;
    while (size < i + 1) size = 2 * size + 1, seq++;
    while (size - 1 != i) {
        size = (size - 1) / 2;
        seq--;
        i %= size;
    }
    return (uint64_t)1 << seq;
}

/* At the root nothing needs a reason any more. */
static void forget_trail(struct learn *e) {
    for (int32_t i = 0; i < e->trail_n; i++) e->last[e->trail[i].s] = -1;
    e->trail_n = e->head = e->pool_n = 0;
}

static bool at_root(struct learn *e) {
    learn_back(e, 0);
    if (!learn_propagate(e)) {
        e->dead = true;
        return false;
    }
    forget_trail(e);
    if (!e->learnt_most) e->learnt_most = FIRST_LEARNT_MOST;
    if (e->learnt_n > e->learnt_most) {
        learn_reduce(e);
        e->learnt_most += e->learnt_most / 20;
    }
    return true;
}

static void shrink_clauses(struct learn *e) {
    for (int32_t i = 0; i < e->learnt_n; i++) {
        float a;
        memcpy(&a, &e->clauses[e->learnt[i] + 2], sizeof a);
        a *= 1 / GROWN;
        memcpy(&e->clauses[e->learnt[i] + 2], &a, sizeof a);
    }
    e->clause_bump *= 1 / GROWN;
}

/* false: there is no answer, or no memory. */
static bool resolve(struct learn *e) {
    int level;
    int32_t depth;
    e->conflicts++;
    if (e->out_of_memory) return false;
    if (!learn_analyze(e, &level, &depth)) {
        e->dead = true;
        return false;
    }
    learn_back(e, level);
    bool ok = learn_add_clause(e, depth);
    e->bump *= 1 / 0.95f;
    e->clause_bump *= 1 / 0.999f;
    if (e->bump > GROWN) shrink(e);
    if (e->clause_bump > GROWN) shrink_clauses(e);
    if (!ok && !e->out_of_memory) e->dead = level == 0;
    return ok;
}

enum learn_result learn_search(struct learn *e, int decide_n, bool in_order, uint64_t conflicts,
                               const struct limit *limit) {
    uint64_t end = e->conflicts + conflicts;
    if (e->dead || !at_root(e)) return e->out_of_memory ? LEARN_LIMIT : LEARN_NONE;
    if (e->restart_at <= e->conflicts)
        e->restart_at = e->conflicts + RESTART_BASE * luby(e->restarts++);
    for (;;) {
        if (!learn_propagate(e)) {
            if (!resolve(e)) return e->out_of_memory ? LEARN_LIMIT : LEARN_NONE;
            if (e->conflicts >= end || (e->conflicts % ASK_EVERY == 0 && limit_asked(limit))) {
                learn_back(e, 0);
                return LEARN_LIMIT;
            }
            if (e->conflicts < e->restart_at) continue;
            if (!at_root(e)) return e->out_of_memory ? LEARN_LIMIT : LEARN_NONE;
            e->restart_at = e->conflicts + RESTART_BASE * luby(e->restarts++);
            continue;
        }
        struct lit l;
        if ((in_order || !pick_active(e, &l)) && !pick_first(e, decide_n, &l)) return LEARN_ANSWER;
        decide(e, l);
    }
}

bool learn_root(struct learn *e, struct lit l) {
    learn_back(e, 0);
    if (e->dead) return false;
    if (!learn_put(e, l, (struct reason){BY_CHOICE, 0})) e->dead = true;
    return !e->dead;
}
