/* Who would have to give way to a task at a place. */
#include "core/timetable/deadline.h"
#include "core/timetable/standing.h"

/* ---- who gives way ---- */

struct asking {
    struct standing *s;
    struct bid *bid;
    const double *price;
    double most;
    int task;
};

static bool given(const struct bid *b, int i) {
    for (int k = 0; k < b->gives_n; k++)
        if (b->gives[k] == i) return true;
    return false;
}

static bool give(struct asking *a, int i) {
    struct bid *b = a->bid;
    if (given(b, i)) return true;
    if (!a->price || b->gives_n == BID_GIVES || !shop_open(a->s->shop, i)) return false;
    b->gives[b->gives_n++] = i;
    b->cost += a->price[i];
    return b->cost < a->most;
}

/* The task of a hold that would give way: the one that opens it, else the one that closes it. */
static int hold_giver(const struct asking *a, int hold) {
    const struct timetable_hold *h = &a->s->shop->p->holds[hold];
    if (h->first != a->task && shop_open(a->s->shop, h->first)) return h->first;
    if (h->last != a->task && shop_open(a->s->shop, h->last)) return h->last;
    return TIMETABLE_NONE;
}

static bool hold_given(const struct asking *a, int hold) {
    const struct timetable_hold *h = &a->s->shop->p->holds[hold];
    return given(a->bid, h->first) || given(a->bid, h->last);
}

/* What those who give way held at that moment; *out_until: as long as they did. */
static int64_t freed_at(const struct asking *a, int resource, int64_t t, int64_t *out_until) {
    const struct shop_list *of = &a->s->holds_of;
    int64_t sum = 0;
    *out_until = BOOKING_FOREVER;
    for (int k = of->first[resource]; a->bid->gives_n && k < of->first[resource + 1]; k++) {
        const struct timetable_span *x = &a->s->held[of->item[k]];
        if (x->from > t || t >= x->to || !hold_given(a, of->item[k])) continue;
        sum += a->s->shop->p->holds[of->item[k]].amount;
        if (x->to < *out_until) *out_until = x->to;
    }
    return sum;
}

/* The hold that is cheapest to end at that moment, for what it frees; TIMETABLE_NONE. */
static int cheapest_at(const struct asking *a, int resource, int64_t t, int64_t over) {
    const struct shop_list *of = &a->s->holds_of;
    int best = TIMETABLE_NONE;
    double least = 0;
    for (int k = of->first[resource]; k < of->first[resource + 1]; k++) {
        int hold = of->item[k];
        const struct timetable_span *x = &a->s->held[hold];
        int64_t amount = a->s->shop->p->holds[hold].amount;
        if (x->from > t || t >= x->to || !amount || hold_given(a, hold)) continue;
        int giver = hold_giver(a, hold);
        if (giver == TIMETABLE_NONE) continue;
        double cost = (a->price ? a->price[giver] : 1) / (double)(amount < over ? amount : over);
        if (best == TIMETABLE_NONE || cost < least) best = hold, least = cost;
    }
    return best;
}

/* Makes room from t to `to`, where so much is held all the time, by whomever. What has begun stays,
 * whatever else that cannot move was begun beside it. */
static bool room_from(struct asking *a, int resource, int64_t t, int64_t to, int64_t over,
                      bool begun) {
    while (t < to) {
        int64_t until, more = over - freed_at(a, resource, t, &until);
        if (more <= 0) {
            t = until;
            continue;
        }
        int hold = cheapest_at(a, resource, t, more);
        if (hold == TIMETABLE_NONE) return begun;
        if (!give(a, hold_giver(a, hold))) return false;
    }
    return true;
}

static bool room_for(struct asking *a, int hold, struct timetable_span span) {
    const struct timetable_hold *h = &a->s->shop->p->holds[hold];
    const struct level *l = &a->s->levels[h->resource];
    bool begun = a->s->shop->p->tasks[h->first].state == TIMETABLE_FIXED;
    if (span.from >= span.to) return true;
    for (int k = level_step_at(l, span.from); k < l->n && l->steps[k].at < span.to; k++) {
        int64_t over = l->steps[k].level + h->amount - l->capacity;
        int64_t from = later(l->steps[k].at, span.from);
        int64_t to = k + 1 < l->n && l->steps[k + 1].at < span.to ? l->steps[k + 1].at : span.to;
        if (over > 0 && !room_from(a, h->resource, from, to, over, begun)) return false;
    }
    return true;
}

