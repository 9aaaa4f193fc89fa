#include "core/timetable/decode.h"

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

bool decoder_make(struct decoder *d, const struct shop *shop, struct arena *arena) {
    const struct timetable_problem *p = shop->p;
    size_t n = (size_t)p->tasks_n + 1;
    *d = (struct decoder){.shop = shop};
    d->stand = arena_array(arena, n, sizeof *d->stand);
    d->not_before = arena_array(arena, n, sizeof *d->not_before);
    d->keep_person = arena_array(arena, n, sizeof *d->keep_person);
    d->bump = arena_array(arena, n, sizeof *d->bump);
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
    d->levels = arena_array(arena, (size_t)p->resources_n + 1, sizeof *d->levels);
    if (!d->stand || !d->not_before || !d->keep_person || !d->bump || !d->go_on_with ||
        !d->next_wet || !d->missing || !d->wait_for || !d->heap || !d->parked || !d->yields ||
        !d->after.first || !d->after.item || !d->hold_open || !d->diaries || !d->levels)
        return false;
    for (int q = 0; q < p->persons_n; q++)
        if (!diary_make(&d->diaries[q], 2 * p->tasks_n + 2, arena)) return false;
    for (int r = 0; r < p->resources_n; r++) {
        int holds = 0;
        for (int k = 0; k < p->holds_n; k++) holds += p->holds[k].resource == r;
        if (!level_make(&d->levels[r], 4 * holds, p->resources[r].capacity, arena)) return false;
    }
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
        from = diary_gap(&d->diaries[q], from, setup + hands + cleanup, follows);
        int64_t begin = hours_begin(h, from, setup + hands + cleanup, k->pausable);
        if (begin == INT64_MAX) return false;
        int64_t start = setup ? hours_begin(h, hours_end(h, begin, setup), 1, true) : begin;
        int64_t to = hours_end(h, begin, setup + hands + cleanup);
        if (start > last || start + hands > most) return false;
        if (start < t) {
            from = begin + (t - start);
            continue;
        }
        const struct diary_block *clash = diary_clash(&d->diaries[q], begin, to, follows);
        if (clash) {
            from = clash->to;
            continue;
        }
        int32_t more = scuff_at(d, i, start);
        if (more > scuff) {
            scuff = more;
            continue;
        }
        int64_t end = hours_end(h, begin, setup + hands);
        int64_t room = room_from(d, i, start, end);
        if (room == BOOKING_FOREVER) return false;
        if (room > start) {
            from = begin + (room - start);
            continue;
        }
        *out = (struct stand){start,          end,   begin,   to,    q,   follows,
                              TIMETABLE_NONE, setup, cleanup, scuff, true};
        return true;
    }
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

