#include "core/timetable/session_moves.h"

#include "core/timetable/shop_order_inside.h"

enum {
    NEAR = 60,        /* places in the order within which sessions come together */
    SHIFT_REACH = 24, /* places that one goes by */
    SESSION_MOST = 40 /* coats of one that are looked at */
};

enum status session_moves_make(struct session_moves *m, struct order *order, struct arena *arena) {
    const struct timetable_problem *p = order->shop->p;
    size_t n = (size_t)p->tasks_n + 1;
    *m = (struct session_moves){.order = order};
    m->coats = arena_array(arena, n, sizeof *m->coats);
    m->session = arena_array(arena, n, sizeof *m->session);
    m->tasks = arena_array(arena, n, sizeof *m->tasks);
    m->others = arena_array(arena, n, sizeof *m->others);
    m->goes = arena_array(arena, n, sizeof *m->goes);
    if (!m->coats || !m->session || !m->tasks || !m->others || !m->goes) return E_MEMORY;
    for (int i = 0; i < p->tasks_n; i++)
        if (p->tasks[i].setup >= 0 && order->at[i] >= 0) m->coats[m->coats_n++] = i;
    return OK;
}

static int any_coat(const struct session_moves *m, struct random *random) {
    return m->coats[random_below(random, (uint32_t)m->coats_n)];
}

/* The coats of i's session into m->session, in order; how many. */
static int session_of(struct session_moves *m, int i) {
    const struct order *o = m->order;
    int first = i, n = 1;
    for (int back = 1; o->place[first].follows >= 0 && back < SESSION_MOST; back++)
        first = o->place[first].follows;
    m->session[0] = first;
    bool with = first == i;
    for (int k = o->at[first] + 1; k < o->n && n < SESSION_MOST; k++) {
        if (k - o->at[m->session[n - 1]] > WITHIN) break;
        if (o->place[o->task[k]].follows != m->session[n - 1]) continue;
        m->session[n++] = o->task[k];
        with |= o->task[k] == i;
    }
    if (!with) m->session[0] = i, n = 1; /* too long a session, or too far apart in the order */
    return n;
}

/* Those that go, and what waits for them, behind the others at lo..hi. */
static void carry_later(struct session_moves *m, int lo, int hi) {
    const struct order_inside *x = m->order->inside;
    int go_n = 0, n = 0;
    for (int k = lo; k <= hi; k++) {
        int i = m->order->task[k];
        for (int b = x->before_first[i]; !m->goes[i] && b < x->before_first[i + 1]; b++)
            m->goes[i] = m->goes[x->before[b]];
        if (m->goes[i])
            m->others[go_n++] = i;
        else
            m->tasks[n++] = i;
    }
    memcpy(m->tasks + n, m->others, (size_t)go_n * sizeof *m->tasks);
}

/* Those that go, and what they wait for, in front of the others at lo..hi. */
static void carry_earlier(struct session_moves *m, int lo, int hi) {
    const struct order_inside *x = m->order->inside;
    int go_n = 0, n = 0, all = hi - lo + 1;
    for (int k = hi; k >= lo; k--) {
        int i = m->order->task[k];
        if (!m->goes[i]) {
            m->tasks[all - 1 - n++] = i;
            continue;
        }
        m->others[all - 1 - go_n++] = i;
        for (int b = x->before_first[i]; b < x->before_first[i + 1]; b++)
            m->goes[x->before[b]] = true;
    }
    memcpy(m->tasks, m->others + n, (size_t)go_n * sizeof *m->tasks);
}

bool session_carry(struct session_moves *m, int n, int lo, int hi, bool later, int turned,
                   double most) {
    struct order *o = m->order;
    memset(m->goes, 0, (size_t)o->shop->p->tasks_n * sizeof *m->goes);
    for (int k = 0; k < n; k++) m->goes[m->session[k]] = true;
    if (later)
        carry_later(m, lo, hi);
    else
        carry_earlier(m, lo, hi);
    return order_try(o, lo, hi, m->tasks, turned, most);
}

/* A coat of the same row near i that is of another session; TIMETABLE_NONE: none. */
static int another(const struct session_moves *m, struct random *random, int i, int n) {
    const struct order *o = m->order;
    int row = o->inside->rows[o->at[i]], found = TIMETABLE_NONE, seen = 0;
    int k = o->at[i] > NEAR ? o->at[i] - NEAR : 0;
    for (; k < o->n && k <= o->at[i] + NEAR; k++) {
        bool own = o->inside->rows[k] != row;
        for (int s = 0; !own && s < n; s++) own = m->session[s] == o->task[k];
        if (!own && random_below(random, (uint32_t)++seen) == 0) found = o->task[k];
    }
    return found;
}

bool session_gather(struct session_moves *m, struct random *random, double most) {
    struct order *o = m->order;
    if (!m->coats_n) return true;
    int i = any_coat(m, random), n = session_of(m, i), at = 0;
    int to = another(m, random, i, n);
    if (to == TIMETABLE_NONE) return true;
    bool later = o->at[to] > o->at[i];
    while (m->session[at] != i && at < n - 1) at++;
    /* all of its session, it alone, or it and those away from the other */
    int first = 0, past = n, which = (int)random_below(random, 3);
    if (which == 0 || (which == 1 && later)) first = at;
    if (which == 0 || (which == 1 && !later)) past = at + 1;
    memmove(m->session, m->session + first, (size_t)(past - first) * sizeof *m->session);
    int lo = o->at[m->session[0]], hi = o->at[m->session[past - first - 1]];
    int joins = later ? m->session[0] : to; /* goes on with the other's tool */
    if (later)
        hi = o->at[to] > hi ? o->at[to] : hi;
    else
        lo = o->at[to] < lo ? o->at[to] : lo;
    return session_carry(m, past - first, lo, hi, later, o->goes_on[joins] ? TIMETABLE_NONE : joins,
                         most);
}

bool session_shift(struct session_moves *m, struct random *random, double most) {
    struct order *o = m->order;
    if (!m->coats_n) return true;
    int n = session_of(m, any_coat(m, random)), by = 1 + (int)random_below(random, SHIFT_REACH);
    bool later = random_below(random, 2);
    int lo = o->at[m->session[0]], hi = o->at[m->session[n - 1]];
    if (later)
        hi = hi + by < o->n ? hi + by : o->n - 1;
    else
        lo = lo > by ? lo - by : 0;
    return session_carry(m, n, lo, hi, later, TIMETABLE_NONE, most);
}
