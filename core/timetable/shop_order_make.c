#include "core/timetable/shop_order_inside.h"

#include "core/timetable/deadline.h"

#include <math.h>

/* A price in 2^-24ths: sums of minutes at such prices are exact up to 5e8, so that an energy is the
 * same from wherever it was summed up. */
static double exact(double price) {
    return rint(price * 0x1p24) * 0x1p-24;
}

static bool lag_orders(const struct timetable_lag *l) {
    return l->min_min != TIMETABLE_UNSAID && l->min_min >= 0;
}

/* Table of drying so many minutes, made where there is none yet; TIMETABLE_NONE: clock minutes, or
 * too many tables. */
static int table_of(struct order_inside *x, int climate, int64_t minutes, struct arena *arena,
                    bool *no_memory) {
    if (climate == TIMETABLE_NONE || minutes == TIMETABLE_UNSAID || minutes <= 0)
        return TIMETABLE_NONE;
    for (int t = 0; t < x->tables_n; t++)
        if (x->dries_as[t].climate == climate && x->dries_as[t].minutes == minutes) return t;
    if (x->tables_n == TABLES_MOST) return TIMETABLE_NONE;
    size_t n = (size_t)(x->horizon - x->now);
    int32_t *rows = arena_array(arena, n, sizeof *rows);
    if (!rows) {
        *no_memory = true;
        return TIMETABLE_NONE;
    }
    for (size_t m = 0; m < n; m++) {
        int64_t t = x->now + (int64_t)m;
        int64_t dry = drying_after(&x->s->dryings[climate], t, minutes) - t;
        rows[m] = dry < HORIZON_MOST ? (int32_t)dry : HORIZON_MOST;
    }
    x->dries[x->tables_n] = rows;
    x->dries_as[x->tables_n].climate = climate;
    x->dries_as[x->tables_n].minutes = minutes;
    return x->tables_n++;
}

/* Windows of a person between now and the horizon, what is fixed cut out of them. */
static bool make_windows(struct order_inside *x, int q, struct arena *arena) {
    const struct timetable_problem *p = x->s->p;
    const struct hours *h = &x->s->hours[q];
    int cuts = 0, n = 0;
    for (int i = 0; i < p->tasks_n; i++)
        cuts += p->tasks[i].state == TIMETABLE_FIXED && p->tasks[i].fixed_person == q;
    struct timetable_span *w = arena_array(arena, (size_t)(h->n + cuts + 1), sizeof *w);
    x->near[q] =
        arena_array(arena, (size_t)((x->horizon - x->now) >> NEAR_SHIFT) + 2, sizeof **x->near);
    if (!w || !x->near[q]) return false;
    for (int k = hours_window(h, x->now); k < h->n && h->windows[k].from < x->horizon; k++)
        w[n++] = h->windows[k];
    for (int i = 0; i < p->tasks_n; i++) {
        const struct timetable_task *t = &p->tasks[i];
        if (t->state != TIMETABLE_FIXED || t->fixed_person != q || t->fixed_end <= x->now) continue;
        for (int k = 0; k < n; k++) {
            if (w[k].to <= t->fixed_start || w[k].from >= t->fixed_end) continue;
            struct timetable_span rest = {t->fixed_end, w[k].to};
            w[k].to = t->fixed_start > w[k].from ? t->fixed_start : w[k].from;
            if (rest.from >= rest.to) continue;
            memmove(&w[k + 2], &w[k + 1], (size_t)(n - k - 1) * sizeof *w);
            w[++k] = rest;
            n++;
        }
    }
    for (int64_t k = 0, i = 0; k <= (x->horizon - x->now) >> NEAR_SHIFT; k++) {
        while (i < n && w[i].to <= x->now + (k << NEAR_SHIFT)) i++;
        x->near[q][k] = (uint16_t)i;
    }
    x->windows[q] = w;
    x->windows_n[q] = n;
    return true;
}

static struct order_lag order_lag_of(struct order_inside *x, const struct timetable_lag *l,
                                     struct arena *arena, bool *no_memory) {
    return (struct order_lag){l,
                              l->from,
                              table_of(x, l->climate, l->min_min, arena, no_memory),
                              table_of(x, l->climate, l->max_min, arena, no_memory),
                              l->min_min != TIMETABLE_UNSAID,
                              l->from_start};
}

