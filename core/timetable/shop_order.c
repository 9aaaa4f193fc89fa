#include "core/timetable/shop_order.h"

#include "core/timetable/deadline.h"

#include <float.h>
#include <math.h>
#include <string.h>

enum {
    STRIDE = 8,               /* places in the order from one kept state to the next */
    AHEAD = 6,                /* a tool is left wet for one of its row so near in the order */
    WITHIN = 12,              /* a task goes on with one of its row so near before it */
    PATIENCE = 40,            /* minutes that a task may end later to go on with a wet tool */
    HORIZON_MOST = 90 * 1440, /* minutes */
    TABLES_MOST = 12,         /* of drying times; others are reckoned each time */
    PARTS_MOST = 24,          /* of a resource, that become free at different times */
    NEAR_SHIFT = 6,           /* windows are looked up by 64 minutes */
};
#define NEVER INT64_MAX

/* A lag to a task, or a drying time, with the tables that say how long its minimum and its maximum
 * take. */
struct order_lag {
    const struct timetable_lag *lag;
    int from, table, max_table; /* tables TIMETABLE_NONE: reckon */
    bool minimum, from_start;
};

/* A hold that a task opens, ends, or both. */
struct order_hold {
    int hold, resource, last;
    bool opens, ends;
    int64_t amount;
    struct order_lag until; /* lag NULL: until the end of the work */
};

/* What is needed of a task each time it is put, side by side. */
struct order_task {
    int64_t earliest, due, work;
    int64_t setup, cleanup, keep_wet; /* minutes; 0 without a row */
    double late, room; /* energy of a minute late, of a working minute at the start */
    int row;           /* of setups; TIMETABLE_NONE */
    int lag, lag_past, hold, hold_past;
    uint32_t people;              /* bits of those who may */
    bool pausable, clock, maxima; /* clock: takes nobody's time */
};

/* State between two tasks of an order: person_state of each person, then wet_state of each person
 * and row of set-ups, then room_state of each resource, in one block so that two can be compared.
 */
struct person_state {
    int64_t free;    /* works until then */
    int64_t pending; /* row of set-ups that is to be cleaned up before others; TIMETABLE_NONE */
};
struct wet_state { /* the last task of this person and row */
    int64_t end;   /* INT64_MIN: none */
    int64_t task;
};
struct room_part { /* so much is free from then on */
    int64_t from;  /* NEVER: until `hold` has ended */
    int64_t amount, hold;
};
struct room_state {
    int64_t n;
    struct room_part part[PARTS_MOST]; /* by from; zero beyond n */
};

struct order_inside {
    const struct shop *s;
    struct order_weights weights;
    int64_t now, horizon;
    int32_t *worked;             /* [horizon - now] of all, since now */
    int32_t *dries[TABLES_MOST]; /* [horizon - now] minutes, begun then */
    struct {
        int climate;
        int64_t minutes;
    } dries_as[TABLES_MOST];
    int tables_n;
    struct order_task *tasks; /* [tasks_n] */
    struct order_lag *lags;   /* minima and maxima to each task */
    struct order_hold *holds;
    int *before_first, *before; /* [tasks_n + 1]; tasks that must come earlier in the order */
    double per_beyond, per_mean_end;
    int64_t *latest;                 /* [tasks_n] working minutes since now */
    struct timetable_span **windows; /* [persons_n] without what is fixed in them */
    int *windows_n;
    uint16_t **near; /* [persons_n][horizon >> NEAR_SHIFT] first window that ends after */
    size_t state_size, wet_at, room_at;
    char *first, *state;                /* before all tasks; the one in hand */
    char *kept, *tried;                 /* every STRIDE tasks, of what stands and of a try */
    double *kept_energy, *tried_energy; /* of all before */
    struct order_place *place_was;      /* [n] in the order of a try */
    int *task_was;                      /* [n] */
    int *given, *stack;                 /* [n] for order_mend */
    bool *mended;                       /* [tasks_n] */
};

/* ---- what is prepared ---- */

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
        .due = t->due == TIMETABLE_UNSAID ? NEVER : t->due,
        .work = t->work_min,
        .late = x->weights.late * t->weight,
        .room = x->weights.room_start * room[i] / persons,
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

/* When the minimum of a lag that counts from `base` has passed. */
static int64_t dry_at(const struct order_inside *x, const struct order_lag *l, int64_t base) {
    if (l->table >= 0 && base >= x->now && base < x->horizon)
        return base + x->dries[l->table][base - x->now];
    return lag_dry(x->s, l->lag, base);
}

