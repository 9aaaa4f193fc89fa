#include "core/timetable/shop_order_inside.h"

#include <math.h>

enum { PATIENCE = 40 }; /* minutes that a task may end later to go on with a wet tool */

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

static int64_t base_of(const struct order_lag *l, const struct order_place *from) {
    return l->from_start ? from->start : from->end;
}

int64_t order_hold_until(const struct order_inside *x, const struct order_hold *h,
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
            room_take(r, place->start,
                      (struct room_part){order_hold_until(x, h, place), h->amount, 0});
        else if (h->ends)
            room_end(r, h->hold, order_hold_until(x, h, place));
        else if (o->at[h->last] >= 0)
            room_take(r, place->start, (struct room_part){ROOM_NEVER, h->amount, h->hold});
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

double order_put(struct order *o, int k, int i) {
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