/* What task i waits for, and what it holds. */
static void make_task(struct order_inside *x, int i, const double *room, int *lags, int *holds,
                      int *before, struct arena *arena, bool *no_memory) {
    const struct shop *s = x->s;
    const struct timetable_problem *p = s->p;
    const struct timetable_task *t = &p->tasks[i];
    struct order_task *out = &x->tasks[i];
    double persons = p->persons_n ? p->persons_n : 1;
    *out = (struct order_task){
        .earliest = s->earliest[i],
        .due = t->due == TIMETABLE_UNSAID ? ROOM_NEVER : t->due,
        .work = t->work_min,
        .late = exact(x->weights.late * t->weight),
        .room = exact(x->weights.room_start * room[i] / persons),
        .row = t->setup,
        .lag = *lags,
        .hold = *holds,
        .pausable = t->pausable,
        .clock = t->person == TIMETABLE_NOBODY || t->work_min == 0,
    };
    if (t->setup >= 0) {
        const struct timetable_setup *row = &p->setups[t->setup];
        out->setup = row->setup_min, out->cleanup = row->cleanup_min;
        out->keep_wet = row->keep_wet_min;
    }
    for (int q = 0; q < p->persons_n; q++)
        if (shop_may(p, i, q)) out->people |= 1u << q;
    x->before_first[i] = *before;
    for (int k = s->lags_in.first[i]; k < s->lags_in.first[i + 1]; k++) {
        const struct timetable_lag *l = &p->lags[s->lags_in.item[k]];
        x->lags[(*lags)++] = order_lag_of(x, l, arena, no_memory);
        if (l->max_min != TIMETABLE_UNSAID) out->maxima = true;
        if (lag_orders(l) && shop_open(s, l->from)) x->before[(*before)++] = l->from;
    }
    for (int k = s->holds_at.first[i]; k < s->holds_at.first[i + 1]; k++) {
        int number = s->holds_at.item[k] / 2;
        const struct timetable_hold *h = &p->holds[number];
        struct order_hold *hold = &x->holds[(*holds)++];
        *hold = (struct order_hold){.hold = number,
                                    .resource = h->resource,
                                    .last = h->last,
                                    .opens = h->first == i,
                                    .ends = h->last == i,
                                    .amount = h->amount};
        if (h->until_lag >= 0)
            hold->until = order_lag_of(x, &p->lags[h->until_lag], arena, no_memory);
        if (hold->ends && !hold->opens && shop_open(s, h->first)) x->before[(*before)++] = h->first;
    }
    out->lag_past = *lags;
    out->hold_past = *holds;
}

static enum status make_tasks(struct order_inside *x, const double *room, struct arena *arena) {
    const struct timetable_problem *p = x->s->p;
    size_t n = (size_t)p->tasks_n + 1, lags_n = (size_t)p->lags_n, holds_n = (size_t)p->holds_n;
    int lags = 0, holds = 0, before = 0;
    bool no_memory = false;
    x->tasks = arena_array(arena, n, sizeof *x->tasks);
    x->lags = arena_array(arena, lags_n + 1, sizeof *x->lags);
    x->holds = arena_array(arena, 2 * holds_n + 1, sizeof *x->holds);
    x->before_first = arena_array(arena, n, sizeof *x->before_first);
    x->before = arena_array(arena, lags_n + holds_n + 1, sizeof *x->before);
    if (!x->tasks || !x->lags || !x->holds || !x->before_first || !x->before) return E_MEMORY;
    for (int i = 0; i < p->tasks_n; i++)
        make_task(x, i, room, &lags, &holds, &before, arena, &no_memory);
    x->before_first[p->tasks_n] = before;
    return no_memory ? E_MEMORY : OK;
}

/* Before all: nobody busy, no tool wet, and what is fixed takes its room. */
static void make_first(struct order *o) {
    struct order_inside *x = o->inside;
    const struct timetable_problem *p = x->s->p;
    for (int q = 0; q < p->persons_n; q++) {
        persons_of(x->first)[q] = (struct person_state){x->now, TIMETABLE_NONE};
        for (int row = 0; row < p->setups_n; row++)
            *wet_of(x, x->first, q, row) = (struct wet_state){INT64_MIN, TIMETABLE_NONE};
    }
    for (int k = 0; k < p->resources_n; k++)
        if (p->resources[k].capacity > 0)
            part_add(room_of(x, x->first, k),
                     (struct room_part){x->now, p->resources[k].capacity, 0});
    for (int i = 0; i < p->tasks_n; i++)
        for (int k = x->tasks[i].hold; k < x->tasks[i].hold_past; k++) {
            const struct order_hold *h = &x->holds[k];
            if (p->tasks[i].state != TIMETABLE_FIXED || !h->opens) continue;
            struct room_state *r = room_of(x, x->first, h->resource);
            if (o->at[h->last] >= 0) {
                room_take(r, x->now, (struct room_part){ROOM_NEVER, h->amount, h->hold});
            } else if (p->tasks[h->last].state == TIMETABLE_FIXED) {
                int64_t until = order_hold_until(x, h, &o->place[h->last]);
                if (until > x->now) room_take(r, x->now, (struct room_part){until, h->amount, 0});
            }
        }
}

