#include "core/timetable/shop_order_inside.h"

#include "core/timetable/deadline.h"

#include <math.h>

/* A price in 2^-24ths: sums of minutes at such prices are exact up to 5e8, so that an energy is the
 * same from wherever it was summed up. */
static double exact(double price) {
    return rint(price * 0x1p24) * 0x1p-24;
}

static void make_weights(const struct order *o, const struct order_weights *weights) {
    struct order_inside *x = o->inside;
    double persons = x->persons_n ? x->persons_n : 1, n = o->n ? o->n : 1;
    x->weights = *weights;
    x->weights.late = exact(weights->late);
    x->weights.setup = exact(weights->setup);
    x->weights.sitting = exact(weights->sitting);
    x->weights.broken = exact(weights->broken);
    x->per_beyond = exact(weights->beyond / persons);
    x->per_mean_end = exact(weights->mean_end / n);
}

/* Amounts are whole, so that there are no more parts than there is of it. */
static int32_t parts_most(const struct timetable_resource *r) {
    return r->capacity < PARTS_MOST ? r->capacity : PARTS_MOST;
}

static bool lag_orders(const struct timetable_lag *l) {
    return l->min_min != TIMETABLE_UNSAID && l->min_min >= 0;
}

/* Table of drying so many minutes, made where there is none yet; NULL: clock minutes, too many
 * tables or minutes. In 16 bits, since what is waited for is memory. */
static const uint16_t *table_of(struct order_inside *x, int climate, int64_t minutes,
                                struct arena *arena, bool *no_memory) {
    if (climate == TIMETABLE_NONE || minutes <= 0) return NULL;
    for (int t = 0; t < x->tables_n; t++)
        if (x->dries_as[t].climate == climate && x->dries_as[t].minutes == minutes)
            return x->dries[t];
    if (x->tables_n == TABLES_MOST) return NULL;
    uint16_t *rows = arena_array(arena, (size_t)x->horizon, sizeof *rows);
    if (!rows) {
        *no_memory = true;
        return NULL;
    }
    int t = x->tables_n++;
    x->dries_as[t].climate = climate;
    x->dries_as[t].minutes = minutes;
    const bool fits = drying_table(&x->s->dryings[climate], x->now, x->horizon, minutes, rows);
    return x->dries[t] = fits ? rows : NULL;
}

/* First of windows w [n] that ends after each 64 minutes. */
static void make_near(const struct order_window *w, int n, uint16_t *near, int near_n) {
    for (int k = 0, i = 0; k < near_n; k++) {
        while (i < n && w[i].to <= k << NEAR_SHIFT) i++;
        near[k] = (uint16_t)i;
    }
}

/* Windows of a person between now and the horizon, what is fixed cut out of them. */
static bool make_windows(struct order_inside *x, int q, struct arena *arena) {
    const struct timetable_problem *p = x->s->p;
    const struct hours *h = &x->s->hours[q];
    int cuts = 0, n = 0, near_n = (x->horizon >> NEAR_SHIFT) + 1;
    for (int i = 0; i < p->tasks_n; i++)
        cuts += p->tasks[i].state == TIMETABLE_FIXED && p->tasks[i].fixed_person == q;
    struct order_window *w = arena_array(arena, (size_t)(h->n + cuts + 1), sizeof *w);
    uint16_t *near = arena_array(arena, (size_t)near_n, sizeof *near);
    if (!w || !near) return false;
    for (int k = hours_window(h, x->now); k < h->n; k++) {
        struct order_window all = {order_moment(x, h->windows[k].from),
                                   order_moment(x, h->windows[k].to)};
        if (all.from >= x->horizon) break;
        if (all.to == MOMENT_FAR) all.to--; /* that is the last of all */
        w[n++] = all;
    }
    for (int i = 0; i < p->tasks_n; i++) {
        const struct timetable_task *t = &p->tasks[i];
        if (t->state != TIMETABLE_FIXED || t->fixed_person != q || t->fixed_end <= x->now) continue;
        int32_t from = order_moment(x, t->fixed_start), to = order_moment(x, t->fixed_end);
        for (int k = 0; k < n; k++) {
            if (w[k].to <= from || w[k].from >= to) continue;
            struct order_window rest = {to, w[k].to};
            w[k].to = from > w[k].from ? from : w[k].from;
            if (rest.from >= rest.to) continue;
            memmove(&w[k + 2], &w[k + 1], (size_t)(n - k - 1) * sizeof *w);
            w[++k] = rest;
            n++;
        }
    }
    w[n] = (struct order_window){MOMENT_FAR, INT32_MAX};
    make_near(w, n, near, near_n);
    x->persons[q] = (struct order_person){w, near};
    return true;
}