/* Earliest end of task i over persons and shared set-ups. */
static bool place_hands(struct decoder *d, int i, int64_t t, struct stand *out) {
    const struct timetable_problem *p = d->shop->p;
    const struct timetable_task *k = &p->tasks[i];
    struct stand best = {0}, other;
    for (int q = 0; q < p->persons_n; q++) {
        if (!shop_may(p, i, q)) continue;
        if (d->keep_person[i] >= 0 && d->keep_person[i] != q) continue;
        int64_t most = preferred_by(d, &best, TIMETABLE_NONE);
        if (place_with(d, i, q, t, TIMETABLE_NONE, most, &other)) prefer(d, &best, &other);
        if (best.placed && best.end == t + k->work_min && !best.setup_min) break; /* none sooner */
        if (k->setup < 0 || !p->setups[k->setup].keep_wet_min) continue;
        for (int m = d->shop->same_setup.first[k->setup];
             m < d->shop->same_setup.first[k->setup + 1]; m++) {
            int f = d->shop->same_setup.item[m];
            const struct stand *s = &d->stand[f];
            if (!s->placed || s->person != q || s->followed != TIMETABLE_NONE ||
                s->end + p->setups[k->setup].keep_wet_min < t ||
                s->end + k->work_min > (most = preferred_by(d, &best, f)))
                continue;
            if (place_with(d, i, q, t, f, most, &other)) prefer(d, &best, &other);
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
    return d->stand[f].placed && d->stand[f].followed == TIMETABLE_NONE;
}

static enum outcome place_task(struct decoder *d, int i) {
    struct stand s;
    int64_t t = earliest(d, i);
    for (int tries = 0;; tries++) {
        if (!place(d, i, t, &s)) return NO_ROOM;
        int64_t need = s.start;
        enum outcome o = keep_out(d, i, &s, &need);
        if (o != PLACED) return o;
        if (need == s.start) break;
        if (tries == HARD_YIELDS) return FAILED;
        t = need;
    }
    enum outcome o = keep_in(d, i, &s);
    if (o != PLACED) return o;
    if (left_wet(d, i, &s)) return PUT_OFF;
    d->stand[i] = s;
    if (s.follows >= 0) {
        struct stand *f = &d->stand[s.follows];
        f->followed = i;
        f->cleanup_min = 0;
        f->block_to = f->end;
        if (d->shop->p->tasks[s.follows].state == TIMETABLE_OPEN)
            diary_end_at(&d->diaries[s.person], s.follows, f->end);
    }
    if (s.person >= 0 && s.block_to > s.block_from)
        diary_add(&d->diaries[s.person], s.block_from, s.block_to, i);
    return PLACED;
}

/* ---- all tasks ---- */

static void place_fixed(struct decoder *d, int i) {
    const struct timetable_task *k = &d->shop->p->tasks[i];
    d->stand[i] = (struct stand){k->fixed_start,
                                 k->fixed_end,
                                 k->fixed_start,
                                 k->fixed_end,
                                 k->fixed_person,
                                 TIMETABLE_NONE,
                                 TIMETABLE_NONE,
                                 0,
                                 0,
                                 0,
                                 true};
    if (k->fixed_person < 0) return;
    struct diary *diary = &d->diaries[k->fixed_person];
    int64_t from = k->fixed_start;
    for (const struct diary_block *c; (c = diary_clash(diary, from, k->fixed_end, -1));) {
        int64_t gap_to = c->from, next = c->to; /* two fixed ones may overlap: keep the rest */
        if (from < gap_to) diary_add(diary, from, gap_to, i);
        from = next;
    }
    if (from < k->fixed_end) diary_add(diary, from, k->fixed_end, i);
}

static void start_anew(struct decoder *d) {
    const struct timetable_problem *p = d->shop->p;
    for (int q = 0; q < p->persons_n; q++) d->diaries[q].n = 0;
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

static enum outcome place_all(struct decoder *d) {
    start_anew(d);
    for (;;) {
        int i = -1;
        if (d->heap_n)
            i = heap_pop(d);
        else if (d->parked_n)
            return FAILED;
        else if ((i = unplaced_first(d)) < 0)
            return PLACED; /* else: lags in a circle */
        if (d->stand[i].placed) continue;
        enum outcome o = place_task(d, i);
        if (o == NO_ROOM) {
            d->parked[d->parked_n++] = i;
            continue;
        }
        if (o != PLACED) return o;
        if (book_holds(d, i))
            while (d->parked_n) heap_push(d, d->parked[--d->parked_n]);
        for (int k = d->after.first[i]; k < d->after.first[i + 1]; k++)
            if (--d->missing[d->after.item[k]] == 0) heap_push(d, d->after.item[k]);
    }
}

bool decode(struct decoder *d, const double *rank) {
    const struct timetable_problem *p = d->shop->p;
    d->rank = rank;
    for (int i = 0; i < p->tasks_n; i++) d->bump[i] = INT64_MIN, d->next_wet[i] = TIMETABLE_NONE;
    for (int i = 0; i < p->tasks_n; i++)
        if (d->go_on_with[i] >= 0 && open_task(d->shop, i)) d->next_wet[d->go_on_with[i]] = i;
    for (int k = 0; k < p->lags_n; k++) d->yields[k] = 0;
    int most = 200 + p->tasks_n;
    for (int round = 0; round < most; round++) {
        enum outcome o = place_all(d);
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
