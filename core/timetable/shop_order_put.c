#include "core/timetable/shop_order_inside.h"

#include <math.h>

enum { PATIENCE = 40 }; /* minutes that a task may end later to go on with a wet tool */

static int32_t later(int32_t a, int32_t b) {
    return a > b ? a : b;
}

static double worked_at(const struct order_inside *x, int32_t t) {
    return x->worked[t < x->horizon ? t : x->horizon - 1];
}

/* Books the holds that a task opens, ends those that it closes. */
static void hold(struct order_inside *x, const struct order_task *task,
                 const struct order_spot *spot) {
    for (int k = task->hold; k < task->hold_past; k++) {
        const struct order_hold *h = &x->holds[k];
        struct room_state *r = (struct room_state *)(x->state + h->room_at);
        struct room_part part = {ROOM_NEVER + h->hold, h->amount};
        if (h->ends) {
            int32_t base = h->from_start ? spot->start : spot->end;
            part.from = later(spot->end, order_after(x, &h->lasts, base));
        }
        if (!h->opens)
            room_end(r, h->hold, part.from);
        else if (h->ends || h->closed)
            room_take(r, spot->start, part);
    }
}

/* Earliest start of a task at place k of the order, by dates, lags and room. */
static int32_t ready(const struct order_inside *x, const struct order *o, int k,
                     const struct order_task *task) {
    int32_t t = task->earliest;
    for (int a = task->wait; a < task->max; a++) {
        const struct order_lag *l = &x->lags[a];
        const struct order_spot *from = &x->spots[l->from];
        if (o->at[l->from] < k)
            t = later(t, order_after(x, &l->lasts, l->from_start ? from->start : from->end));
    }
    for (int a = task->hold; a < task->hold_past; a++) {
        const struct order_hold *h = &x->holds[a];
        if (h->opens) t = room_from((struct room_state *)(x->state + h->room_at), t, h->amount);
    }
    return t;
}

/* Maxima of lags to a task if it started then: minutes of scuffing, and how far beyond those that
 * must not be missed. */
static int32_t scuff_at(const struct order_inside *x, const struct order *o, int k,
                        const struct order_task *task, int32_t start, int64_t *out_missed) {
    int64_t scuff = 0;
    *out_missed = 0;
    for (int a = task->max; a < task->max_past; a++) {
        const struct order_lag *l = &x->lags[a];
        int32_t latest = l->lasts.minutes;
        if (l->from >= 0) {
            const struct order_spot *from = &x->spots[l->from];
            if (o->at[l->from] >= k) continue;
            latest = order_after(x, &l->lasts, l->from_start ? from->start : from->end);
        }
        if (start <= latest) continue;
        if (l->scuff < 0)
            *out_missed += start - latest;
        else
            scuff += l->scuff;
    }
    return scuff < MOMENT_FAR ? (int32_t)scuff : MOMENT_FAR;
}

/* Is the tool of this row left wet at k, since the next of the row, near in the order, goes on
 * with it? */
static bool left_wet(struct order_inside *x, const struct order *o, int k, int32_t row) {
    int j = k + 1;
    while (j < k + AHEAD && x->rows[j] != row) j++;
    if (j > x->look) x->look = j;
    return x->rows[j] == row && o->goes_on[o->task[j]];
}

struct choice {
    struct order_spot spot;
    int32_t block_from;
    int64_t missed;
    bool cleaned; /* what was pending */
};

/* The soonest of a task with person q, not before t; follows: going on with the wet tool of that
 * person. owes: the tool that it was to go on with is this person's, so that it was not cleaned up.
 * false: not by the horizon, or the tool dries before. */
static bool soonest(struct order_inside *x, const struct order *o, int k,
                    const struct order_task *task, int q, bool owes, int32_t t, bool follows,
                    struct choice *out) {
    const struct person_state *person = &persons_of(x->state)[q];
    int32_t free = person->free, setup = follows ? 0 : task->setup;
    int32_t pending = person->pending;
    bool same = pending == task->row;
    bool cleans = pending != TIMETABLE_NONE && (same ? !follows : !left_wet(x, o, k, pending));
    if (cleans) free += x->cleanup[pending];
    if (owes && !follows && !same) free += task->cleanup;
    int32_t block = later(t - setup, free);
    if (block >= x->horizon) return false;
    int32_t from, start, hands = task->work;
    int64_t missed = 0;
    const struct order_window *w = &x->persons[q].windows[x->persons[q].near[block >> NEAR_SHIFT]];
    for (;; w++) {
        if (w->to <= block) continue;
        from = later(block, w->from);
        start = later(from + setup, t);
        if (task->max < task->max_past)
            hands = task->work + scuff_at(x, o, k, task, start, &missed);
        if (task->pausable || start + hands + task->cleanup <= w->to) break;
    }
    int32_t end = start + hands, before = TIMETABLE_NONE;
    if (follows) {
        const struct wet_state *wet = wet_of(x, x->state, q, task->row);
        if (start > wet->end + task->keep_wet) return false;
        before = wet->task;
    }
    for (; end > w->to; w++) end += w[1].from - w->to; /* it pauses */
    *out = (struct choice){{start, end, q, before}, from, missed, cleans};
    return w->to < MOMENT_FAR;
}