static bool make_shut(struct order_inside *x, int resource, struct arena *arena) {
    const struct timetable_resource *r = &x->s->p->resources[resource];
    int n = 0, near_n = (x->horizon >> NEAR_SHIFT) + 1;
    if (!r->shut_n) return true;
    struct order_window *w = arena_array(arena, (size_t)r->shut_n + 1, sizeof *w);
    uint16_t *near = arena_array(arena, (size_t)near_n, sizeof *near);
    if (!w || !near) return false;
    for (int k = 0; k < r->shut_n; k++)
        if (r->shut[k].to > x->now && r->shut[k].from < x->now + x->horizon)
            w[n++] = (struct order_window){order_moment(x, r->shut[k].from),
                                           order_moment(x, r->shut[k].to)};
    w[n] = (struct order_window){MOMENT_FAR, INT32_MAX};
    make_near(w, n, near, near_n);
    x->shut[resource] = (struct order_shut){w, near};
    return true;
}

/* *out stays where it is: its table may be its own minutes. */
static void make_minutes(struct order_inside *x, const struct timetable_lag *l, int64_t minutes,
                         struct order_minutes *out, struct arena *arena, bool *no_memory) {
    *out = (struct order_minutes){.drying = lag_drying(x->s, l), .minutes = (int32_t)minutes};
    out->table = table_of(x, l->climate, minutes, arena, no_memory);
    if (out->table)
        out->mask = -1;
    else if (!out->drying && minutes >= 0 && minutes <= UINT16_MAX)
        out->few = (uint16_t)minutes, out->table = &out->few;
}

/* Moment from which a lag counts, of a task that is not in the order. */
static int64_t fixed_base(const struct order *o, const struct timetable_lag *l) {
    const struct order_place *from = &o->place[l->from];
    return lag_base(l, from->start, from->end);
}

/* What task i waits for: minima, then maxima. From what is not in the order both are moments. */
static void make_lags(const struct order *o, int i, int *lags, int *before, struct arena *arena,
                      bool *no_memory) {
    struct order_inside *x = o->inside;
    const struct shop *s = x->s;
    struct order_task *out = &x->tasks[i];
    out->wait = *lags;
    for (int k = s->lags_in.first[i]; k < s->lags_in.first[i + 1]; k++) {
        const struct timetable_lag *l = &s->p->lags[s->lags_in.item[k]];
        if (lag_orders(l) && shop_open(s, l->from)) x->before[(*before)++] = l->from;
        if (l->min_min == TIMETABLE_UNSAID) continue;
        if (o->at[l->from] >= 0) {
            struct order_lag *min = &x->lags[(*lags)++];
            *min = (struct order_lag){.from = l->from, .from_start = l->from_start};
            make_minutes(x, l, l->min_min, &min->lasts, arena, no_memory);
            continue;
        }
        int32_t dry = order_moment(x, lag_dry(s, l, fixed_base(o, l)));
        if (dry > out->earliest) out->earliest = dry;
    }
    out->max = *lags;
    for (int k = s->lags_in.first[i]; k < s->lags_in.first[i + 1]; k++) {
        const struct timetable_lag *l = &s->p->lags[s->lags_in.item[k]];
        if (l->max_min == TIMETABLE_UNSAID) continue;
        struct order_lag *max = &x->lags[(*lags)++];
        *max = (struct order_lag){.from = TIMETABLE_NONE, .scuff = l->scuff_min};
        if (o->at[l->from] >= 0) {
            max->from = l->from;
            max->from_start = l->from_start;
            make_minutes(x, l, l->max_min, &max->lasts, arena, no_memory);
        } else {
            max->lasts.minutes = order_moment(x, lag_latest(s, l, fixed_base(o, l)));
        }
    }
    out->max_past = *lags;
}