/* What hold k would take; nothing while its other end gives way. */
static struct timetable_span asked_span(const struct asking *a, int hold) {
    if (hold_given(a, hold)) return (struct timetable_span){0, 0};
    return standing_span(a->s, hold, a->task, &a->bid->at);
}

static bool ask_holds(struct asking *a) {
    struct standing *s = a->s;
    const struct shop_list *at = &s->shop->holds_at;
    int first = at->first[a->task], past = at->first[a->task + 1], k = first;
    bool fits = true;
    if (past - first == 1)
        return room_for(a, at->item[first] / 2, asked_span(a, at->item[first] / 2));
    for (; k < past && fits; k++) { /* each sees those before it */
        int hold = at->item[k] / 2;
        struct timetable_span span = asked_span(a, hold);
        fits = room_for(a, hold, span);
        s->asked[hold] = span;
        level_add(&s->levels[s->shop->p->holds[hold].resource], span.from, span.to,
                  s->shop->p->holds[hold].amount);
    }
    while (k-- > first) {
        int hold = at->item[k] / 2;
        struct timetable_span span = s->asked[hold];
        level_add(&s->levels[s->shop->p->holds[hold].resource], span.from, span.to,
                  -(int64_t)s->shop->p->holds[hold].amount);
    }
    return fits;
}

/* ---- lags ---- */

int64_t standing_earliest(const struct standing *s, int i) {
    const struct timetable_problem *p = s->shop->p;
    int64_t t = s->shop->earliest[i];
    for (int k = s->shop->lags_in.first[i]; k < s->shop->lags_in.first[i + 1]; k++) {
        const struct timetable_lag *l = &p->lags[s->shop->lags_in.item[k]];
        const struct stand *from = &s->stand[l->from];
        if (l->min_min != TIMETABLE_UNSAID && from->placed)
            t = later(t, lag_dry(s->shop, l, lag_base(l, from->start, from->end)));
    }
    return t;
}

/* Scuff of task `to` at `start`, task i standing as `at`. */
static int32_t scuff_with(const struct standing *s, int to, int64_t start, int i,
                          const struct stand *at) {
    const struct timetable_problem *p = s->shop->p;
    int32_t sum = 0;
    for (int k = s->shop->lags_in.first[to]; k < s->shop->lags_in.first[to + 1]; k++) {
        const struct timetable_lag *l = &p->lags[s->shop->lags_in.item[k]];
        if (l->max_min == TIMETABLE_UNSAID || l->scuff_min <= 0) continue;
        const struct stand *from = l->from == i ? at : &s->stand[l->from];
        if (from->placed && start > lag_latest(s->shop, l, lag_base(l, from->start, from->end)))
            sum += l->scuff_min;
    }
    return sum;
}

/* Hands-on minutes in front of a loose task that starts then, for the maxima that it misses. */
static int32_t standing_scuff(const struct standing *s, int i, int64_t start) {
    return scuff_with(s, i, start, TIMETABLE_NONE, NULL);
}

static bool ask_lags(struct asking *a) {
    struct standing *s = a->s;
    const struct shop *shop = s->shop;
    const struct stand *x = &a->bid->at;
    int i = a->task;
    for (int k = shop->lags_in.first[i]; k < shop->lags_in.first[i + 1]; k++) {
        const struct timetable_lag *l = &shop->p->lags[shop->lags_in.item[k]];
        const struct stand *from = &s->stand[l->from];
        if (!from->placed) continue;
        int64_t base = lag_base(l, from->start, from->end);
        bool early = l->min_min != TIMETABLE_UNSAID && x->start < lag_dry(shop, l, base);
        bool late = l->max_min != TIMETABLE_UNSAID && l->scuff_min < 0 &&
                    x->start > lag_latest(shop, l, base);
        if ((early || late) && !give(a, l->from)) return false;
    }
    for (int k = shop->lags_out.first[i]; k < shop->lags_out.first[i + 1]; k++) {
        const struct timetable_lag *l = &shop->p->lags[shop->lags_out.item[k]];
        const struct stand *to = &s->stand[l->to];
        if (!to->placed) continue;
        int64_t base = lag_base(l, x->start, x->end);
        bool early = l->min_min != TIMETABLE_UNSAID && to->start < lag_dry(shop, l, base),
             late = false;
        if (l->max_min != TIMETABLE_UNSAID && shop_open(s->shop, l->to))
            late = l->scuff_min > 0 ? to->scuff_min != scuff_with(s, l->to, to->start, i, x)
                                    : l->scuff_min < 0 && to->start > lag_latest(shop, l, base);
        else if (l->max_min != TIMETABLE_UNSAID && l->scuff_min < 0)
            late = to->start > lag_latest(shop, l, base);
        if ((early || late) && !give(a, l->to)) return false;
    }
    return true;
}

