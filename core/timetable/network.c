/* Which lags contradict each other, and what lags and hours alone say about every task.
 *
 * Starts and ends are nodes, every rule an arc "v at least w minutes after u". The rules can hold
 * together only if no cycle of arcs has a positive sum: longest paths by Bellman and Ford find one
 * or prove there is none. Drying counts with its fastest rate where it is a minimum and its slowest
 * where it is a maximum, so that a cycle is a proof. */
#include "core/timetable/shop.h"
#include "core/timetable/shut.h"

#include <stdio.h>
#include <string.h>

enum arc_kind { ARC_DATE, ARC_STANDS, ARC_WORK, ARC_SPAN, ARC_MIN, ARC_MAX };

struct arc {
    int from, to;
    int64_t min;
    enum arc_kind kind;
    int index; /* task or lag */
};

struct network {
    struct arc *arcs;
    int arcs_n, nodes_n, origin;
    int64_t *at; /* [nodes_n] longest path, minutes since now */
    int *parent; /* [nodes_n] arc that set it, -1 */
};

static void add(struct network *w, int from, int to, int64_t min, enum arc_kind kind, int index) {
    w->arcs[w->arcs_n++] = (struct arc){from, to, min, kind, index};
}

static int64_t scuffs(const struct shop *s, int task) {
    int64_t sum = 0;
    for (int k = s->lags_in.first[task]; k < s->lags_in.first[task + 1]; k++) {
        const struct timetable_lag *l = &s->p->lags[s->lags_in.item[k]];
        if (l->max_min != TIMETABLE_UNSAID && l->scuff_min > 0) sum += l->scuff_min;
    }
    return sum;
}

static void add_task(const struct shop *s, struct network *w, int i) {
    const struct timetable_problem *p = s->p;
    const struct timetable_task *t = &p->tasks[i];
    if (t->state == TIMETABLE_FIXED) {
        add(w, w->origin, 2 * i, t->fixed_start - p->now, ARC_DATE, i);
        add(w, 2 * i, w->origin, p->now - t->fixed_start, ARC_STANDS, i);
        add(w, 2 * i, 2 * i + 1, t->fixed_end - t->fixed_start, ARC_WORK, i);
        add(w, 2 * i + 1, 2 * i, t->fixed_start - t->fixed_end, ARC_SPAN, i);
        return;
    }
    int64_t from = p->now;
    if (t->release != TIMETABLE_UNSAID && t->release > from) from = t->release;
    if (t->wait != TIMETABLE_UNSAID && t->wait > from) from = t->wait;
    add(w, w->origin, 2 * i, from - p->now, ARC_DATE, i);
    add(w, 2 * i, 2 * i + 1, t->work_min, ARC_WORK, i);
    if (!t->pausable || t->person == TIMETABLE_NOBODY || t->work_min == 0)
        add(w, 2 * i + 1, 2 * i, -(t->work_min + scuffs(s, i)), ARC_SPAN, i);
}

static void add_lag(const struct shop *s, struct network *w, int i) {
    const struct timetable_problem *p = s->p;
    const struct timetable_lag *l = &p->lags[i];
    if (p->tasks[l->from].state == TIMETABLE_FIXED && p->tasks[l->to].state == TIMETABLE_FIXED)
        return; /* what happened has happened */
    int base = 2 * l->from + !l->from_start;
    int64_t fewest, most;
    if (l->min_min != TIMETABLE_UNSAID) {
        drying_range(lag_drying(s, l), l->min_min, &fewest, &most);
        add(w, base, 2 * l->to, fewest, ARC_MIN, i);
    }
    if (l->max_min != TIMETABLE_UNSAID && l->scuff_min < 0) {
        drying_range(lag_drying(s, l), l->max_min, &fewest, &most);
        if (most != INT64_MAX) add(w, 2 * l->to, base, -most, ARC_MAX, i);
    }
}

static bool network_make(const struct shop *s, struct network *w, struct arena *arena) {
    const struct timetable_problem *p = s->p;
    w->nodes_n = 2 * p->tasks_n + 1;
    w->origin = 2 * p->tasks_n;
    w->arcs = arena_array(arena, (size_t)(4 * p->tasks_n + 2 * p->lags_n) + 1, sizeof *w->arcs);
    w->at = arena_array(arena, (size_t)w->nodes_n, sizeof *w->at);
    w->parent = arena_array(arena, (size_t)w->nodes_n, sizeof *w->parent);
    if (!w->arcs || !w->at || !w->parent) return false;
    for (int i = 0; i < p->tasks_n; i++)
        if (s->blocked_by[i] == TIMETABLE_NONE) add_task(s, w, i);
    for (int i = 0; i < p->lags_n; i++)
        if (s->blocked_by[p->lags[i].from] == TIMETABLE_NONE &&
            s->blocked_by[p->lags[i].to] == TIMETABLE_NONE)
            add_lag(s, w, i);
    return true;
}

