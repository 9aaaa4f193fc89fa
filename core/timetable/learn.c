#include "core/timetable/learn_inside.h"

#include <string.h>

bool learn_make(struct learn *e, int vars, const int32_t *low, const int32_t *high, int arcs_room,
                int propagators_room, struct arena *arena) {
    *e = (struct learn){.vars_n = vars, .arena = arena, .bump = 1, .clause_bump = 1};
    size_t n = (size_t)vars + 1;
    e->low = arena_array(arena, 2 * n, sizeof *e->low);
    e->last = arena_array(arena, 2 * n, sizeof *e->last);
    e->base = arena_array(arena, n, sizeof *e->base);
    e->first_lit = arena_array(arena, n + 1, sizeof *e->first_lit);
    e->phase = arena_array(arena, n, sizeof *e->phase);
    e->arcs = arena_array(arena, 2 * (size_t)arcs_room + 1, sizeof *e->arcs);
    e->propagators = arena_array(arena, (size_t)propagators_room + 1, sizeof *e->propagators);
    if (!e->low || !e->last || !e->base || !e->first_lit || !e->phase || !e->arcs ||
        !e->propagators)
        return false;
    e->arcs_room = 2 * arcs_room;
    for (int x = 0; x < vars; x++) {
        e->low[2 * x] = e->base[x] = low[x];
        e->low[2 * x + 1] = -high[x];
        e->last[2 * x] = e->last[2 * x + 1] = -1;
        e->phase[x] = NOBODY_NEEDS;
        e->first_lit[x + 1] = e->first_lit[x] + (high[x] - low[x]);
    }
    size_t lits = (size_t)e->first_lit[vars] + 1, events = lits + n;
    e->trail_room = (int32_t)events;
    e->trail = arena_array(arena, events, sizeof *e->trail);
    e->need = arena_array(arena, events, sizeof *e->need);
    e->marked = arena_array(arena, events, sizeof *e->marked);
    e->level_room = (int)events;
    e->level_at = arena_array(arena, events + 1, sizeof *e->level_at);
    e->level_seen = arena_array(arena, events + 1, sizeof *e->level_seen);
    e->activity = arena_array(arena, lits, sizeof *e->activity);
    e->watches = arena_array(arena, 2 * lits, sizeof *e->watches);
    e->heap = arena_array(arena, lits, sizeof *e->heap);
    e->heap_pos = arena_array(arena, lits, sizeof *e->heap_pos);
    /* every literal of a form is in an explanation once at most, after merging */
    e->conflict = arena_array(arena, 4 * n + 64, sizeof *e->conflict);
    e->out = arena_array(arena, events + 4, sizeof *e->out);
    e->best_of = arena_array(arena, 2 * n, sizeof *e->best_of);
    e->why_room = (int32_t)(16 * (2 * n + 8));
    e->why_stack = arena_array(arena, (size_t)e->why_room, sizeof *e->why_stack);
    if (!e->trail || !e->need || !e->marked || !e->level_at || !e->level_seen || !e->activity ||
        !e->watches || !e->heap || !e->heap_pos || !e->conflict || !e->out || !e->best_of ||
        !e->why_stack)
        return false;
    for (size_t i = 0; i < 2 * n; i++) e->best_of[i] = -1;
    for (size_t i = 0; i < events; i++) e->need[i] = NOBODY_NEEDS;
    for (size_t i = 0; i < lits; i++) e->heap_pos[i] = -1;
    return true;
}

static void add_arc(struct learn *e, struct learn_arc a) {
    e->arcs[e->arcs_n++] = a;
}

void learn_arc(struct learn *e, struct learn_arc a) {
    add_arc(e, a);
    add_arc(e, (struct learn_arc){a.to ^ 1, a.from ^ 1, a.min, a.when});
}

/* Lists by key: first[k]..first[k + 1] in item; keys < 0 are left out. */
static bool by_key(struct learn *e, int keys, int n, int32_t (*key)(const struct learn *, int),
                   int32_t **out_first, int32_t **out_item) {
    int32_t *first = arena_array(e->arena, (size_t)keys + 2, sizeof *first);
    int32_t *item = arena_array(e->arena, (size_t)n + 1, sizeof *item);
    if (!first || !item) return false;
    for (int i = 0; i < n; i++)
        if (key(e, i) >= 0) first[key(e, i) + 2]++;
    for (int k = 2; k <= keys + 1; k++) first[k] += first[k - 1];
    for (int i = 0; i < n; i++)
        if (key(e, i) >= 0) item[first[key(e, i) + 1]++] = i;
    *out_first = first;
    *out_item = item;
    return true;
}

