#include "core/timetable/decode.h"

#include <limits.h>
#include <string.h>

enum { SOFT_YIELDS = 4, HARD_YIELDS = 100 };

bool score_less(const struct timetable_score *a, const struct timetable_score *b) {
    if (a->lateness != b->lateness) return a->lateness < b->lateness;
    if (a->finish != b->finish) return a->finish < b->finish;
    return a->sittings < b->sittings;
}

static bool open_task(const struct shop *s, int i) {
    return s->p->tasks[i].state == TIMETABLE_OPEN && s->blocked_by[i] == TIMETABLE_NONE;
}

/* ---- order ---- */

/* Must `from` be placed before `to`? A lone hard maximum or a negative minimum says nothing. */
static bool lag_orders(const struct timetable_lag *l) {
    if (l->min_min != TIMETABLE_UNSAID) return l->min_min >= 0;
    return l->max_min != TIMETABLE_UNSAID && l->scuff_min >= 0;
}

/* Visits every pair "a before b" of open tasks. */
static void pairs(struct decoder *d, void (*visit)(struct decoder *, int, int)) {
    const struct timetable_problem *p = d->shop->p;
    for (int k = 0; k < p->lags_n; k++) {
        const struct timetable_lag *l = &p->lags[k];
        if (lag_orders(l) && open_task(d->shop, l->from) && open_task(d->shop, l->to))
            visit(d, l->from, l->to);
    }
    for (int k = 0; k < p->holds_n; k++) {
        const struct timetable_hold *h = &p->holds[k];
        if (h->first != h->last && open_task(d->shop, h->first) && open_task(d->shop, h->last))
            visit(d, h->first, h->last);
    }
}

static void pair_count(struct decoder *d, int a, int b) {
    d->after.first[a + 2]++;
    d->wait_for[b]++;
}

static void pair_store(struct decoder *d, int a, int b) {
    d->after.item[d->after.first[a + 1]++] = b;
}

static bool log_make(struct decode_log *l, int room, struct arena *arena) {
    *l = (struct decode_log){.task = arena_array(arena, (size_t)room, sizeof *l->task),
                             .stand = arena_array(arena, (size_t)room, sizeof *l->stand),
                             .state = arena_array(arena, (size_t)room, sizeof *l->state)};
    return l->task && l->stand && l->state;
}