/* A node on a cycle of parents, or -1. mark: [nodes_n], zeroed here. */
static int parent_cycle(const struct network *w, int *mark) {
    memset(mark, 0, (size_t)w->nodes_n * sizeof *mark);
    for (int v = 0; v < w->nodes_n; v++) {
        int u = v;
        while (!mark[u] && w->parent[u] >= 0) {
            mark[u] = v + 1;
            u = w->arcs[w->parent[u]].from;
        }
        if (mark[u] == v + 1) return u;
        if (!mark[u]) mark[u] = v + 1;
    }
    return -1;
}

static void arc_print(const struct shop *s, const struct arc *a, char *text, size_t size) {
    const struct timetable_problem *p = s->p;
    char one[96], other[96];
    switch (a->kind) {
    case ARC_DATE:
        snprintf(text, size, "%s cannot start before its date", shop_task_name(p, a->index, one));
        return;
    case ARC_STANDS:
        snprintf(text, size, "%s stands where it is", shop_task_name(p, a->index, one));
        return;
    case ARC_WORK:
    case ARC_SPAN:
        snprintf(text, size, "%s takes %lld minutes", shop_task_name(p, a->index, one),
                 (long long)(a->min < 0 ? -a->min : a->min));
        return;
    case ARC_MIN:
    case ARC_MAX:
        snprintf(text, size, "%s lets %s come %s %lld minutes after %s",
                 shop_lag_name(p, a->index, one), shop_task_name(p, p->lags[a->index].to, other),
                 a->kind == ARC_MIN ? "at least" : "at most",
                 (long long)(a->kind == ARC_MIN ? a->min : -a->min),
                 p->lags[a->index].from_start ? "the start" : "the end");
        size_t used = strlen(text);
        snprintf(text + used, size - used, " of %s",
                 shop_task_name(p, p->lags[a->index].from, other));
        return;
    }
}

static bool is_lag(const struct arc *a) {
    return a->kind == ARC_MIN || a->kind == ARC_MAX;
}

/* Of the cycle through node v: the arc that limits most and the arc that demands most. */
static enum status contradiction(const struct shop *s, const struct network *w, int v,
                                 struct why *why) {
    const struct arc *limit = NULL, *demand = NULL;
    int u = v;
    do {
        const struct arc *a = &w->arcs[w->parent[u]];
        if (a->min < 0 && (!limit || (is_lag(a) && !is_lag(limit)) ||
                           (is_lag(a) == is_lag(limit) && a->min < limit->min)))
            limit = a;
        if (a->min >= 0 && a->kind != ARC_WORK && (!demand || a->min > demand->min)) demand = a;
        u = a->from;
    } while (u != v);
    if (!limit) { /* only demands: each waits for the other */
        u = v;
        do {
            const struct arc *a = &w->arcs[w->parent[u]];
            if (is_lag(a) && a != demand) limit = a;
            u = a->from;
        } while (u != v);
    }
    if (!demand) demand = &w->arcs[w->parent[v]];
    if (!limit) limit = demand;
    char first[300], second[300], field[32];
    arc_print(s, demand, first, sizeof first);
    arc_print(s, limit, second, sizeof second);
    const struct arc *at = is_lag(limit) ? limit : demand;
    snprintf(field, sizeof field, "/%s/%d", is_lag(at) ? "lags" : "tasks", at->index);
    return why_say(why, E_IMPOSSIBLE, field, "Both cannot be: %s; but %s.%s", first, second,
                   limit->min >= 0 ? " They wait for each other." : " Change one of them.");
}

static void tails(const struct shop *s, const struct network *w) {
    for (int i = 0; i < s->p->tasks_n; i++) s->tail[i] = s->p->tasks[i].work_min;
    bool moved = true;
    for (int round = 0; moved && round < w->nodes_n; round++) {
        moved = false;
        for (int k = w->arcs_n; k-- > 0;) {
            const struct arc *a = &w->arcs[k];
            if (a->kind != ARC_MIN) continue;
            const struct timetable_lag *l = &s->p->lags[a->index];
            int64_t t =
                s->tail[l->to] + a->min + (l->from_start ? 0 : s->p->tasks[l->from].work_min);
            if (t > s->tail[l->from]) s->tail[l->from] = t, moved = true;
        }
    }
}

/* Earliest moment >= t at which task i can begin with person q (NOBODY: without), by hours and what
 * it holds alone; INT64_MAX: never. */