static void make_holds(const struct order *o, int i, int *holds, int *before, struct arena *arena,
                       bool *no_memory) {
    struct order_inside *x = o->inside;
    const struct shop *s = x->s;
    x->tasks[i].hold = *holds;
    for (int k = s->holds_at.first[i]; k < s->holds_at.first[i + 1]; k++) {
        int number = s->holds_at.item[k] / 2;
        const struct timetable_hold *h = &s->p->holds[number];
        struct order_hold *hold = &x->holds[(*holds)++];
        *hold = (struct order_hold){.hold = (int16_t)number,
                                    .room_at = x->room_at[h->resource],
                                    .opens = h->first == i,
                                    .ends = h->last == i,
                                    .closed = o->at[h->last] >= 0,
                                    .amount = h->amount};
        if (h->until_lag >= 0) {
            const struct timetable_lag *l = &s->p->lags[h->until_lag];
            make_minutes(x, l, l->min_min, &hold->lasts, arena, no_memory);
            hold->from_start = l->from_start;
        }
        if (hold->ends && !hold->opens && shop_open(s, h->first)) x->before[(*before)++] = h->first;
        if (hold->ends && hold->opens && h->amount > 0 && x->shut[h->resource].spans) {
            x->tasks[i].shut = &x->shut[h->resource];
            x->tasks[i].shut_hold = *holds - 1;
        }
    }
    x->tasks[i].hold_past = *holds;
}