bool decoder_make(struct decoder *d, const struct shop *shop, struct arena *arena) {
    const struct timetable_problem *p = shop->p;
    size_t n = (size_t)p->tasks_n + 1;
    *d = (struct decoder){.shop = shop};
    d->stand = arena_array(arena, n, sizeof *d->stand);
    d->not_before = arena_array(arena, n, sizeof *d->not_before);
    d->keep_person = arena_array(arena, n, sizeof *d->keep_person);
    d->bump = arena_array(arena, n, sizeof *d->bump);
    d->changed = arena_array(arena, n, sizeof *d->changed);
    d->go_on_with = arena_array(arena, n, sizeof *d->go_on_with);
    d->next_wet = arena_array(arena, n, sizeof *d->next_wet);
    d->missing = arena_array(arena, n, sizeof *d->missing);
    d->wait_for = arena_array(arena, n, sizeof *d->wait_for);
    d->heap = arena_array(arena, n, sizeof *d->heap);
    d->parked = arena_array(arena, n, sizeof *d->parked);
    d->yields = arena_array(arena, (size_t)p->lags_n + 1, sizeof *d->yields);
    d->after.first = arena_array(arena, n + 2, sizeof *d->after.first);
    d->after.item = arena_array(arena, (size_t)(p->lags_n + p->holds_n) + 1, sizeof *d->after.item);
    d->hold_open = arena_array(arena, (size_t)p->holds_n + 1, sizeof *d->hold_open);
    d->diaries = arena_array(arena, (size_t)p->persons_n + 1, sizeof *d->diaries);
    d->spares = arena_array(arena, (size_t)p->persons_n + 1, sizeof *d->spares);
    d->wet = arena_array(arena, n, sizeof *d->wet);
    d->wet_n = arena_array(arena, (size_t)p->setups_n + 1, sizeof *d->wet_n);
    d->levels = arena_array(arena, (size_t)p->resources_n + 1, sizeof *d->levels);
    if (!d->stand || !d->not_before || !d->keep_person || !d->bump || !d->go_on_with ||
        !d->next_wet || !d->changed || !d->missing || !d->wait_for || !d->heap || !d->parked ||
        !d->yields || !d->after.first || !d->after.item || !d->hold_open || !d->diaries ||
        !d->levels || !d->spares || !d->wet || !d->wet_n)
        return false;
    for (int q = 0; q < p->persons_n; q++)
        if (!diary_make(&d->diaries[q], 2 * p->tasks_n + 2, arena) ||
            !spare_make(&d->spares[q], &shop->hours[q], 2 * p->tasks_n + 2, arena))
            return false;
    for (int r = 0; r < p->resources_n; r++) {
        int holds = 0;
        for (int k = 0; k < p->holds_n; k++) holds += p->holds[k].resource == r;
        if (!level_make(&d->levels[r], 4 * holds, p->resources[r].capacity, arena)) return false;
    }
    d->log_room = p->tasks_n + p->tasks_n / 2 + 1; /* some find no room at first */
    if (!log_make(&d->logs[0], d->log_room, arena) || !log_make(&d->logs[1], d->log_room, arena))
        return false;
    pairs(d, pair_count);
    for (int k = 2; k <= p->tasks_n + 1; k++) d->after.first[k] += d->after.first[k - 1];
    pairs(d, pair_store);
    for (int i = 0; i < p->tasks_n; i++) {
        d->not_before[i] = INT64_MIN;
        d->keep_person[i] = TIMETABLE_ANYBODY;
        d->go_on_with[i] = TIMETABLE_NONE;
    }
    return true;
}

static bool goes_first(const struct decoder *d, int a, int b) {
    return d->rank[a] < d->rank[b] || (d->rank[a] == d->rank[b] && a < b);
}

static void heap_push(struct decoder *d, int task) {
    int i = d->heap_n++;
    for (; i > 0 && goes_first(d, task, d->heap[(i - 1) / 2]); i = (i - 1) / 2)
        d->heap[i] = d->heap[(i - 1) / 2];
    d->heap[i] = task;
}

static int heap_pop(struct decoder *d) {
    int top = d->heap[0], last = d->heap[--d->heap_n], i = 0;
    for (int child; (child = 2 * i + 1) < d->heap_n; i = child) {
        if (child + 1 < d->heap_n && goes_first(d, d->heap[child + 1], d->heap[child])) child++;
        if (!goes_first(d, d->heap[child], last)) break;
        d->heap[i] = d->heap[child];
    }
    d->heap[i] = last;
    return top;
}

/* ---- holds ---- */

/* When a hold ends, its last task standing at start..end. */
static int64_t hold_until(const struct shop *s, const struct timetable_hold *h, int64_t start,
                          int64_t end) {
    if (h->until_lag == TIMETABLE_NONE) return end;
    const struct timetable_lag *l = &s->p->lags[h->until_lag];
    int64_t dry = lag_dry(s, l, lag_base(l, start, end));
    return dry > end ? dry : end;
}

/* End of a hold that task i, at start..end, opens: FOREVER while its last task has no place. */
static int64_t opened_until(const struct decoder *d, const struct timetable_hold *h, int i,
                            int64_t start, int64_t end) {
    if (h->last == i) return hold_until(d->shop, h, start, end);
    const struct stand *last = &d->stand[h->last];
    return last->placed ? hold_until(d->shop, h, last->start, last->end) : BOOKING_FOREVER;
}