static int32_t arc_from(const struct learn *e, int i) {
    return e->arcs[i].from;
}
static int32_t arc_when(const struct learn *e, int i) {
    return e->arcs[i].when.s;
}

/* Arcs of one form side by side, since they are run together. */
static bool sort_arcs(struct learn *e) {
    int32_t *item;
    struct learn_arc *sorted = arena_array(e->arena, (size_t)e->arcs_n + 1, sizeof *sorted);
    if (!sorted || !by_key(e, 2 * e->vars_n, e->arcs_n, arc_from, &e->arc_first, &item))
        return false;
    for (int i = 0; i < e->arcs_n; i++) sorted[i] = e->arcs[item[i]];
    e->arcs = sorted;
    return true;
}

bool learn_ready(struct learn *e, const int32_t (*wake)[2], int wake_n) {
    if (!sort_arcs(e) ||
        !by_key(e, 2 * e->vars_n, e->arcs_n, arc_when, &e->when_first, &e->when_item))
        return false;
    e->wake_first = arena_array(e->arena, (size_t)e->vars_n + 2, sizeof *e->wake_first);
    e->wake_item = arena_array(e->arena, (size_t)wake_n + 1, sizeof *e->wake_item);
    if (!e->wake_first || !e->wake_item) return false;
    for (int i = 0; i < wake_n; i++) e->wake_first[wake[i][0] + 2]++;
    for (int k = 2; k <= e->vars_n + 1; k++) e->wake_first[k] += e->wake_first[k - 1];
    for (int i = 0; i < wake_n; i++) e->wake_item[e->wake_first[wake[i][0] + 1]++] = wake[i][1];
    for (int i = 0; i < e->propagators_n; i++) e->propagators[i].queued = true;
    return true;
}

/* ---- reasons ---- */

static bool pool_room(struct learn *e) {
    if (e->pool_n + 1 < e->pool_room) return true;
    int32_t room = e->pool_room ? 2 * e->pool_room : 4096;
    struct lit *wider = arena_array(e->arena, (size_t)room, sizeof *wider);
    if (!wider) {
        e->out_of_memory = true;
        return false;
    }
    if (e->pool_n) memcpy(wider, e->pool, (size_t)e->pool_n * sizeof *wider);
    e->pool = wider;
    e->pool_room = room;
    return true;
}

void learn_because(struct learn *e) {
    if (!pool_room(e)) return;
    e->because = e->pool_n;
    e->pool[e->pool_n++] = (struct lit){0, 0};
}

void learn_and(struct learn *e, struct lit l) {
    if (e->out_of_memory || !pool_room(e)) return;
    e->pool[e->pool_n++] = l;
    e->pool[e->because].s++;
}

bool learn_set(struct learn *e, struct lit l) {
    if (e->out_of_memory) return false;
    if (learn_holds(e, l)) {
        e->pool_n = e->because;
        return true;
    }
    return learn_put(e, l, (struct reason){BY_POOL, e->because});
}

bool learn_fail(struct learn *e) {
    if (e->out_of_memory) return false;
    const struct lit *r = &e->pool[e->because];
    e->conflict_n = r->s;
    memcpy(e->conflict, r + 1, (size_t)r->s * sizeof *r);
    e->pool_n = e->because;
    return false;
}

/* Bound that a form had just before event `at`. */
static int32_t low_before(const struct learn *e, int32_t s, int32_t at) {
    int32_t i = e->last[s];
    int32_t k = e->low[s];
    while (i >= at) {
        k = e->trail[i].was;
        i = e->trail[i].before;
    }
    return k;
}