enum status order_make(struct order *o, const struct shop *shop, int64_t horizon,
                       const double *room, const struct order_weights *weights,
                       struct arena *arena) {
    const struct timetable_problem *p = shop->p;
    size_t n = (size_t)p->tasks_n + 1, persons = (size_t)p->persons_n;
    if (horizon - p->now > HORIZON_MOST) return E_TOO_LARGE;
    struct order_inside *x = arena_take(arena, sizeof *x);
    if (!x) return E_MEMORY;
    *o = (struct order){.shop = shop, .inside = x};
    x->s = shop;
    x->weights = *weights;
    x->now = p->now;
    x->horizon = horizon > p->now ? horizon : p->now + 1;
    x->wet_at = persons * sizeof(struct person_state);
    x->room_at = x->wet_at + persons * (size_t)p->setups_n * sizeof(struct wet_state);
    x->state_size = x->room_at + (size_t)p->resources_n * sizeof(struct room_state);
    size_t states = n / STRIDE + 2;
    o->task = arena_array(arena, n, sizeof *o->task);
    o->at = arena_array(arena, n, sizeof *o->at);
    o->place = arena_array(arena, n, sizeof *o->place);
    o->goes_on = arena_array(arena, n, sizeof *o->goes_on);
    x->latest = arena_array(arena, n, sizeof *x->latest);
    x->given = arena_array(arena, n, sizeof *x->given);
    x->stack = arena_array(arena, n, sizeof *x->stack);
    x->mended = arena_array(arena, n, sizeof *x->mended);
    x->place_was = arena_array(arena, n, sizeof *x->place_was);
    x->task_was = arena_array(arena, n, sizeof *x->task_was);
    x->worked = arena_array(arena, (size_t)(x->horizon - x->now), sizeof *x->worked);
    x->windows = arena_array(arena, persons + 1, sizeof *x->windows);
    x->windows_n = arena_array(arena, persons + 1, sizeof *x->windows_n);
    x->near = arena_array(arena, persons + 1, sizeof *x->near);
    x->first = arena_take(arena, x->state_size + 1);
    x->state = arena_take(arena, x->state_size + 1);
    x->kept = arena_array(arena, states, x->state_size + 1);
    x->tried = arena_array(arena, states, x->state_size + 1);
    x->kept_energy = arena_array(arena, n, sizeof *x->kept_energy);
    x->tried_energy = arena_array(arena, n, sizeof *x->tried_energy);
    if (!o->task || !o->at || !o->place || !o->goes_on || !x->latest || !x->given || !x->stack ||
        !x->mended || !x->place_was || !x->task_was || !x->worked || !x->windows || !x->windows_n ||
        !x->near || !x->first || !x->state || !x->kept || !x->tried || !x->kept_energy ||
        !x->tried_energy)
        return E_MEMORY;
    for (int q = 0; q < p->persons_n; q++)
        if (!make_windows(x, q, arena)) return E_MEMORY;
    int64_t before = all_worked(shop, x->now);
    for (int64_t t = x->now; t < x->horizon; t++)
        x->worked[t - x->now] = (int32_t)(all_worked(shop, t) - before);
    for (int i = 0; i < p->tasks_n; i++) {
        const struct timetable_task *t = &p->tasks[i];
        x->latest[i] = INT32_MAX;
        o->place[i] =
            (struct order_place){t->fixed_start, t->fixed_end, TIMETABLE_NOBODY, TIMETABLE_NONE};
        o->at[i] = shop_open(shop, i) ? o->n++ : -1;
    }
    x->weights.late = exact(weights->late);
    x->weights.sitting = exact(weights->sitting);
    x->weights.broken = exact(weights->broken);
    x->per_beyond = exact(weights->beyond / (persons ? (double)persons : 1));
    x->per_mean_end = exact(weights->mean_end / (o->n ? o->n : 1));
    enum status st = make_tasks(x, room, arena);
    if (!st) make_first(o);
    return st;
}