/* Moment from which task i, if it stands at start..end, finds room: start itself when it does. */
static int64_t room_from(struct decoder *d, int i, int64_t start, int64_t end) {
    const struct shop_list *at = &d->shop->holds_at;
    int64_t from = start;
    int k = at->first[i];
    bool lone = at->first[i + 1] - k <= 1;
    for (; k < at->first[i + 1] && from == start; k++) {
        const struct timetable_hold *h = &d->shop->p->holds[at->item[k] / 2];
        if (h->first != i) continue;
        struct level *l = &d->levels[h->resource];
        int64_t until = opened_until(d, h, i, start, end);
        from = level_free(l, start, until, h->amount);
        if (lone) return from;
        if (from == start) level_add(l, start, until, h->amount); /* seen by its other holds */
    }
    int tried = from == start ? k : k - 1;
    for (k = at->first[i]; k < tried; k++) {
        const struct timetable_hold *h = &d->shop->p->holds[at->item[k] / 2];
        if (h->first == i)
            level_add(&d->levels[h->resource], start, opened_until(d, h, i, start, end),
                      -(int64_t)h->amount);
    }
    return from;
}

/* Books the holds that i opens, ends those that it closes; true when room became free. */
static bool book_holds(struct decoder *d, int i) {
    const struct shop_list *at = &d->shop->holds_at;
    const struct stand *s = &d->stand[i];
    bool freed = false;
    for (int k = at->first[i]; k < at->first[i + 1]; k++) {
        const struct timetable_hold *h = &d->shop->p->holds[at->item[k] / 2];
        struct level *l = &d->levels[h->resource];
        int hold = at->item[k] / 2;
        if (h->first == i) {
            int64_t until = opened_until(d, h, i, s->start, s->end);
            level_add(l, s->start, until, h->amount);
            d->hold_open[hold] = until == BOOKING_FOREVER;
        } else if (d->hold_open[hold]) {
            d->hold_open[hold] = false;
            int64_t until = hold_until(d->shop, h, s->start, s->end);
            int64_t since = d->stand[h->first].start;
            level_add(l, until > since ? until : since, BOOKING_FOREVER, -(int64_t)h->amount);
            freed = true;
        }
    }
    return freed;
}

/* ---- one task ---- */

static int32_t scuff_at(const struct decoder *d, int i, int64_t start) {
    const struct timetable_problem *p = d->shop->p;
    int32_t sum = 0;
    for (int k = d->shop->lags_in.first[i]; k < d->shop->lags_in.first[i + 1]; k++) {
        const struct timetable_lag *l = &p->lags[d->shop->lags_in.item[k]];
        const struct stand *from = &d->stand[l->from];
        if (l->max_min == TIMETABLE_UNSAID || l->scuff_min <= 0 || !from->placed) continue;
        if (start > lag_latest(d->shop, l, lag_base(l, from->start, from->end)))
            sum += l->scuff_min;
    }
    return sum;
}

static int64_t later(int64_t a, int64_t b) {
    return a > b ? a : b;
}

/* Not before this, by dates, by what stands already, and by what was put off. */
static int64_t earliest(const struct decoder *d, int i) {
    const struct timetable_problem *p = d->shop->p;
    int64_t t = later(d->shop->earliest[i], later(d->bump[i], d->not_before[i]));
    for (int k = d->shop->lags_in.first[i]; k < d->shop->lags_in.first[i + 1]; k++) {
        const struct timetable_lag *l = &p->lags[d->shop->lags_in.item[k]];
        const struct stand *from = &d->stand[l->from];
        if (l->min_min != TIMETABLE_UNSAID && from->placed)
            t = later(t, lag_dry(d->shop, l, lag_base(l, from->start, from->end)));
    }
    return t;
}

/* Earliest place of task i with person q at or after `t`, its block begun with a fresh set-up or
 * following task `follows`; none if it would end after `most`. */