/* ---- hands ---- */

int standing_wet(const struct standing *s, int i, int q, int64_t start) {
    const struct timetable_setup *row = standing_row(s, i);
    const struct diary *d = &s->diaries[q];
    if (!row || !row->keep_wet_min) return TIMETABLE_NONE;
    for (int k = standing_block(d, start); k-- > 0;) {
        const struct stand *x = &s->stand[d->blocks[k].task];
        if (d->blocks[k].to + row->keep_wet_min < start) return TIMETABLE_NONE;
        if (s->shop->p->tasks[d->blocks[k].task].setup == s->shop->p->tasks[i].setup &&
            x->end <= start)
            return x->end + row->keep_wet_min >= start ? d->blocks[k].task : TIMETABLE_NONE;
    }
    return TIMETABLE_NONE;
}

/* The task that can go on with a tool laid down at `end`. */
static int wet_after(const struct standing *s, int i, int q, int64_t start, int64_t end,
                     int before) {
    const struct timetable_setup *row = standing_row(s, i);
    const struct diary *d = &s->diaries[q];
    if (!row || !row->keep_wet_min) return TIMETABLE_NONE;
    for (int k = standing_block(d, end - row->setup_min); k < d->n; k++) {
        int g = d->blocks[k].task;
        if (d->blocks[k].from > end + row->keep_wet_min) return TIMETABLE_NONE;
        if (s->shop->p->tasks[g].setup != s->shop->p->tasks[i].setup || s->stand[g].start < end ||
            !shop_open(s->shop, g))
            continue;
        int f = s->stand[g].follows;
        return s->stand[g].start <= end + row->keep_wet_min &&
                       (f == TIMETABLE_NONE || f == before || s->stand[f].end > start)
                   ? g
                   : TIMETABLE_NONE;
    }
    return TIMETABLE_NONE;
}

/* The block of set-up, hands and clean-up; false where it fits into no window. */
static bool lay_block(const struct standing *s, int i, int q, int64_t start, int32_t setup,
                      int32_t hands, int32_t cleanup, struct stand *out) {
    const struct hours *h = &s->shop->hours[q];
    int w = hours_window(h, start);
    if (w == h->n || h->windows[w].from > start) return false;
    out->start = start;
    if (!s->shop->p->tasks[i].pausable) {
        out->end = start + hands;
        out->block_from = start - setup, out->block_to = out->end + cleanup;
        return out->block_from >= h->windows[w].from && out->block_to <= h->windows[w].to;
    }
    out->end = hours_end(h, start, hands);
    out->block_from = setup ? hours_back(h, start, setup) : start;
    if (out->end == INT64_MAX || out->block_from == INT64_MIN) return false;
    out->block_to = cleanup ? hours_end(h, out->end, cleanup) : out->end;
    return out->block_to != INT64_MAX;
}