static void make_task(const struct order *o, int i, const double *room) {
    struct order_inside *x = o->inside;
    const struct timetable_problem *p = x->s->p;
    const struct timetable_task *t = &p->tasks[i];
    struct order_task *out = &x->tasks[i];
    double persons = p->persons_n ? p->persons_n : 1;
    *out = (struct order_task){
        .earliest = order_moment(x, x->s->earliest[i]),
        .due = t->due == TIMETABLE_UNSAID ? INT32_MAX : order_moment(x, t->due),
        .work = t->work_min,
        .latest = MOMENT_FAR,
        .late = exact(x->weights.late * t->weight),
        .room = exact(x->weights.room_start * room[i] / persons),
        .row = (int16_t)t->setup,
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
}

/* Tasks that a lag from task i leads to. */
static void make_after(const struct order *o, int i, int *after) {
    struct order_inside *x = o->inside;
    const struct shop *s = x->s;
    x->after_first[i] = *after;
    for (int k = s->lags_out.first[i]; k < s->lags_out.first[i + 1]; k++) {
        int to = s->p->lags[s->lags_out.item[k]].to;
        if (o->at[to] >= 0) x->after[(*after)++] = to;
    }
}

static enum status make_tasks(const struct order *o, const double *room, struct arena *arena) {
    struct order_inside *x = o->inside;
    const struct timetable_problem *p = x->s->p;
    size_t n = (size_t)p->tasks_n + 1, lags_n = (size_t)p->lags_n, holds_n = (size_t)p->holds_n;
    int lags = 0, holds = 0, before = 0, after = 0;
    bool no_memory = false;
    x->tasks = arena_array(arena, n, sizeof *x->tasks);
    x->lags = arena_array(arena, 2 * lags_n + 1, sizeof *x->lags);
    x->holds = arena_array(arena, 2 * holds_n + 1, sizeof *x->holds);
    x->before_first = arena_array(arena, n, sizeof *x->before_first);
    x->before = arena_array(arena, lags_n + holds_n + 1, sizeof *x->before);
    x->after_first = arena_array(arena, n, sizeof *x->after_first);
    x->after = arena_array(arena, lags_n + 1, sizeof *x->after);
    if (!x->tasks || !x->lags || !x->holds || !x->before_first || !x->before || !x->after_first ||
        !x->after)
        return E_MEMORY;
    for (int i = 0; i < p->tasks_n; i++) {
        make_task(o, i, room);
        x->before_first[i] = before;
        make_lags(o, i, &lags, &before, arena, &no_memory);
        make_holds(o, i, &holds, &before, arena, &no_memory);
        make_after(o, i, &after);
    }
    x->before_first[p->tasks_n] = before;
    x->after_first[p->tasks_n] = after;
    return no_memory ? E_MEMORY : OK;
}

/* Until when a hold lasts whose last task is fixed. */
static int64_t fixed_until(const struct order *o, const struct timetable_hold *h) {
    int64_t end = o->place[h->last].end;
    if (h->until_lag < 0) return end;
    const struct timetable_lag *l = &o->shop->p->lags[h->until_lag];
    int64_t dry = lag_dry(o->shop, l, fixed_base(o, l));
    return dry > end ? dry : end;
}

/* Before all: nobody busy, no tool wet, and what is fixed takes its room. */
static void make_first(const struct order *o) {
    struct order_inside *x = o->inside;
    const struct timetable_problem *p = x->s->p;
    char *first = x->kept[0];
    for (int q = 0; q < p->persons_n; q++) {
        persons_of(first)[q] = (struct person_state){0, TIMETABLE_NONE};
        for (int row = 0; row < p->setups_n; row++)
            *wet_of(x, first, q, row) = (struct wet_state){-WET_MOST, 0};
    }
    for (int k = 0; k < p->resources_n; k++) {
        struct room_state *r = (struct room_state *)(first + x->room_at[k]);
        r->most = parts_most(&p->resources[k]);
        if (r->most > 0) part_add(r, (struct room_part){0, p->resources[k].capacity});
    }
    for (int i = 0; i < p->tasks_n; i++)
        for (int k = x->s->holds_at.first[i]; k < x->s->holds_at.first[i + 1]; k++) {
            int number = x->s->holds_at.item[k] / 2;
            const struct timetable_hold *h = &p->holds[number];
            if (p->tasks[i].state != TIMETABLE_FIXED || h->first != i) continue;
            struct room_part part = {ROOM_NEVER + number, h->amount};
            if (o->at[h->last] < 0) {
                if (p->tasks[h->last].state != TIMETABLE_FIXED) continue;
                part.from = order_moment(x, fixed_until(o, h));
            }
            if (part.from > 0)
                room_take((struct room_state *)(first + x->room_at[h->resource]), 0, part);
        }
}

/* Where the parts of a state lie in it, and before how many tasks one is kept. */
static enum status make_state(struct order_inside *x, size_t n, struct arena *arena) {
    const struct timetable_problem *p = x->s->p;
    size_t persons = (size_t)p->persons_n;
    x->room_at = arena_array(arena, (size_t)p->resources_n + 1, sizeof *x->room_at);
    if (!x->room_at) return E_MEMORY;
    x->wet_at = persons * sizeof(struct person_state);
    size_t at = x->wet_at + persons * (size_t)p->setups_n * sizeof(struct wet_state);
    x->rooms_at = at;
    for (int k = 0; k < p->resources_n; k++) {
        x->room_at[k] = at;
        at += sizeof(struct room_state) +
              (size_t)parts_most(&p->resources[k]) * sizeof(struct room_part);
    }
    x->state_size = at;
    while (2 * (n >> x->stride) * at > STATES_MOST) x->stride++;
    size_t states = (n >> x->stride) + 2;
    x->state = arena_take(arena, at + 1);
    x->kept = arena_array(arena, states, sizeof *x->kept);
    x->tried = arena_array(arena, states, sizeof *x->tried);
    char *kept = arena_array(arena, states, at + 1), *tried = arena_array(arena, states, at + 1);
    if (!x->state || !x->kept || !x->tried || !kept || !tried) return E_MEMORY;
    for (size_t k = 0; k < states; k++) x->kept[k] = kept + k * at, x->tried[k] = tried + k * at;
    return OK;
}

enum status order_make(struct order *o, const struct shop *shop, int64_t horizon,
                       const double *room, const struct order_weights *weights,
                       struct arena *arena) {
    const struct timetable_problem *p = shop->p;
    size_t n = (size_t)p->tasks_n + 1, rows_n = (size_t)p->setups_n + 1;
    if (horizon - p->now > HORIZON_MOST) return E_TOO_LARGE;
    struct order_inside *x = arena_take(arena, sizeof *x);
    if (!x) return E_MEMORY;
    *o = (struct order){.shop = shop, .inside = x};
    x->s = shop;
    x->now = p->now;
    x->horizon = horizon > p->now ? (int32_t)(horizon - p->now) : 1;
    x->persons_n = p->persons_n;
    o->task = arena_array(arena, n, sizeof *o->task);
    o->at = arena_array(arena, n, sizeof *o->at);
    o->place = arena_array(arena, n, sizeof *o->place);
    o->goes_on = arena_array(arena, n, sizeof *o->goes_on);
    x->worked = arena_array(arena, (size_t)x->horizon, sizeof *x->worked);
    x->persons = arena_array(arena, (size_t)p->persons_n + 1, sizeof *x->persons);
    x->cleanup = arena_array(arena, rows_n, sizeof *x->cleanup);
    x->keep_wet = arena_array(arena, rows_n, sizeof *x->keep_wet);
    x->spots = arena_array(arena, n, sizeof *x->spots);
    x->rows = arena_array(arena, n + WITHIN + AHEAD, sizeof *x->rows);
    x->kept_energy = arena_array(arena, n, sizeof *x->kept_energy);
    x->tried_energy = arena_array(arena, n, sizeof *x->tried_energy);
    x->kept_asked = arena_array(arena, n, sizeof *x->kept_asked);
    x->tried_asked = arena_array(arena, n, sizeof *x->tried_asked);
    x->stale = arena_array(arena, n / 64 + 1, sizeof *x->stale);
    x->done = arena_array(arena, n, sizeof *x->done);
    x->spot_was = arena_array(arena, n, sizeof *x->spot_was);
    x->task_was = arena_array(arena, n, sizeof *x->task_was);
    x->given = arena_array(arena, n, sizeof *x->given);
    x->stack = arena_array(arena, n, sizeof *x->stack);
    x->mended = arena_array(arena, n, sizeof *x->mended);
    x->shut = arena_array(arena, (size_t)p->resources_n + 1, sizeof *x->shut);
    if (!o->task || !o->at || !o->place || !o->goes_on || !x->worked || !x->persons ||
        !x->cleanup || !x->keep_wet || !x->spots || !x->rows || !x->kept_energy ||
        !x->tried_energy || !x->kept_asked || !x->tried_asked || !x->stale || !x->done ||
        !x->spot_was || !x->task_was || !x->given || !x->stack || !x->mended || !x->shut ||
        make_state(x, n, arena))
        return E_MEMORY;
    for (int q = 0; q < p->persons_n; q++)
        if (!make_windows(x, q, arena)) return E_MEMORY;
    for (int r = 0; r < p->resources_n; r++)
        if (!make_shut(x, r, arena)) return E_MEMORY;
    int64_t before = all_worked(shop, x->now);
    for (int32_t t = 0; t < x->horizon; t++)
        x->worked[t] = (int32_t)(all_worked(shop, x->now + t) - before);
    for (int row = 0; row < p->setups_n; row++) {
        x->cleanup[row] = p->setups[row].cleanup_min;
        x->keep_wet[row] = p->setups[row].keep_wet_min;
    }
    for (int i = 0; i < p->tasks_n; i++) {
        const struct timetable_task *t = &p->tasks[i];
        o->place[i] =
            (struct order_place){t->fixed_start, t->fixed_end, TIMETABLE_NOBODY, TIMETABLE_NONE};
        o->at[i] = shop_open(shop, i) ? o->n++ : -1;
    }
    for (size_t k = 0; k < n + WITHIN + AHEAD; k++) x->rows[k] = TIMETABLE_NONE;
    x->rows += WITHIN;
    make_weights(o, weights);
    enum status st = make_tasks(o, room, arena);
    if (!st) make_first(o);
    return st;
}