static bool place_with(struct decoder *d, int i, int q, int64_t t, int follows, int64_t most,
                       struct stand *out) {
    const struct timetable_problem *p = d->shop->p;
    const struct timetable_task *k = &p->tasks[i];
    const struct hours *h = &d->shop->hours[q];
    const struct timetable_setup *row = k->setup >= 0 ? &p->setups[k->setup] : NULL;
    int next = d->next_wet[i];
    bool cleans = row && (next < 0 || d->stand[next].placed);
    int32_t setup = row && follows < 0 ? row->setup_min : 0,
            cleanup = cleans ? row->cleanup_min : 0;
    int64_t last = INT64_MAX, from = later(p->now, setup ? hours_back(h, t, setup) : t);
    if (follows >= 0) {
        last = d->stand[follows].end + row->keep_wet_min;
        from = later(from, d->stand[follows].end);
    }
    int32_t scuff = scuff_at(d, i, later(t, from));
    for (;;) {
        int64_t hands = (int64_t)scuff + k->work_min;
        struct spare_fit fit;
        if (setup + hands + cleanup == 0) {
            from = diary_gap(&d->diaries[q], from, 0, follows);
            fit = (struct spare_fit){from, from, from};
        } else if (!spare_fit(&d->spares[q], from, setup + hands + cleanup, k->pausable, &fit)) {
            return false;
        }
        int64_t begin = fit.begin, start = begin + setup, end = start + hands;
        if (setup && start >= fit.piece_to)
            start = hours_begin(h, hours_end(h, begin, setup), 1, true);
        if (start > last || start + hands > most) return false;
        if (start < t) {
            from = begin + (t - start);
            continue;
        }
        int32_t more = scuff_at(d, i, start);
        if (more > scuff) {
            scuff = more;
            continue;
        }
        if (end > fit.piece_to) end = hours_end(h, begin, setup + hands);
        int64_t room = room_from(d, i, start, end);
        if (room == BOOKING_FOREVER) return false;
        if (room > start) {
            from = begin + (room - start);
            continue;
        }
        *out = (struct stand){start,          end,   begin,   fit.to, q,   follows,
                              TIMETABLE_NONE, setup, cleanup, scuff,  true};
        return true;
    }
}

/* The same, going on with the tool of task f, which then needs no clean-up. */
static bool place_after(struct decoder *d, int i, int f, int64_t t, int64_t most,
                        struct stand *out) {
    const struct stand *s = &d->stand[f];
    struct spare *spare = &d->spares[s->person];
    bool cleaned = s->block_to > s->end && d->shop->p->tasks[f].state == TIMETABLE_OPEN;
    if (cleaned) spare_give(spare, s->end, s->block_to);
    bool found = place_with(d, i, s->person, t, f, most, out);
    if (cleaned) spare_take(spare, s->end, s->block_to);
    return found;
}

/* One that goes on with another's set-up may end d->manner.patience minutes later than a fresh one.
 */
static void prefer(const struct decoder *d, struct stand *best, const struct stand *other) {
    int64_t by = other->end - best->end;
    if (other->follows >= 0) by -= d->manner.patience;
    if (best->placed && best->follows >= 0) by += d->manner.patience;
    if (!best->placed || by < 0 || (by == 0 && other->setup_min < best->setup_min)) *best = *other;
}

/* Latest end with which another place could still be preferred. */
static int64_t preferred_by(const struct decoder *d, const struct stand *best, int follows) {
    if (!best->placed) return INT64_MAX;
    return best->end + (follows >= 0 ? d->manner.patience : 0) -
           (best->follows >= 0 ? d->manner.patience : 0);
}

/* No start of task i from t on finds room before this, whoever does it; FOREVER: none. */
static int64_t room_since(struct decoder *d, int i, int64_t t) {
    int64_t work = d->shop->p->tasks[i].work_min;
    for (int64_t from; (from = room_from(d, i, t, t + work)) > t; t = from)
        if (from == BOOKING_FOREVER) return from;
    return t;
}