static int64_t latest_at(const struct order_inside *x, const struct order_lag *l, int64_t base) {
    if (l->max_table >= 0 && base >= x->now && base < x->horizon)
        return base + x->dries[l->max_table][base - x->now];
    return lag_latest(x->s, l->lag, base);
}

static int64_t worked_at(const struct order_inside *x, int64_t t) {
    return t <= x->now ? 0 : x->worked[(t < x->horizon ? t : x->horizon - 1) - x->now];
}

/* ---- states ---- */

static struct person_state *persons_of(char *state) {
    return (struct person_state *)state;
}
static struct wet_state *wet_of(const struct order_inside *x, char *state, int q, int row) {
    return (struct wet_state *)(state + x->wet_at) + q * x->s->p->setups_n + row;
}
static struct room_state *room_of(const struct order_inside *x, char *state, int resource) {
    return (struct room_state *)(state + x->room_at) + resource;
}

/* Earliest moment from `t` with so much free; NEVER: not before a hold has ended. */
static int64_t room_from(const struct room_state *r, int64_t t, int64_t amount) {
    for (int k = 0; k < r->n; k++) {
        if (amount <= 0) break;
        if (r->part[k].from > t) t = r->part[k].from;
        amount -= r->part[k].amount;
    }
    return amount > 0 ? NEVER : t;
}

static void part_remove(struct room_state *r, int k) {
    r->n--;
    memmove(&r->part[k], &r->part[k + 1], (size_t)(r->n - k) * sizeof *r->part);
    r->part[r->n] = (struct room_part){0, 0, 0};
}

static void part_add(struct room_state *r, struct room_part part) {
    if (r->n == PARTS_MOST) { /* the two that are free first count as free with the later one */
        r->part[1].amount += r->part[0].amount;
        part_remove(r, 0);
    }
    int k = (int)r->n++;
    for (; k > 0 && r->part[k - 1].from > part.from; k--) r->part[k] = r->part[k - 1];
    r->part[k] = part;
}

/* Takes what was free last before t. */
static void room_take(struct room_state *r, int64_t t, struct room_part part) {
    int64_t left = part.amount;
    for (int k = (int)r->n; k-- > 0 && left > 0;) {
        struct room_part *at = &r->part[k];
        if (at->from > t) continue;
        int64_t taken = at->amount < left ? at->amount : left;
        at->amount -= taken;
        left -= taken;
        if (!at->amount) part_remove(r, k);
    }
    part.amount -= left; /* what is fixed may overlap */
    if (part.amount > 0) part_add(r, part);
}

static void room_end(struct room_state *r, int64_t hold, int64_t until) {
    for (int k = (int)r->n; k-- > 0;) {
        if (r->part[k].from != NEVER || r->part[k].hold != hold) continue;
        struct room_part part = {until, r->part[k].amount, 0};
        part_remove(r, k);
        part_add(r, part);
    }
}

/* ---- one task ---- */

static int64_t base_of(const struct order_lag *l, const struct order_place *from) {
    return l->from_start ? from->start : from->end;
}

/* Until when a hold lasts whose last task stands there. */
static int64_t hold_until(const struct order_inside *x, const struct order_hold *h,
                          const struct order_place *last) {
    int64_t dry = h->until.lag ? dry_at(x, &h->until, base_of(&h->until, last)) : last->end;
    return dry > last->end ? dry : last->end;
}

/* Books the holds that a task opens, ends those that it closes. */
static void hold(struct order_inside *x, const struct order *o, const struct order_task *task,
                 const struct order_place *place) {
    for (int k = task->hold; k < task->hold_past; k++) {
        const struct order_hold *h = &x->holds[k];
        struct room_state *r = room_of(x, x->state, h->resource);
        if (h->ends && h->opens)
            room_take(r, place->start, (struct room_part){hold_until(x, h, place), h->amount, 0});
        else if (h->ends)
            room_end(r, h->hold, hold_until(x, h, place));
        else if (o->at[h->last] >= 0)
            room_take(r, place->start, (struct room_part){NEVER, h->amount, h->hold});
    }
}

/* Earliest start of a task at place k of the order, by dates, lags and room. */
static int64_t ready(struct order_inside *x, const struct order *o, int k,
                     const struct order_task *task) {
    int64_t t = task->earliest;
    for (int a = task->lag; a < task->lag_past; a++) {
        const struct order_lag *l = &x->lags[a];
        if (!l->minimum || o->at[l->from] >= k) continue;
        int64_t dry = dry_at(x, l, base_of(l, &o->place[l->from]));
        if (dry > t) t = dry;
    }
    for (int a = task->hold; a < task->hold_past; a++) {
        const struct order_hold *h = &x->holds[a];
        if (h->opens) t = room_from(room_of(x, x->state, h->resource), t, h->amount);
    }
    return t;
}

