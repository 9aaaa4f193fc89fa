#include "core/timetable/lot_moves.h"

#include "core/timetable/shop_order_inside.h"

enum {
    REACH = 40,   /* places in the order that a lot goes by, from its middle */
    LOT_MOST = 12 /* tasks of one */
};

/* What a task is for: the nth coat of a row on its branch, so many tasks before it. Where no coat
 * is to come, nth is the branch, which goes as a whole: what is hung, fitted, checked and packed.
 */
struct stage {
    int row, nth, before;
};

static int one_before(const struct shop *s, int i) {
    return s->p->lags[s->lags_in.item[s->lags_in.first[i]]].from;
}

/* What leads to coat c, back to the coat before it. */
static void stages_of_coat(const struct shop *s, const struct stagger *g, int c,
                           struct stage *stage) {
    const struct timetable_task *t = s->p->tasks;
    const int row = t[c].setup;
    int nth = 0;
    for (int i = c; i != g->branch_of[c];) {
        i = one_before(s, i);
        nth += t[i].setup == row;
    }
    stage[c] = (struct stage){row, nth, 0};
    for (int i = c, before = 1; i != g->branch_of[c]; before++) {
        i = one_before(s, i);
        if (t[i].setup >= 0) return;
        stage[i] = (struct stage){row, nth, before};
    }
}

static bool together(const struct stagger *g, const struct stage *stage, int a, int b) {
    return g->piece_of[a] == g->piece_of[b] && stage[a].row == stage[b].row &&
           stage[a].nth == stage[b].nth && stage[a].before == stage[b].before;
}

enum status lot_moves_make(struct lot_moves *m, struct session_moves *sessions,
                           const struct stagger *stagger, struct arena *arena) {
    const struct order *o = sessions->order;
    const struct timetable_problem *p = o->shop->p;
    const size_t n = (size_t)p->tasks_n + 1;
    *m = (struct lot_moves){.sessions = sessions};
    m->lot_of = arena_array(arena, n, sizeof *m->lot_of);
    m->first = arena_array(arena, n + 1, sizeof *m->first);
    m->tasks = arena_array(arena, n, sizeof *m->tasks);
    struct stage *stage = arena_array(arena, n, sizeof *stage);
    if (!m->lot_of || !m->first || !m->tasks || !stage) return E_MEMORY;
    for (int i = 0; i < p->tasks_n; i++) {
        stage[i] = (struct stage){TIMETABLE_NONE, stagger->branch_of[i], 0};
        m->lot_of[i] = TIMETABLE_NONE;
    }
    for (int i = 0; i < p->tasks_n; i++)
        if (p->tasks[i].setup >= 0) stages_of_coat(o->shop, stagger, i, stage);
    for (int i = 0, lots = 0, at = 0; i < p->tasks_n; i++) {
        if (o->at[i] < 0 || m->lot_of[i] != TIMETABLE_NONE) continue;
        const int begin = at;
        for (int j = i; j < p->tasks_n && at - begin < LOT_MOST; j++)
            if (j == i || (o->at[j] >= 0 && m->lot_of[j] == TIMETABLE_NONE &&
                           together(stagger, stage, i, j))) {
                m->lot_of[j] = lots;
                m->tasks[at++] = j;
            }
        m->first[++lots] = at;
    }
    return OK;
}

/* The tasks of i's lot, as they stand in the order, into what the carrier carries; how many. */
static int lot_in_order(struct lot_moves *m, int i) {
    const int *at = m->sessions->order->at, *lot = m->tasks + m->first[m->lot_of[i]];
    const int n = m->first[m->lot_of[i] + 1] - m->first[m->lot_of[i]];
    int *out = m->sessions->session;
    for (int k = 0; k < n; k++) {
        int place = k;
        for (; place && at[out[place - 1]] > at[lot[k]]; place--) out[place] = out[place - 1];
        out[place] = lot[k];
    }
    return n;
}

bool lot_shift(struct lot_moves *m, struct random *random, double most) {
    const struct order *o = m->sessions->order;
    const int n = lot_in_order(m, o->task[random_below(random, (uint32_t)o->n)]);
    const int *lot = m->sessions->session, middle = o->at[lot[n / 2]];
    const int by = 1 + (int)random_below(random, REACH);
    int lo = o->at[lot[0]], hi = o->at[lot[n - 1]];
    const bool later = random_below(random, 2);
    if (later && middle + by > hi) hi = middle + by < o->n ? middle + by : o->n - 1;
    if (!later && middle - by < lo) lo = middle > by ? middle - by : 0;
    return session_carry(m->sessions, n, lo, hi, later, TIMETABLE_NONE, most);
}