/* Earliest end of task i over persons and shared set-ups. */
static bool place_hands(struct decoder *d, int i, int64_t t, struct stand *out) {
    const struct timetable_problem *p = d->shop->p;
    const struct timetable_task *k = &p->tasks[i];
    struct stand best = {0}, other;
    int64_t room = room_since(d, i, t);
    if (room == BOOKING_FOREVER) return false;
    for (int q = 0; q < p->persons_n; q++) {
        if (!shop_may(p, i, q)) continue;
        if (d->keep_person[i] >= 0 && d->keep_person[i] != q) continue;
        int64_t most = preferred_by(d, &best, TIMETABLE_NONE);
        if (place_with(d, i, q, room, TIMETABLE_NONE, most, &other)) prefer(d, &best, &other);
        if (best.placed && best.end == t + k->work_min && !best.setup_min) break; /* none sooner */
        if (k->setup < 0) continue;
        const int *wet = &d->wet[d->shop->same_setup.first[k->setup]];
        for (int m = 0; m < d->wet_n[k->setup]; m++) {
            const struct stand *s = &d->stand[wet[m]];
            if (s->person != q || s->end + p->setups[k->setup].keep_wet_min < room ||
                s->end + k->work_min > (most = preferred_by(d, &best, wet[m])))
                continue;
            if (place_after(d, i, wet[m], room, most, &other)) prefer(d, &best, &other);
        }
    }
    if (best.placed) *out = best;
    return best.placed;
}

/* Earliest place of a task that takes nobody's time. */
static bool place_clock(struct decoder *d, int i, int64_t t, struct stand *out) {
    for (int64_t start = t;;) {
        int32_t scuff = scuff_at(d, i, start);
        int64_t end = start + scuff + d->shop->p->tasks[i].work_min;
        int64_t room = room_from(d, i, start, end);
        if (room == BOOKING_FOREVER) return false;
        if (room == start) {
            *out = (struct stand){
                start, end, start, end, TIMETABLE_NOBODY, TIMETABLE_NONE, TIMETABLE_NONE,
                0,     0,   scuff, true};
            return true;
        }
        start = room;
    }
}

static bool place(struct decoder *d, int i, int64_t t, struct stand *out) {
    const struct timetable_task *k = &d->shop->p->tasks[i];
    if (k->person == TIMETABLE_NOBODY) return place_clock(d, i, t, out);
    if (k->work_min == 0) {
        if (!place_clock(d, i, t, out)) return false;
        if (out->scuff_min == 0) return true;
    }
    return place_hands(d, i, t, out);
}

/* ---- maximum lags: put off what came too early ---- */

enum outcome { PLACED, NO_ROOM, PUT_OFF, FAILED };

/* Puts task k off to start at `t` at least and has all built anew. */
static enum outcome put_off(struct decoder *d, int k, int64_t t, int lag, int most) {
    if (d->shop->p->tasks[k].state == TIMETABLE_FIXED || t <= d->stand[k].start ||
        d->yields[lag] >= most)
        return FAILED;
    d->yields[lag]++;
    d->bump[k] = later(d->bump[k], t);
    d->changed[k] = d->round;
    return PUT_OFF;
}

/* Start that task `from` of the lag would need so that `start` is not too late. */
static int64_t start_needed(const struct decoder *d, const struct timetable_lag *l, int64_t start) {
    const struct stand *from = &d->stand[l->from];
    int64_t base = lag_base(l, from->start, from->end);
    int64_t want = drying_before(lag_drying(d->shop, l), start, l->max_min);
    return from->start + later(1, want - base);
}

/* Incoming maxima of task i if it stood as s. */
static enum outcome keep_in(struct decoder *d, int i, const struct stand *s) {
    const struct timetable_problem *p = d->shop->p;
    for (int k = d->shop->lags_in.first[i]; k < d->shop->lags_in.first[i + 1]; k++) {
        int lag = d->shop->lags_in.item[k];
        const struct timetable_lag *l = &p->lags[lag];
        const struct stand *from = &d->stand[l->from];
        bool hard = l->scuff_min < 0;
        if (l->max_min == TIMETABLE_UNSAID || !from->placed || (!hard && !d->manner.keep_windows))
            continue;
        if (s->start <= lag_latest(d->shop, l, lag_base(l, from->start, from->end))) continue;
        enum outcome o = put_off(d, l->from, start_needed(d, l, s->start), lag,
                                 hard ? HARD_YIELDS : SOFT_YIELDS);
        if (o == PUT_OFF || hard) return o;
    }
    return PLACED;
}

