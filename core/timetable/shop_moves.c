#include "core/timetable/shop_moves.h"

#include <math.h>
#include <string.h>

enum {
    REACH = 16,           /* places that a task moves by */
    STRETCH_REACH = 24,   /* the same of several */
    STRETCH_LONGEST = 20, /* places before and behind from which they come */
    STRETCH_EVERY = 4,
    TURN_EVERY = 3,     /* one that is set up goes on with a wet tool from now on, or no longer */
    ROOM_TRIES = 1,     /* for a task that takes room */
    SESSION_EVERY = 10, /* one that goes as a whole */
    GATHER_EVERY = 20,  /* one that coats join */
};

enum status moves_make(struct shop_moves *m, struct order *order, const struct stagger *stagger,
                       const double *room, struct arena *arena) {
    size_t n = (size_t)order->shop->p->tasks_n + 1;
    *m = (struct shop_moves){.order = order, .stagger = stagger, .room = room};
    m->tasks = arena_array(arena, n, sizeof *m->tasks);
    m->goes = arena_array(arena, n, sizeof *m->goes);
    if (!m->tasks || !m->goes || session_moves_make(&m->sessions, order, arena)) return E_MEMORY;
    return lot_moves_make(&m->lots, &m->sessions, stagger, arena);
}

static int any(const struct shop_moves *m, struct random *random) {
    return m->order->task[random_below(random, (uint32_t)m->order->n)];
}

/* One task earlier or later, as far as lags let it. */
static bool shift(struct shop_moves *m, struct random *random, double most) {
    struct order *o = m->order;
    int i = any(m, random);
    for (int tries = 0; tries < ROOM_TRIES && m->room[i] <= 0; tries++) i = any(m, random);
    int step = random_below(random, 2) ? 1 : -1, left = 1 + (int)random_below(random, REACH);
    int from = o->at[i], to = from;
    for (; left > 0 && to + step >= 0 && to + step < o->n; to += step, left--) {
        int other = o->task[to + step];
        if (step > 0 ? order_before(o, i, other) : order_before(o, other, i)) break;
    }
    bool turn = o->shop->p->tasks[i].setup >= 0 && random_below(random, TURN_EVERY) == 0;
    if (to == from && !turn) return true;
    int lo = from < to ? from : to, hi = from < to ? to : from, n = 0;
    if (to < from) m->tasks[n++] = i;
    for (int k = lo; k <= hi; k++)
        if (k != from) m->tasks[n++] = o->task[k];
    if (to >= from) m->tasks[n++] = i;
    return order_try(o, lo, hi, m->tasks, turn ? i : TIMETABLE_NONE, most);
}

/* What is near a task of its branch, or of its piece, all by as much. */
static bool stretch(struct shop_moves *m, struct random *random, double most) {
    struct order *o = m->order;
    const struct stagger *g = m->stagger;
    int i = any(m, random), at = o->at[i], last = o->n - 1;
    bool piece = random_below(random, 2);
    const int *group = piece ? g->piece_of : g->branch_of;
    int length = (int)(2 + STRETCH_LONGEST * random_unit(random));
    double by = (2 * random_unit(random) - 1) * STRETCH_REACH;
    int first = at - length > 0 ? at - length : 0, past = at + length < last ? at + length : last;
    int go_n = 0;
    for (int k = first; k <= past; k++)
        if (group[o->task[k]] == group[i]) m->goes[go_n++] = k;
    /* only what they pass moves too; ties stand as they stood */
    int lo = m->goes[0] + (by < 0 ? (int)floor(by) : 0);
    int hi = m->goes[go_n - 1] + (by > 0 ? (int)ceil(by) : 0);
    if (lo < 0) lo = 0;
    if (hi > last) hi = last;
    for (int k = lo, n = 0, go = 0, skip = 0; n <= hi - lo; n++) {
        while (skip < go_n && k == m->goes[skip]) k++, skip++;
        bool stays =
            go == go_n ||
            (k <= hi && (m->goes[go] + by > k || (m->goes[go] + by == k && m->goes[go] > k)));
        m->tasks[n] = o->task[stays ? k++ : m->goes[go++]];
    }
    order_mend_within(o, lo, hi, m->tasks);
    int same = 0;
    while (lo + same <= hi && m->tasks[same] == o->task[lo + same]) same++;
    if (lo + same > hi) return true;
    while (m->tasks[hi - lo] == o->task[hi]) hi--;
    return order_try(o, lo + same, hi, m->tasks + same, TIMETABLE_NONE, most);
}

bool moves_try(struct shop_moves *m, struct random *random, double most) {
    if (m->lots_share > 0 && random_unit(random) < m->lots_share)
        return lot_shift(&m->lots, random, most);
    if (random_below(random, GATHER_EVERY) == 0) return session_gather(&m->sessions, random, most);
    if (random_below(random, SESSION_EVERY) == 0) return session_shift(&m->sessions, random, most);
    return random_below(random, STRETCH_EVERY) ? shift(m, random, most) : stretch(m, random, most);
}