/* Maxima of lags to a task if it started then: minutes of scuffing, and how far beyond those that
 * must not be missed. */
static int64_t scuff_at(const struct order_inside *x, const struct order *o, int k,
                        const struct order_task *task, int64_t start, int64_t *out_missed) {
    int64_t scuff = 0;
    *out_missed = 0;
    for (int a = task->lag; a < task->lag_past; a++) {
        const struct timetable_lag *l = x->lags[a].lag;
        if (l->max_min == TIMETABLE_UNSAID || o->at[l->from] >= k) continue;
        int64_t latest = latest_at(x, &x->lags[a], base_of(&x->lags[a], &o->place[l->from]));
        if (start <= latest) continue;
        if (l->scuff_min < 0)
            *out_missed += start - latest;
        else
            scuff += l->scuff_min;
    }
    return scuff;
}

/* Is the tool of this row left wet at k, since the next of the row, near in the order, goes on
 * with it? */
static bool left_wet(const struct order_inside *x, const struct order *o, int k, int64_t row) {
    for (int j = k + 1; j <= k + AHEAD && j < o->n; j++)
        if (x->tasks[o->task[j]].row == row) return o->goes_on[o->task[j]];
    return false;
}

struct choice {
    struct order_place place;
    int64_t block_from, missed;
    bool cleaned; /* what was pending */
};

/* A task with person q, not before t; false: not by the horizon. owes: the tool that it was to go
 * on with is this person's, so that it was not cleaned up. */
static bool with_person(struct order_inside *x, const struct order *o, int k,
                        const struct order_task *task, int q, bool owes, int64_t t,
                        struct choice *out) {
    const struct person_state *person = &persons_of(x->state)[q];
    const struct wet_state *wet = task->row >= 0 ? wet_of(x, x->state, q, task->row) : NULL;
    const struct timetable_span *windows = x->windows[q];
    bool follows = task->keep_wet && wet->end != INT64_MIN;
    for (;; follows = false) {
        int64_t free = person->free, setup = follows ? 0 : task->setup;
        bool same = wet && person->pending == task->row;
        bool cleans = person->pending != TIMETABLE_NONE &&
                      (same ? !follows : !left_wet(x, o, k, person->pending));
        if (cleans) free += x->s->p->setups[person->pending].cleanup_min;
        if (owes && !follows && !same) free += task->cleanup;
        int64_t block = t - setup > free ? t - setup : free;
        if (block >= x->horizon) return false;
        int64_t from, start, hands = task->work, missed = 0;
        int w = x->near[q][(block - x->now) >> NEAR_SHIFT];
        for (;; w++) {
            if (w >= x->windows_n[q]) return false;
            if (windows[w].to <= block) continue;
            from = block > windows[w].from ? block : windows[w].from;
            start = from + setup > t ? from + setup : t;
            if (task->maxima) hands = task->work + scuff_at(x, o, k, task, start, &missed);
            if (task->pausable || start + hands + task->cleanup <= windows[w].to) break;
        }
        if (follows && start > wet->end + task->keep_wet) continue;
        int64_t end = start + hands;
        while (end > windows[w].to) { /* it pauses */
            if (++w == x->windows_n[q]) return false;
            end += windows[w].from - windows[w - 1].to;
        }
        int before = follows ? (int)wet->task : TIMETABLE_NONE;
        *out = (struct choice){{start, end, q, before}, from, missed, cleans};
        return true;
    }
}

/* Whose tool a task, k-th of the order, is to go on with; TIMETABLE_ANYBODY: nobody's. */
static int wet_by(const struct order_inside *x, const struct order *o, int k, int row) {
    for (int j = k - 1; row >= 0 && j >= 0 && j >= k - WITHIN; j--)
        if (x->tasks[o->task[j]].row == row) return o->place[o->task[j]].person;
    return TIMETABLE_ANYBODY;
}

/* The person with whom it ends first, one who goes on with a wet tool a little later; false: none
 * by the horizon. */
static bool choose(struct order_inside *x, const struct order *o, int k,
                   const struct order_task *task, int only, int64_t t, struct choice *best) {
    struct choice other;
    bool found = false;
    for (int q = 0; q < x->s->p->persons_n; q++) {
        if (!(task->people >> q & 1) || (only >= 0 && only != q)) continue;
        if (!with_person(x, o, k, task, q, only == q, t, &other)) continue;
        int64_t by = other.place.end - best->place.end;
        if (other.place.follows >= 0) by -= PATIENCE;
        if (best->place.follows >= 0) by += PATIENCE;
        if (!found || by < 0) *best = other;
        found = true;
    }
    return found;
}

