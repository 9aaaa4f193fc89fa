#include "core/timetable/shop_order_inside.h"

#include <math.h>

enum { PATIENCE = 40 }; /* minutes that a task may end later to go on with a wet tool */

static int32_t larger(int32_t a, int32_t b) {
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
            part.from = larger(spot->end, order_after(x, &h->lasts, base));
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
            t = larger(t, order_after(x, &l->lasts, l->from_start ? from->start : from->end));
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

/* Whose tool a task, k-th of the order, is to go on with; TIMETABLE_ANYBODY: nobody's. */
static int wet_by(const struct order_inside *x, const struct order *o, int k, int row) {
    if (row < 0) return TIMETABLE_ANYBODY;
    int j = k - 1;
    while (j > k - WITHIN && x->rows[j] != row) j--;
    return x->rows[j] == row ? x->spots[o->task[j]].person : TIMETABLE_ANYBODY;
}

static bool asks_wet(struct order_inside *x, const struct order *o, int k, int q, int32_t row) {
    bool wet = order_left_wet(x, o, k, row);
    x->asked |= (uint32_t)(wet ? WET : DRY) << q;
    return wet;
}

/* How the person is chosen with whom a task ends first, one who goes on with a wet tool a little
 * later. The place is written where it belongs as soon as it is the best yet. */
struct choice {
    struct order_spot *spot; /* of the task */
    int32_t rank;            /* its end, less PATIENCE with a wet tool; MOMENT_FAR: none yet */
    int32_t block_from;
    int64_t missed;
    bool cleaned; /* what was pending */
};

/* When what a task holds opens again, if it would be shut before the hold is over; `start` itself:
 * it would not. */
static int32_t opens_again(const struct order_inside *x, const struct order_task *task,
                           int32_t start, int32_t end) {
    const struct order_hold *h = &x->holds[task->shut_hold];
    int32_t until = larger(end, order_after(x, &h->lasts, h->from_start ? start : end));
    const struct order_window *w = &task->shut->spans[task->shut->near[start >> NEAR_SHIFT]];
    while (w->to <= start) w++;
    return w->from < until ? w->to : start;
}

/* A task with person q, not before t. owes: the tool that it was to go on with is this person's, so
 * that it was not cleaned up. */
static void offer(struct order_inside *x, const struct order *o, int k,
                  const struct order_task *task, int q, bool owes, int32_t t, struct choice *best) {
    const struct person_state *person = &persons_of(x->state)[q];
    const int32_t pending = person->pending;
    const bool same = pending == task->row;
    int32_t dries = -1; /* the tool of the one that it may follow */
    if (task->keep_wet) dries = wet_of(x, x->state, q, task->row)->end + task->keep_wet;
    for (bool follows = dries >= larger(t, person->free);; follows = false) {
        int32_t free = person->free, setup = follows ? 0 : task->setup;
        bool cleans =
            pending != TIMETABLE_NONE && (same ? !follows : !asks_wet(x, o, k, q, pending));
        if (cleans) free += x->cleanup[pending];
        if (owes && !follows && !same) free += task->cleanup;
        int32_t block = larger(t - setup, free);
        if (block >= x->horizon) return;
        int32_t from, start, hands = task->work, open = t;
        int64_t missed = 0;
        const struct order_person *at = &x->persons[q];
        const struct order_window *w = &at->windows[at->near[block >> NEAR_SHIFT]];
        for (;;) {
            if (w->to <= block) {
                w++;
                continue;
            }
            from = larger(block, w->from);
            start = larger(from + setup, open);
            if (task->max < task->max_past)
                hands = task->work + scuff_at(x, o, k, task, start, &missed);
            if (!task->pausable && start + hands + task->cleanup > w->to) {
                w++;
                continue;
            }
            if (!task->shut) break;
            if (start >= x->horizon) return;
            open = opens_again(x, task, start, start + hands);
            if (open == start) break;
            block = larger(block, open - setup); /* perhaps in this window still */
        }
        if (follows && start > dries) continue;
        int32_t end = start + hands;
        for (; end > w->to; w++) end += w[1].from - w->to; /* it pauses */
        int32_t rank = follows ? end - PATIENCE : end;
        bool better = rank < best->rank || (rank == best->rank && q < best->spot->person);
        if (!better || w->from >= MOMENT_FAR) return;
        best->rank = rank;
        best->block_from = from;
        best->missed = missed;
        best->cleaned = cleans;
        best->spot->start = start;
        best->spot->end = end;
        best->spot->person = q;
        best->spot->follows =
            follows ? (int)wet_of(x, x->state, q, task->row)->task : TIMETABLE_NONE;
        return;
    }
}

/* Rank of a task with person q at the least. */
static int32_t rank_least(const struct order_inside *x, const struct order_task *task, int q,
                          int32_t t) {
    const struct person_state *person = &persons_of(x->state)[q];
    int32_t free = person->free, begin = larger(t, free);
    if (task->keep_wet && wet_of(x, x->state, q, task->row)->end + task->keep_wet >= begin)
        return begin + task->work - PATIENCE;
    if (person->pending == task->row) free += task->cleanup; /* of the tool that has dried */
    return larger(t, free + task->setup) + task->work;
}

/* The person of the least rank, the first of those; who promises most is asked first, so that most
 * others need not be. */
static void choose(struct order_inside *x, const struct order *o, int k,
                   const struct order_task *task, int only, int32_t t, struct choice *best) {
    int32_t least[TIMETABLE_MAX_PERSONS];
    int first = only;
    if (only < 0) {
        for (int q = 0; q < x->persons_n; q++) {
            least[q] = task->people >> q & 1 ? rank_least(x, task, q, t) : MOMENT_FAR;
            if (first < 0 || least[q] < least[first]) first = q;
        }
    }
    if (first < 0 || !(task->people >> first & 1)) return;
    offer(x, o, k, task, first, only >= 0, t, best);
    for (int q = 0; only < 0 && q < x->persons_n; q++)
        if (q != first && least[q] < best->rank + (q < best->spot->person))
            offer(x, o, k, task, q, false, t, best);
}

double order_put(struct order *o, int k, int i) {
    struct order_inside *x = o->inside;
    const struct order_task *task = &x->tasks[i];
    int32_t t = ready(x, o, k, task);
    if (t >= x->horizon) return INFINITY;
    struct order_spot *spot = &x->spots[i];
    struct choice best = {.spot = spot, .rank = MOMENT_FAR};
    double sum = 0;
    spot->person = TIMETABLE_NOBODY;
    if (task->clock) {
        int32_t scuff = task->max < task->max_past ? scuff_at(x, o, k, task, t, &best.missed) : 0;
        spot->start = t;
        spot->end = t + task->work + scuff;
        spot->follows = TIMETABLE_NONE;
    } else {
        int only = o->goes_on[i] ? wet_by(x, o, k, task->row) : TIMETABLE_ANYBODY;
        choose(x, o, k, task, only, t, &best);
        if (best.rank == MOMENT_FAR) return INFINITY;
        if (only >= 0 && spot->follows < 0) sum += x->weights.broken;
        struct person_state *person = &persons_of(x->state)[spot->person];
        if (best.block_from - person->free > x->s->p->sitting_gap_min) sum += x->weights.sitting;
        if (best.cleaned) person->pending = TIMETABLE_NONE;
        person->free = spot->end;
        if (task->row >= 0) {
            if (spot->follows < 0) sum += x->weights.setup;
            person->pending = task->row;
            *wet_of(x, x->state, spot->person, task->row) = wet_since(spot->end, i);
        }
    }
    hold(x, task, spot);
    double beyond = worked_at(x, spot->end) - task->latest;
    if (beyond > 0) sum += x->per_beyond * beyond;
    if (spot->end > task->due) sum += task->late * (double)(spot->end - task->due);
    if (best.missed) sum += x->weights.late * (double)best.missed;
    if (task->room > 0) sum += task->room * worked_at(x, spot->start);
    return sum + x->per_mean_end * (double)spot->end;
}
