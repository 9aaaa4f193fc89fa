#include "core/timetable/shop_moves.h"

#include <math.h>
#include <string.h>

enum {
    REACH = 16,           /* places that a task moves by */
    STRETCH_REACH = 24,   /* the same of several */
    STRETCH_LONGEST = 20, /* places before and behind from which they come */
    STRETCH_EVERY = 4,
    TURN_EVERY = 3, /* one that is set up goes on with a wet tool from now on, or no longer */
    ROOM_TRIES = 1, /* for a task that takes room */
};

enum status moves_make(struct shop_moves *m, struct order *order, const struct stagger *stagger,
                       const double *room, struct arena *arena) {
    size_t n = (size_t)order->shop->p->tasks_n + 1;
    *m = (struct shop_moves){order, stagger, room, arena_array(arena, n, sizeof *m->tasks),
                             arena_array(arena, n, sizeof *m->key)};
    return m->tasks && m->key ? OK : E_MEMORY;
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
    int i = any(m, random), n = o->n;
    bool piece = random_below(random, 2);
    double length = 2 + STRETCH_LONGEST * random_unit(random);
    double by = (2 * random_unit(random) - 1) * STRETCH_REACH;
    for (int k = 0; k < n; k++) {
        int x = o->task[k];
        bool goes =
            (piece ? g->piece_of[x] == g->piece_of[i] : g->branch_of[x] == g->branch_of[i]) &&
            fabs((double)(k - o->at[i])) <= length;
        m->key[x] = k + (goes ? by : 0);
        int j = k; /* insertion sort: most stand as they stood */
        for (; j > 0 && m->key[m->tasks[j - 1]] > m->key[x]; j--) m->tasks[j] = m->tasks[j - 1];
        m->tasks[j] = x;
    }
    order_mend(o, m->tasks);
    int lo = 0, hi = n - 1;
    while (lo < n && m->tasks[lo] == o->task[lo]) lo++;
    if (lo == n) return true;
    while (m->tasks[hi] == o->task[hi]) hi--;
    return order_try(o, lo, hi, m->tasks + lo, TIMETABLE_NONE, most);
}

bool moves_try(struct shop_moves *m, struct random *random, double most) {
    return random_below(random, STRETCH_EVERY) ? shift(m, random, most) : stretch(m, random, most);
}