/* Puts task i, k-th of the order; what it adds to the energy, INFINITY: no place. */
static double put(struct order *o, int k, int i) {
    struct order_inside *x = o->inside;
    const struct order_task *task = &x->tasks[i];
    int64_t t = ready(x, o, k, task);
    if (t >= x->horizon) return INFINITY;
    struct choice best = {.place.follows = TIMETABLE_NONE};
    double sum = 0;
    if (task->clock) {
        int64_t scuff = task->maxima ? scuff_at(x, o, k, task, t, &best.missed) : 0;
        best.place =
            (struct order_place){t, t + task->work + scuff, TIMETABLE_NOBODY, TIMETABLE_NONE};
    } else {
        int only = o->goes_on[i] ? wet_by(x, o, k, task->row) : TIMETABLE_ANYBODY;
        if (!choose(x, o, k, task, only, t, &best)) return INFINITY;
        if (only >= 0 && best.place.follows < 0) sum += x->weights.broken;
        struct person_state *person = &persons_of(x->state)[best.place.person];
        if (best.block_from - person->free > x->s->p->sitting_gap_min) sum += x->weights.sitting;
        if (best.cleaned) person->pending = TIMETABLE_NONE;
        person->free = best.place.end;
        if (task->row >= 0) {
            person->pending = task->row;
            *wet_of(x, x->state, best.place.person, task->row) =
                (struct wet_state){best.place.end, i};
        }
    }
    o->place[i] = best.place;
    hold(x, o, task, &best.place);
    int64_t beyond = worked_at(x, best.place.end) - x->latest[i];
    if (beyond > 0) sum += x->per_beyond * (double)beyond;
    if (best.place.end > task->due) sum += task->late * (double)(best.place.end - task->due);
    if (best.missed) sum += x->weights.late * (double)best.missed;
    if (task->room > 0) sum += task->room * (double)worked_at(x, best.place.start);
    return sum + x->per_mean_end * (double)(best.place.end - x->now);
}

/* ---- an order ---- */

static char *kept_at(const struct order_inside *x, int k) {
    return x->kept + (size_t)(k / STRIDE) * x->state_size;
}

static bool differs(const struct order_place *a, const struct order_place *b) {
    return a->start != b->start || a->end != b->end || a->person != b->person;
}

/* Last place in the order of what hangs on task i. */
static int reach_of(const struct order *o, int i) {
    const struct shop *s = o->shop;
    int reach = -1;
    for (int k = s->lags_out.first[i]; k < s->lags_out.first[i + 1]; k++) {
        int at = o->at[s->p->lags[s->lags_out.item[k]].to];
        if (at > reach) reach = at;
    }
    for (int k = s->holds_at.first[i]; k < s->holds_at.first[i + 1]; k++) {
        int at = o->at[s->p->holds[s->holds_at.item[k] / 2].last];
        if (at > reach) reach = at;
    }
    return reach;
}

/* The places of the order begin..k - 1 as before the try. */
static bool take_back(struct order *o, int begin, int k) {
    while (k-- > begin) o->place[o->task[k]] = o->inside->place_was[k];
    return false;
}

/* Evaluates the order, changed at lo..hi, in o->task; true: it stands. */
static bool evaluate(struct order *o, int lo, int hi, double most) {
    struct order_inside *x = o->inside;
    const size_t size = x->state_size;
    int begin = (lo > AHEAD ? lo - AHEAD : 0) / STRIDE * STRIDE, k = begin, reach = hi + WITHIN;
    double sum = x->kept_energy[begin], rest = 0, more = most - o->energy;
    memcpy(x->state, kept_at(x, begin), size);
    for (; k < o->n; k++) {
        if (k % STRIDE == 0 && k > begin) {
            if (k > reach && !memcmp(x->state, kept_at(x, k), size)) {
                rest = o->energy - x->kept_energy[k]; /* all is as it was from here */
                break;
            }
            memcpy(x->tried + (size_t)(k / STRIDE) * size, x->state, size);
        }
        /* what is worse by so much after the same tasks is hardly ever made good later */
        if (k > hi && sum - x->kept_energy[k] > more) return take_back(o, begin, k);
        x->tried_energy[k] = sum;
        int i = o->task[k];
        x->place_was[k] = o->place[i];
        sum += put(o, k, i);
        if (sum > most) return take_back(o, begin, k + 1);
        if (differs(&o->place[i], &x->place_was[k])) {
            int r = reach_of(o, i);
            if (r < k + WITHIN) r = k + WITHIN;
            if (r > reach) reach = r;
        }
    }
    if (sum + rest > most) return take_back(o, begin, k);
    size_t first = (size_t)(begin / STRIDE + 1), past = (size_t)((k + STRIDE - 1) / STRIDE);
    if (past > first)
        memcpy(x->kept + first * size, x->tried + first * size, (past - first) * size);
    memcpy(&x->kept_energy[begin], &x->tried_energy[begin],
           (size_t)(k - begin) * sizeof *x->kept_energy);
    more = sum + rest - o->energy;
    for (; k < o->n; k++) x->kept_energy[k] += more;
    o->energy = sum + rest;
    return true;
}