static int64_t begin_with(const struct shop *s, int i, int q, int64_t t, int64_t *out_end) {
    const struct timetable_task *k = &s->p->tasks[i];
    for (;;) {
        if (q != TIMETABLE_NOBODY) t = hours_begin(&s->hours[q], t, k->work_min, k->pausable);
        if (t == INT64_MAX) return t;
        *out_end =
            q == TIMETABLE_NOBODY ? t + k->work_min : hours_end(&s->hours[q], t, k->work_min);
        int64_t open = shut_until(s, i, t, *out_end);
        if (open == t) return t;
        t = open;
    }
}

/* Earliest moment >= t at which task i can begin so with anybody, and the end it then has. */
static int64_t begin_by_hours(const struct shop *s, int i, int64_t t, int64_t *out_end) {
    const struct timetable_task *k = &s->p->tasks[i];
    if (k->state == TIMETABLE_FIXED) {
        *out_end = k->fixed_end;
        return k->fixed_start;
    }
    if (k->person == TIMETABLE_NOBODY || k->work_min == 0)
        return begin_with(s, i, TIMETABLE_NOBODY, t, out_end);
    int64_t best = INT64_MAX, best_end = INT64_MAX;
    for (int q = 0; q < s->p->persons_n; q++) {
        if (!shop_may(s->p, i, q)) continue;
        int64_t e, b = begin_with(s, i, q, t, &e);
        if (b == INT64_MAX) continue;
        if (b < best) best = b;
        if (e < best_end) best_end = e;
    }
    *out_end = best_end;
    return best;
}

/* Least start and end of every task by lags, hours and what it holds alone; INT64_MAX in the shop's
 * earliest where the hours given do not suffice. */
static void earliest_by_hours(const struct shop *s, const struct network *w) {
    const struct timetable_problem *p = s->p;
    int64_t *end = s->earliest_end;
    for (int i = 0; i < p->tasks_n; i++)
        if (s->blocked_by[i] == TIMETABLE_NONE)
            s->earliest[i] = begin_by_hours(s, i, p->now + w->at[2 * i], &end[i]);
    bool moved = true;
    for (int round = 0; moved && round <= p->tasks_n; round++) {
        moved = false;
        for (int k = 0; k < p->lags_n; k++) {
            const struct timetable_lag *l = &p->lags[k];
            if (l->min_min == TIMETABLE_UNSAID || p->tasks[l->to].state == TIMETABLE_FIXED ||
                s->blocked_by[l->from] != TIMETABLE_NONE || s->blocked_by[l->to] != TIMETABLE_NONE)
                continue;
            int64_t base = lag_base(l, s->earliest[l->from], end[l->from]);
            if (base == INT64_MAX || s->earliest[l->to] == INT64_MAX) continue;
            int64_t dry = lag_dry(s, l, base);
            if (dry <= s->earliest[l->to]) continue;
            int64_t b = begin_by_hours(s, l->to, dry, &end[l->to]);
            if (b > s->earliest[l->to]) s->earliest[l->to] = b, moved = true;
        }
    }
}

enum status network_check(const struct shop *s, struct arena *arena, struct why *why) {
    struct network w = {0};
    int *mark = arena_array(arena, (size_t)(2 * s->p->tasks_n) + 1, sizeof *mark);
    if (!mark || !network_make(s, &w, arena)) return why_no_memory(why);
    const int64_t nowhere = INT64_MIN / 2;
    for (int v = 0; v < w.nodes_n; v++) w.at[v] = nowhere, w.parent[v] = -1;
    w.at[w.origin] = 0;
    for (bool moved = true; moved;) {
        moved = false;
        for (int k = 0; k < w.arcs_n; k++) {
            const struct arc *a = &w.arcs[k];
            if (w.at[a->from] == nowhere || w.at[a->from] + a->min <= w.at[a->to]) continue;
            w.at[a->to] = w.at[a->from] + a->min;
            w.parent[a->to] = k;
            moved = true;
        }
        int v = moved ? parent_cycle(&w, mark) : -1;
        if (v >= 0) return contradiction(s, &w, v, why);
    }
    tails(s, &w);
    earliest_by_hours(s, &w);
    for (int i = 0; i < s->p->tasks_n; i++)
        if (s->earliest[i] == INT64_MAX) {
            char field[32], text[96];
            snprintf(field, sizeof field, "/tasks/%d", i);
            return why_say(why, E_IMPOSSIBLE, field,
                           "%s cannot be done within the working hours given: they end too early "
                           "for what must come before it. Give hours for more days.",
                           shop_task_name(s->p, i, text));
        }
    return OK;
}