/* Lags to tasks that stand already; *out_t: start that i itself needs, if later. */
static enum outcome keep_out(struct decoder *d, int i, const struct stand *s, int64_t *out_t) {
    const struct timetable_problem *p = d->shop->p;
    for (int k = d->shop->lags_out.first[i]; k < d->shop->lags_out.first[i + 1]; k++) {
        int lag = d->shop->lags_out.item[k];
        const struct timetable_lag *l = &p->lags[lag];
        const struct stand *to = &d->stand[l->to];
        if (!to->placed) continue;
        int64_t base = lag_base(l, s->start, s->end);
        if (l->min_min != TIMETABLE_UNSAID && lag_dry(d->shop, l, base) > to->start)
            return put_off(d, l->to, lag_dry(d->shop, l, base), lag, HARD_YIELDS);
        if (l->max_min != TIMETABLE_UNSAID && lag_latest(d->shop, l, base) < to->start)
            *out_t = later(*out_t, s->start + later(1, to->start - lag_latest(d->shop, l, base)));
    }
    return PLACED;
}

/* Was a task left without clean-up for i, which now does not go on with it? Then not again. */
static bool left_wet(struct decoder *d, int i, const struct stand *s) {
    int f = d->go_on_with[i];
    if (f < 0 || d->next_wet[f] != i || s->follows == f) return false;
    d->next_wet[f] = TIMETABLE_NONE;
    d->changed[f] = d->round;
    return d->stand[f].placed && d->stand[f].followed == TIMETABLE_NONE;
}

/* Where task i is to stand, as long as nothing is put off. */
static enum outcome find_place(struct decoder *d, int i, struct stand *s) {
    int64_t t = earliest(d, i);
    for (int tries = 0;; tries++) {
        if (!place(d, i, t, s)) return NO_ROOM;
        int64_t need = s->start;
        enum outcome o = keep_out(d, i, s, &need);
        if (o != PLACED) return o;
        if (need == s->start) break;
        if (tries == HARD_YIELDS) return FAILED;
        t = need;
    }
    enum outcome o = keep_in(d, i, s);
    if (o != PLACED) return o;
    return left_wet(d, i, s) ? PUT_OFF : PLACED;
}

/* Task i stands: another may go on with its set-up, as it does with that of the one it follows.
 * Lists are in order of tasks. */
static void wet_change(struct decoder *d, int i, int follows) {
    int row = d->shop->p->tasks[i].setup, n = 0;
    if (row < 0 || !d->shop->p->setups[row].keep_wet_min) return;
    int *wet = &d->wet[d->shop->same_setup.first[row]];
    for (int k = 0; k < d->wet_n[row]; k++)
        if (wet[k] != follows) wet[n++] = wet[k];
    int at = n++;
    for (; at > 0 && wet[at - 1] > i; at--) wet[at] = wet[at - 1];
    wet[at] = i;
    d->wet_n[row] = n;
}

static void put(struct decoder *d, int i, const struct stand *s) {
    d->stand[i] = *s;
    if (s->follows >= 0) {
        struct stand *f = &d->stand[s->follows];
        f->followed = i;
        f->cleanup_min = 0;
        if (d->shop->p->tasks[s->follows].state == TIMETABLE_OPEN && f->block_to > f->block_from) {
            diary_end_at(&d->diaries[s->person], f->block_from, f->end);
            spare_give(&d->spares[s->person], f->end, f->block_to);
        }
        f->block_to = f->end;
    }
    if (s->person < 0) return;
    wet_change(d, i, s->follows);
    if (s->block_to > s->block_from) {
        diary_add(&d->diaries[s->person], s->block_from, s->block_to, i);
        spare_take(&d->spares[s->person], s->block_from, s->block_to);
    }
}