static bool with_person(struct order_inside *x, const struct order *o, int k,
                        const struct order_task *task, int q, bool owes, int32_t t,
                        struct choice *out) {
    if (task->keep_wet) {
        int32_t dries = wet_of(x, x->state, q, task->row)->end + task->keep_wet;
        if (later(t, persons_of(x->state)[q].free) <= dries &&
            soonest(x, o, k, task, q, owes, t, true, out))
            return true;
    }
    return soonest(x, o, k, task, q, owes, t, false, out);
}

/* Whose tool a task, k-th of the order, is to go on with; TIMETABLE_ANYBODY: nobody's. */
static int wet_by(const struct order_inside *x, const struct order *o, int k, int row) {
    if (row < 0) return TIMETABLE_ANYBODY;
    int j = k - 1;
    while (j > k - WITHIN && x->rows[j] != row) j--;
    return x->rows[j] == row ? x->spots[o->task[j]].person : TIMETABLE_ANYBODY;
}

/* The person with whom it ends first, one who goes on with a wet tool a little later; false: none
 * by the horizon. */
static bool choose(struct order_inside *x, const struct order *o, int k,
                   const struct order_task *task, int only, int32_t t, struct choice *best) {
    struct choice other;
    bool found = false;
    int32_t sooner = 0; /* than what was found */
    for (int q = 0; q < x->persons_n; q++) {
        if (!(task->people >> q & 1) || (only >= 0 && only != q)) continue;
        int32_t end = later(t, persons_of(x->state)[q].free) + task->work;
        if (found && end - (task->keep_wet ? PATIENCE : 0) >= sooner) continue; /* it cannot be */
        if (!with_person(x, o, k, task, q, only == q, t, &other)) continue;
        end = other.spot.end - (other.spot.follows >= 0 ? PATIENCE : 0);
        if (found && end >= sooner) continue;
        *best = other;
        sooner = end;
        found = true;
    }
    return found;
}

double order_put(struct order *o, int k, int i) {
    struct order_inside *x = o->inside;
    const struct order_task *task = &x->tasks[i];
    int32_t t = ready(x, o, k, task);
    if (t >= x->horizon) return INFINITY;
    struct choice best;
    double sum = 0;
    if (task->clock) {
        best.missed = 0;
        int32_t scuff = task->max < task->max_past ? scuff_at(x, o, k, task, t, &best.missed) : 0;
        best.spot =
            (struct order_spot){t, t + task->work + scuff, TIMETABLE_NOBODY, TIMETABLE_NONE};
    } else {
        int only = o->goes_on[i] ? wet_by(x, o, k, task->row) : TIMETABLE_ANYBODY;
        if (!choose(x, o, k, task, only, t, &best)) return INFINITY;
        if (only >= 0 && best.spot.follows < 0) sum += x->weights.broken;
        struct person_state *person = &persons_of(x->state)[best.spot.person];
        if (best.block_from - person->free > x->s->p->sitting_gap_min) sum += x->weights.sitting;
        if (best.cleaned) person->pending = TIMETABLE_NONE;
        person->free = best.spot.end;
        if (task->row >= 0) {
            person->pending = task->row;
            *wet_of(x, x->state, best.spot.person, task->row) =
                (struct wet_state){best.spot.end, i};
        }
    }
    x->spots[i] = best.spot;
    hold(x, task, &best.spot);
    double beyond = worked_at(x, best.spot.end) - task->latest;
    if (beyond > 0) sum += x->per_beyond * beyond;
    if (best.spot.end > task->due) sum += task->late * (double)(best.spot.end - task->due);
    if (best.missed) sum += x->weights.late * (double)best.missed;
    if (task->room > 0) sum += task->room * worked_at(x, best.spot.start);
    return sum + x->per_mean_end * (double)best.spot.end;
}