/* Where i would stand with q from `start`, and whose set-up is shared. */
static bool lay_hands(struct standing *s, int i, int q, int64_t start, struct bid *b) {
    const struct timetable_setup *row = standing_row(s, i);
    int32_t scuff = scuff_with(s, i, start, TIMETABLE_NONE, NULL);
    int32_t hands = s->shop->p->tasks[i].work_min + scuff;
    int f = standing_wet(s, i, q, start);
    int32_t setup = row && f == TIMETABLE_NONE ? row->setup_min : 0;
    if (!lay_block(s, i, q, start, setup, hands, 0, &b->at)) return false;
    b->next = wet_after(s, i, q, start, b->at.end, f);
    int32_t cleanup = row && b->next == TIMETABLE_NONE ? row->cleanup_min : 0;
    if (cleanup && !lay_block(s, i, q, start, setup, hands, cleanup, &b->at)) return false;
    b->at.person = q, b->at.follows = f, b->at.followed = b->next;
    b->at.setup_min = setup, b->at.cleanup_min = cleanup, b->at.scuff_min = scuff;
    b->at.placed = true;
    return b->at.block_from >= s->shop->p->now;
}

static bool ask_person(struct asking *a) {
    const struct stand *x = &a->bid->at;
    const struct diary *d = &a->s->diaries[x->person];
    int k = standing_block(d, x->block_from);
    while (k > 0 && d->blocks[k - 1].to > x->block_from) k--;
    for (; k < d->n && d->blocks[k].from < x->block_to; k++) {
        int j = d->blocks[k].task;
        if (j == x->follows || j == a->bid->next || d->blocks[k].to <= x->block_from) continue;
        if (!give(a, j)) return false;
    }
    int f = x->follows, other = f == TIMETABLE_NONE ? f : a->s->stand[f].followed;
    /* one that would lose the set-up to this one */
    return other == TIMETABLE_NONE || other == a->bid->next || give(a, other);
}

bool standing_bid(struct standing *s, int i, int q, int64_t start, const double *price, double most,
                  struct bid *out) {
    struct asking a = {s, out, price, most, i};
    *out = (struct bid){.next = TIMETABLE_NONE, .cost = 0};
    if (start < s->shop->earliest[i]) return false;
    if (q == TIMETABLE_NOBODY) {
        const struct timetable_task *t = &s->shop->p->tasks[i];
        int32_t scuff = scuff_with(s, i, start, TIMETABLE_NONE, NULL);
        if (t->person != TIMETABLE_NOBODY && (t->work_min || scuff)) return false;
        int64_t end = start + scuff + t->work_min;
        out->at =
            (struct stand){start, end, start, end, TIMETABLE_NOBODY, TIMETABLE_NONE, TIMETABLE_NONE,
                           0,     0,   scuff, true};
    } else if (!lay_hands(s, i, q, start, out) || out->at.start == out->at.end || !ask_person(&a)) {
        return false;
    }
    if (!ask_lags(&a) || !ask_holds(&a)) return false;
    /* whose set-up is shared does not give way */
    return !given(out, out->at.follows) && !given(out, out->next);
}

bool standing_fits(struct standing *s, int i, int q, int64_t start, int follows, bool followed,
                   struct bid *out) {
    const struct timetable_setup *row = standing_row(s, i);
    const struct timetable_task *t = &s->shop->p->tasks[i];
    struct asking a = {s, out, NULL, 0, i};
    if (q == TIMETABLE_NOBODY) return standing_bid(s, i, q, start, NULL, 0, out);
    *out = (struct bid){.next = TIMETABLE_NONE};
    int32_t setup = row && follows == TIMETABLE_NONE ? row->setup_min : 0;
    int32_t cleanup = row && !followed ? row->cleanup_min : 0;
    int32_t scuff = standing_scuff(s, i, start), hands = t->work_min + scuff;
    if (start < s->shop->earliest[i] || !hands ||
        !lay_block(s, i, q, start, setup, hands, cleanup, &out->at) ||
        out->at.block_from < s->shop->p->now)
        return false;
    const struct stand *f = follows == TIMETABLE_NONE ? NULL : &s->stand[follows];
    bool wet = f && f->placed && f->followed == TIMETABLE_NONE && f->person == q && row &&
               f->end <= start && start <= f->end + row->keep_wet_min &&
               s->shop->p->tasks[follows].setup == t->setup;
    out->at.person = q;
    out->at.follows = wet ? follows : TIMETABLE_NONE, out->at.followed = TIMETABLE_NONE;
    out->at.setup_min = setup, out->at.cleanup_min = cleanup, out->at.scuff_min = scuff;
    out->at.placed = true;
    return ask_person(&a) && ask_lags(&a) && ask_holds(&a);
}