/* ---- all tasks ---- */

struct stand decode_fixed(const struct timetable_task *task) {
    return (struct stand){.start = task->fixed_start,
                          .end = task->fixed_end,
                          .block_from = task->fixed_start,
                          .block_to = task->fixed_end,
                          .person = task->fixed_person,
                          .follows = TIMETABLE_NONE,
                          .followed = TIMETABLE_NONE,
                          .placed = true};
}

static void place_fixed(struct decoder *d, int i) {
    const struct timetable_task *k = &d->shop->p->tasks[i];
    d->stand[i] = decode_fixed(k);
    if (k->fixed_person < 0) return;
    wet_change(d, i, TIMETABLE_NONE);
    spare_take(&d->spares[k->fixed_person], k->fixed_start, k->fixed_end);
    diary_fill(&d->diaries[k->fixed_person], k->fixed_start, k->fixed_end, i);
}

static void start_anew(struct decoder *d) {
    const struct timetable_problem *p = d->shop->p;
    for (int q = 0; q < p->persons_n; q++) d->diaries[q].n = 0, spare_clear(&d->spares[q], p->now);
    for (int k = 0; k < p->setups_n; k++) d->wet_n[k] = 0;
    for (int r = 0; r < p->resources_n; r++) level_clear(&d->levels[r]);
    for (int k = 0; k < p->holds_n; k++) d->hold_open[k] = false;
    d->heap_n = d->parked_n = 0;
    for (int i = 0; i < p->tasks_n; i++) {
        d->stand[i].placed = false;
        d->stand[i].followed = TIMETABLE_NONE;
        d->missing[i] = d->wait_for[i];
        if (p->tasks[i].state == TIMETABLE_FIXED)
            place_fixed(d, i);
        else if (d->shop->blocked_by[i] == TIMETABLE_NONE && !d->missing[i])
            heap_push(d, i);
    }
    for (int i = 0; i < p->tasks_n; i++)
        if (p->tasks[i].state == TIMETABLE_FIXED) book_holds(d, i);
}

static int unplaced_first(const struct decoder *d) {
    int best = -1;
    for (int i = 0; i < d->shop->p->tasks_n; i++)
        if (open_task(d->shop, i) && !d->stand[i].placed && (best < 0 || goes_first(d, i, best)))
            best = i;
    return best;
}