/* The whole order; nothing that was kept is like it. */
static void anew(struct order *o) {
    struct order_inside *x = o->inside;
    o->energy = INFINITY;
    memcpy(x->kept, x->first, x->state_size);
    x->kept_energy[0] = 0;
    for (int k = STRIDE; k < o->n; k += STRIDE) memset(kept_at(x, k), 0xff, x->state_size);
    if (o->n) evaluate(o, 0, o->n - 1, DBL_MAX);
}

void order_mend(struct order *o, int *tasks) {
    struct order_inside *x = o->inside;
    int *given = x->given, *stack = x->stack, out = 0;
    memcpy(given, tasks, (size_t)o->n * sizeof *given);
    for (int k = 0; k < o->n; k++) x->mended[given[k]] = false;
    for (int k = 0; k < o->n; k++)
        for (int deep = x->mended[given[k]] ? 0 : (stack[0] = given[k], 1); deep;) {
            int i = stack[deep - 1], first = TIMETABLE_NONE;
            for (int b = x->before_first[i]; b < x->before_first[i + 1] && first < 0; b++)
                if (!x->mended[x->before[b]]) first = x->before[b];
            if (first >= 0 && deep < o->n) {
                stack[deep++] = first;
                continue;
            }
            deep--;
            if (x->mended[i]) continue;
            x->mended[i] = true;
            tasks[out++] = i;
        }
}

void order_set(struct order *o, const double *rank) {
    int n = 0;
    for (int i = 0; i < o->shop->p->tasks_n; i++)
        if (shop_open(o->shop, i)) o->task[n++] = i;
    for (int gap = n / 2; gap > 0; gap /= 2) /* Shell sort by rank */
        for (int i = gap; i < n; i++) {
            int task = o->task[i], j = i;
            for (; j >= gap && rank[o->task[j - gap]] > rank[task]; j -= gap)
                o->task[j] = o->task[j - gap];
            o->task[j] = task;
        }
    order_mend(o, o->task);
    for (int k = 0; k < n; k++) o->at[o->task[k]] = k;
    anew(o);
}

void order_aim(struct order *o, const int64_t *latest) {
    struct order_inside *x = o->inside;
    int64_t before = all_worked(o->shop, x->now);
    for (int i = 0; i < o->shop->p->tasks_n; i++) x->latest[i] = latest[i] - before;
    anew(o);
}

bool order_before(const struct order *o, int a, int b) {
    const struct order_inside *x = o->inside;
    for (int k = x->before_first[b]; k < x->before_first[b + 1]; k++)
        if (x->before[k] == a) return true;
    return false;
}

bool order_try(struct order *o, int lo, int hi, const int *tasks, int turned, double most) {
    struct order_inside *x = o->inside;
    size_t size = (size_t)(hi - lo + 1) * sizeof *tasks;
    memcpy(x->task_was, &o->task[lo], size);
    memcpy(&o->task[lo], tasks, size);
    for (int k = lo; k <= hi; k++) o->at[o->task[k]] = k;
    if (turned >= 0) o->goes_on[turned] = !o->goes_on[turned];
    if (evaluate(o, lo, hi, most)) return true;
    if (turned >= 0) o->goes_on[turned] = !o->goes_on[turned];
    memcpy(&o->task[lo], x->task_was, size);
    for (int k = lo; k <= hi; k++) o->at[o->task[k]] = k;
    return false;
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
                room_take(r, x->now, (struct room_part){NEVER, h->amount, h->hold});
            } else if (p->tasks[h->last].state == TIMETABLE_FIXED) {
                int64_t until = hold_until(x, h, &o->place[h->last]);
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
    x->per_beyond = weights->beyond / (persons ? (double)persons : 1);
    x->per_mean_end = weights->mean_end / (o->n ? o->n : 1);
    enum status st = make_tasks(x, room, arena);
    if (!st) make_first(o);
    return st;
}
