/* Learnt clauses: two watched literals each; half of them are forgotten from time to time. */
#include "core/timetable/learn_inside.h"

#include <string.h>

static bool watch_add(struct learn *e, struct lit l, int32_t clause, struct lit other) {
    struct watch_list *w = &e->watches[watches_of(e, lit_not(l))];
    if (w->n == w->room) {
        int32_t room = w->room ? 2 * w->room : 4;
        struct watch *wider = arena_array(e->arena, (size_t)room, sizeof *wider);
        if (!wider) {
            e->out_of_memory = true;
            return false;
        }
        if (w->n) memcpy(wider, w->item, (size_t)w->n * sizeof *wider);
        w->item = wider;
        w->room = room;
    }
    w->item[w->n++] = (struct watch){clause, other};
    return true;
}

/* Looks at a clause one of whose watched literals, `lost`, became false. true: the watch moved
 * elsewhere. *ok: false on conflict. */
static bool visit(struct learn *e, struct lit lost, struct watch *w, bool *ok) {
    struct lit *c = clause_lits(e, w->clause);
    int32_t n = e->clauses[w->clause];
    if (c[0].s == lost.s && c[0].k == lost.k) {
        c[0] = c[1];
        c[1] = lost;
    }
    w->other = c[0];
    if (learn_holds(e, c[0])) return false;
    for (int32_t i = 2; i < n; i++) {
        if (learn_fails(e, c[i])) continue;
        struct lit l = c[i];
        c[i] = c[1];
        c[1] = l;
        if (!watch_add(e, l, w->clause, c[0])) *ok = false;
        return true;
    }
    *ok = learn_put(e, c[0], (struct reason){BY_CLAUSE, w->clause});
    return false;
}

static bool run_list(struct learn *e, struct lit lost, struct watch_list *l) {
    struct watch *w = l->item; /* a moved watch never comes back to this very list */
    int32_t n = l->n, kept = 0, i = 0;
    bool ok = true;
    for (; i < n && ok; i++)
        if (learn_holds(e, w[i].other) || !visit(e, lost, &w[i], &ok)) w[kept++] = w[i];
    while (i < n) w[kept++] = w[i++];
    l->n = kept;
    return ok && !e->out_of_memory;
}

bool learn_run_watches(struct learn *e, int32_t s, int32_t was, int32_t now) {
    for (int32_t k = was + 1; k <= now; k++) {
        struct lit l = {s, k};
        struct watch_list *list = &e->watches[watches_of(e, l)];
        if (list->n && !run_list(e, lit_not(l), list)) return false;
    }
    return true;
}

static bool clause_room(struct learn *e, int32_t more) {
    if (e->clauses_n + more <= e->clauses_room) return true;
    int32_t room = e->clauses_room ? 2 * e->clauses_room : 1 << 16;
    while (room < e->clauses_n + more) room *= 2;
    int32_t *wider = arena_array(e->arena, (size_t)room, sizeof *wider);
    if (!wider) {
        e->out_of_memory = true;
        return false;
    }
    if (e->clauses_n) memcpy(wider, e->clauses, (size_t)e->clauses_n * sizeof *wider);
    e->clauses = wider;
    e->clauses_room = room;
    return true;
}

static bool learnt_room(struct learn *e) {
    if (e->learnt_n < e->learnt_room) return true;
    int32_t room = e->learnt_room ? 2 * e->learnt_room : 1024;
    int32_t *wider = arena_array(e->arena, (size_t)room, sizeof *wider);
    e->order = arena_array(e->arena, (size_t)room, sizeof *e->order);
    if (!wider || !e->order) {
        e->out_of_memory = true;
        return false;
    }
    if (e->learnt_n) memcpy(wider, e->learnt, (size_t)e->learnt_n * sizeof *wider);
    e->learnt = wider;
    e->learnt_room = room;
    return true;
}

bool learn_add_clause(struct learn *e, int32_t depth) {
    int32_t n = e->out_n;
    if (n == 1) return learn_put(e, lit_not(e->out[0]), (struct reason){BY_CHOICE, 0});
    if (!clause_room(e, CLAUSE_HEAD + 1 + 2 * n) || !learnt_room(e)) return false;
    int32_t at = e->clauses_n;
    e->clauses_n += CLAUSE_HEAD + 2 * n;
    e->clauses[at] = n;
    e->clauses[at + 1] = depth;
    memcpy(&e->clauses[at + 2], &e->clause_bump, sizeof e->clause_bump);
    struct lit *c = clause_lits(e, at);
    for (int32_t i = 0; i < n; i++) c[i] = lit_not(e->out[i]);
    e->learnt[e->learnt_n++] = at;
    if (!watch_add(e, c[0], at, c[1]) || !watch_add(e, c[1], at, c[0])) return false;
    return learn_put(e, c[0], (struct reason){BY_CLAUSE, at});
}

static float clause_activity(const struct learn *e, int32_t at) {
    float f;
    memcpy(&f, &e->clauses[at + 2], sizeof f);
    return f;
}

static bool satisfied(struct learn *e, int32_t at) {
    const struct lit *c = clause_lits(e, at);
    for (int32_t i = 0; i < e->clauses[at]; i++)
        if (learn_holds(e, c[i])) return true;
    return false;
}

/* The activity below which half of the clauses lie that are not shallow. */
static float middle_activity(struct learn *e, float *work) {
    int32_t n = 0;
    for (int32_t i = 0; i < e->learnt_n; i++)
        if (e->clauses[e->learnt[i] + 1] > 2) work[n++] = clause_activity(e, e->learnt[i]);
    int32_t lo = 0, hi = n - 1, want = n / 2;
    while (lo < hi) { /* Hoare's selection */
        float pivot = work[(lo + hi) / 2];
        int32_t i = lo, j = hi;
        while (i <= j) {
            while (work[i] < pivot) i++;
            while (work[j] > pivot) j--;
            if (i > j) break;
            float t = work[i];
            work[i++] = work[j];
            work[j--] = t;
        }
        if (want <= j)
            hi = j;
        else if (want >= i)
            lo = i;
        else
            break;
    }
    return n ? work[want] : 0;
}

void learn_reduce(struct learn *e) {
    float least = middle_activity(e, e->order);
    for (int32_t i = 0; i < 2 * e->first_lit[e->vars_n]; i++) e->watches[i].n = 0;
    int32_t to = 0, kept = 0;
    for (int32_t i = 0; i < e->learnt_n; i++) {
        int32_t at = e->learnt[i], size = CLAUSE_HEAD + 2 * e->clauses[at];
        bool keep = e->clauses[at + 1] <= 2 || clause_activity(e, at) >= least;
        if (!keep || satisfied(e, at)) continue;
        memmove(&e->clauses[to], &e->clauses[at], (size_t)size * sizeof *e->clauses);
        struct lit *c = clause_lits(e, to);
        int32_t n = e->clauses[to], free = 0; /* at the root two literals at least are open */
        for (int32_t k = 0; k < n && free < 2; k++)
            if (!learn_fails(e, c[k])) {
                struct lit l = c[k];
                c[k] = c[free];
                c[free++] = l;
            }
        watch_add(e, c[0], to, c[1]);
        watch_add(e, c[1], to, c[0]);
        e->learnt[kept++] = to;
        to += size;
    }
    e->learnt_n = kept;
    e->clauses_n = to;
}