static uint64_t mix(uint64_t h, uint64_t x) { /* splitmix64 */
    h += x + UINT64_C(0x9e3779b97f4a7c15);
    h = (h ^ h >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
    h = (h ^ h >> 27) * UINT64_C(0x94d049bb133111eb);
    return h ^ h >> 31;
}

static uint64_t stand_hash(int i, const struct stand *s) {
    if (!s->placed) return mix(1, (uint64_t)i);
    uint64_t h = mix((uint64_t)i << 32 ^ (uint64_t)(uint32_t)s->person, (uint64_t)s->start);
    return mix(h ^ (uint64_t)(uint32_t)s->follows << 20, (uint64_t)(s->end ^ s->block_to << 32));
}

/* Does what `old` says of its n-th task hold again for task i? */
static bool stands_again(const struct decoder *d, const struct decode_log *old, int n, int i) {
    return n < old->n && old->task[n] == i && d->changed[i] < d->round - 1 &&
           !(d->manner.keep_windows && old->stand[n].scuff_min);
}

static enum outcome place_all(struct decoder *d, const struct decode_log *old,
                              struct decode_log *now) {
    bool same = true; /* as after so many of old */
    uint64_t state = 0;
    start_anew(d);
    now->n = 0;
    for (int n = 0;; n++) {
        struct stand s;
        int i = -1;
        while (d->heap_n && i < 0) {
            i = heap_pop(d);
            if (d->stand[i].placed) i = -1;
        }
        if (i < 0 && d->parked_n) return FAILED;
        if (i < 0 && (i = unplaced_first(d)) < 0) return PLACED; /* else: lags in a circle */
        if (same && stands_again(d, old, n, i)) {
            s = old->stand[n];
        } else {
            s.placed = false;
            enum outcome o = find_place(d, i, &s);
            if (o != PLACED && o != NO_ROOM) return o;
            s.placed = o == PLACED;
        }
        state ^= stand_hash(i, &s);
        if (!s.placed) {
            d->parked[d->parked_n++] = i;
        } else {
            put(d, i, &s);
            if (book_holds(d, i))
                while (d->parked_n) {
                    int k = d->parked[--d->parked_n];
                    state ^= stand_hash(k, &(struct stand){.placed = false});
                    heap_push(d, k);
                }
            for (int k = d->after.first[i]; k < d->after.first[i + 1]; k++)
                if (--d->missing[d->after.item[k]] == 0) heap_push(d, d->after.item[k]);
        }
        same = n < old->n && old->state[n] == state;
        if (n == now->n && n < d->log_room) {
            now->task[n] = i;
            now->stand[n] = s;
            now->state[n] = state;
            now->n++;
        }
    }
}

bool decode(struct decoder *d, const double *rank) {
    const struct timetable_problem *p = d->shop->p;
    d->rank = rank;
    d->logs[1].n = 0; /* nothing to go by at first */
    for (int i = 0; i < p->tasks_n; i++) {
        d->bump[i] = INT64_MIN;
        d->changed[i] = INT_MIN;
        d->next_wet[i] = TIMETABLE_NONE;
    }
    for (int i = 0; i < p->tasks_n; i++)
        if (d->go_on_with[i] >= 0 && open_task(d->shop, i)) d->next_wet[d->go_on_with[i]] = i;
    for (int k = 0; k < p->lags_n; k++) d->yields[k] = 0;
    int most = 200 + p->tasks_n;
    for (d->round = 0; d->round < most; d->round++) {
        enum outcome o = place_all(d, &d->logs[(d->round + 1) % 2], &d->logs[d->round % 2]);
        d->rounds++;
        if (o == FAILED) return false;
        if (o == PLACED) {
            d->score = decode_score(d);
            return true;
        }
    }
    return false;
}

/* Sittings of one person: runs of work with pauses no longer than the gap allowed. */
static int32_t sittings(const struct decoder *d, int q) {
    const struct diary *diary = &d->diaries[q];
    const struct hours *h = &d->shop->hours[q];
    int64_t last = INT64_MIN, gap = d->shop->p->sitting_gap_min;
    int32_t n = 0;
    int w = 0;
    for (int i = 0; i < diary->n; i++) {
        const struct diary_block *b = &diary->blocks[i];
        if (d->shop->p->tasks[b->task].state == TIMETABLE_FIXED) {
            if (last == INT64_MIN || b->from - last > gap) n++;
            last = b->to;
            continue;
        }
        while (w < h->n && h->windows[w].to <= b->from) w++;
        for (int v = w; v < h->n && h->windows[v].from < b->to; v++) {
            int64_t from = later(b->from, h->windows[v].from);
            int64_t to = b->to < h->windows[v].to ? b->to : h->windows[v].to;
            if (last == INT64_MIN || from - last > gap) n++;
            last = to;
        }
    }
    return n;
}

struct timetable_score decode_score(const struct decoder *d) {
    const struct timetable_problem *p = d->shop->p;
    struct timetable_score s = {0, p->now, 0};
    for (int i = 0; i < p->tasks_n; i++) {
        if (!d->stand[i].placed) continue;
        const struct timetable_task *t = &p->tasks[i];
        s.finish = later(s.finish, d->stand[i].end);
        if (t->due != TIMETABLE_UNSAID && d->stand[i].end > t->due)
            s.lateness += t->weight * (d->stand[i].end - t->due);
    }
    for (int q = 0; q < p->persons_n; q++) s.sittings += sittings(d, q);
    return s;
}