int32_t learn_explain(struct learn *e, struct reason why, struct lit l, int32_t at,
                      struct lit *out) {
    int32_t n = 0;
    switch (why.kind) {
    case BY_CHOICE: break;
    case BY_CLAUSE: {
        const struct lit *c = clause_lits(e, why.ref);
        for (int32_t i = 1; i < e->clauses[why.ref]; i++) out[n++] = lit_not(c[i]);
        break;
    }
    case BY_ARC: {
        const struct learn_arc *a = &e->arcs[why.ref];
        out[n++] = (struct lit){a->from, l.k - a->min};
        if (a->when.s >= 0) out[n++] = a->when;
        break;
    }
    case BY_ARC_OFF: {
        const struct learn_arc *a = &e->arcs[why.ref];
        int32_t k = low_before(e, a->from, at);
        out[n++] = (struct lit){a->from, k};
        out[n++] = (struct lit){a->to ^ 1, 1 - (k + a->min)};
        break;
    }
    case BY_POOL: {
        const struct lit *r = &e->pool[why.ref];
        memcpy(out, r + 1, (size_t)r->s * sizeof *r);
        n = r->s;
        break;
    }
    }
    return n;
}

/* ---- events ---- */

bool learn_put(struct learn *e, struct lit l, struct reason why) {
    if (e->low[l.s] >= l.k) return true;
    if (l.k + e->low[l.s ^ 1] > 0) {
        e->conflict_n = learn_explain(e, why, l, e->trail_n, e->conflict);
        e->conflict[e->conflict_n++] = lit_not(l);
        return false;
    }
    e->trail[e->trail_n] = (struct event){l.s, l.k, e->low[l.s], e->last[l.s], e->level_n, why};
    e->last[l.s] = e->trail_n++;
    e->low[l.s] = l.k;
    return true;
}

/* The literals that event undid may be chosen again. */
static void back_to_heap(struct learn *e, const struct event *v) {
    int x = v->s >> 1;
    int32_t from = v->s & 1 ? 1 - v->k : v->was + 1, to = v->s & 1 ? -v->was : v->k;
    int32_t lit = e->first_lit[x] + from - e->base[x] - 1;
    for (int32_t k = from; k <= to; k++, lit++)
        if (e->activity[lit] > 0 && e->heap_pos[lit] < 0) heap_insert(e, lit);
}

void learn_back(struct learn *e, int level) {
    if (e->level_n <= level) return;
    int32_t to = e->level_at[level];
    while (e->trail_n > to) {
        const struct event *v = &e->trail[--e->trail_n];
        e->low[v->s] = v->was;
        e->last[v->s] = v->before;
        if (v->why.kind == BY_POOL) e->pool_n = v->why.ref;
        back_to_heap(e, v);
    }
    e->head = e->trail_n;
    e->level_n = level;
}

static bool run_arc(struct learn *e, int32_t i) {
    const struct learn_arc *a = &e->arcs[i];
    int32_t k = e->low[a->from] + a->min;
    if (e->low[a->to] >= k) return true;
    if (a->when.s < 0 || learn_holds(e, a->when))
        return learn_put(e, (struct lit){a->to, k}, (struct reason){BY_ARC, i});
    if (k + e->low[a->to ^ 1] > 0 && !learn_fails(e, a->when))
        return learn_put(e, lit_not(a->when), (struct reason){BY_ARC_OFF, i});
    return true;
}

static bool run_arcs(struct learn *e, const struct event *v) {
    for (int32_t k = e->arc_first[v->s]; k < e->arc_first[v->s + 1]; k++)
        if (!run_arc(e, k)) return false;
    for (int32_t k = e->when_first[v->s]; k < e->when_first[v->s + 1]; k++) {
        int32_t i = e->when_item[k];
        if (e->arcs[i].when.k > v->was && e->arcs[i].when.k <= v->k && !run_arc(e, i)) return false;
    }
    return true;
}

static bool run_events(struct learn *e) {
    while (e->head < e->trail_n) {
        const struct event v = e->trail[e->head++];
        int x = v.s >> 1;
        for (int32_t k = e->wake_first[x]; k < e->wake_first[x + 1]; k++)
            e->propagators[e->wake_item[k]].queued = true;
        if (!run_arcs(e, &v) || !learn_run_watches(e, v.s, v.was, v.k)) return false;
    }
    return true;
}

bool learn_propagate(struct learn *e) {
    for (;;) {
        if (!run_events(e)) break;
        int i = 0;
        while (i < e->propagators_n && !e->propagators[i].queued) i++;
        if (i == e->propagators_n) return true;
        e->propagators[i].queued = false;
        if (!e->propagators[i].run(e, e->propagators[i].ctx)) break;
    }
    e->head = e->trail_n;
    return false;
}
