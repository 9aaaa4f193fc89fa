/* Where one task goes among what stands already. */
#include "core/timetable/decode_inside.h"

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
    if (from == start) return from;
    /* what is in the way may be its own: where nothing changes any more it is in the way for ever
     */
    const struct timetable_hold *h = &d->shop->p->holds[at->item[tried] / 2];
    return level_last_change(&d->levels[h->resource]) <= start ? BOOKING_FOREVER : from;
}

bool book_holds(struct decoder *d, int i) {
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

enum { SOFT_YIELDS = 4, HARD_YIELDS = 100 };

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

enum outcome find_place(struct decoder *d, int i, struct stand *s) {
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
