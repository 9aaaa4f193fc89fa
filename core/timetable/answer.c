#include "core/timetable/answer.h"

/* The block of a task cut at the windows of its person; blocks of nobody are whole. */
static bool cut(const struct shop *s, struct timetable_place *x, struct arena *arena) {
    const struct hours *h = x->person >= 0 ? &s->hours[x->person] : NULL;
    int n = 0;
    for (int pass = 0; pass < 2; pass++) {
        struct timetable_span *out = NULL;
        if (pass && !(out = arena_array(arena, (size_t)(n ? n : 1), sizeof *out))) return false;
        int k = 0;
        for (int w = 0; h && w < h->n && h->windows[w].from < x->block_to; w++) {
            int64_t from = h->windows[w].from, to = h->windows[w].to;
            if (from < x->block_from) from = x->block_from;
            if (to > x->block_to) to = x->block_to;
            if (from >= to) continue;
            if (out) out[k] = (struct timetable_span){from, to};
            k++;
        }
        if (pass && !k) out[0] = (struct timetable_span){x->block_from, x->block_to};
        if (pass) x->segments = out, x->segments_n = k ? k : 1;
        n = k;
    }
    return true;
}

/* The latest of the moments that a task cannot start before, and which rule sets it. */
static int64_t pushed_to(const struct decoder *d, int i, enum timetable_reason *why, int *index) {
    const struct timetable_problem *p = d->shop->p;
    const struct timetable_task *t = &p->tasks[i];
    int64_t at = p->now;
    *why = TIMETABLE_BY_NOTHING;
    *index = TIMETABLE_NONE;
    if (t->release != TIMETABLE_UNSAID && t->release > at)
        at = t->release, *why = TIMETABLE_BY_RELEASE;
    if (t->wait != TIMETABLE_UNSAID && t->wait > at) at = t->wait, *why = TIMETABLE_BY_WAIT;
    for (int k = d->shop->lags_in.first[i]; k < d->shop->lags_in.first[i + 1]; k++) {
        int lag = d->shop->lags_in.item[k];
        const struct timetable_lag *l = &p->lags[lag];
        const struct stand *from = &d->stand[l->from];
        if (l->min_min == TIMETABLE_UNSAID || !from->placed) continue;
        int64_t dry = lag_dry(d->shop, l, lag_base(l, from->start, from->end));
        if (dry > at) at = dry, *why = TIMETABLE_BY_LAG, *index = lag;
    }
    return at;
}

static bool room_short(const struct decoder *d, int i, int *index) {
    const struct shop_list *at = &d->shop->holds_at;
    for (int k = at->first[i]; k < at->first[i + 1]; k++) {
        const struct timetable_hold *h = &d->shop->p->holds[at->item[k] / 2];
        int64_t t = d->stand[i].start;
        if (h->first != i || level_free(&d->levels[h->resource], t - 1, t, h->amount) == t - 1)
            continue;
        *index = h->resource;
        return true;
    }
    return false;
}

static bool next_holds(const struct decoder *d, int i, int *index) {
    const struct timetable_problem *p = d->shop->p;
    for (int k = d->shop->lags_out.first[i]; k < d->shop->lags_out.first[i + 1]; k++) {
        int lag = d->shop->lags_out.item[k];
        const struct timetable_lag *l = &p->lags[lag];
        const struct stand *to = &d->stand[l->to];
        if (l->max_min == TIMETABLE_UNSAID || !to->placed) continue;
        int64_t base = lag_base(l, d->stand[i].start, d->stand[i].end);
        if (to->start <= lag_latest(d->shop, l, base) &&
            to->start > lag_latest(d->shop, l, base - 1)) {
            *index = lag;
            return true;
        }
    }
    return false;
}

static enum timetable_reason reason_of(const struct decoder *d, int i, int *index) {
    const struct shop *s = d->shop;
    const struct stand *x = &d->stand[i];
    *index = TIMETABLE_NONE;
    if (s->p->tasks[i].state == TIMETABLE_FIXED) return TIMETABLE_BY_FIXED;
    enum timetable_reason pushed;
    int by;
    int64_t at = pushed_to(d, i, &pushed, &by);
    if (x->start <= at) return *index = by, pushed;
    if (x->person >= 0) {
        const struct diary_block *c =
            diary_clash(&d->diaries[x->person], x->block_from - 1, x->block_from, i);
        if (c) return *index = c->task, TIMETABLE_BY_PERSON;
        const struct hours *h = &s->hours[x->person];
        if (hours_worked(h, x->block_from) == hours_worked(h, x->block_from - 1)) {
            /* not at work a minute earlier: what it waited for came while the shop was closed? */
            if (pushed != TIMETABLE_BY_NOTHING && hours_begin(h, at, 1, true) == x->block_from)
                return *index = by, pushed;
            /* it could have begun in hours before these, but for what must follow it in time? */
            bool pausable = s->p->tasks[i].pausable;
            int64_t work = pausable ? 1 : x->block_to - x->block_from;
            if (hours_begin(h, at, work, pausable) < x->block_from && next_holds(d, i, index))
                return TIMETABLE_BY_NEXT;
            return *index = x->person, TIMETABLE_BY_HOURS;
        }
    }
    if (room_short(d, i, index)) return TIMETABLE_BY_RESOURCE;
    if (next_holds(d, i, index)) return TIMETABLE_BY_NEXT;
    if (x->person >= 0 && x->setup_min > 0 && x->start - x->setup_min <= at)
        return *index = by, pushed;
    return TIMETABLE_BY_ORDER;
}

static void fill_lags(const struct decoder *d, struct timetable_answer *a) {
    const struct timetable_problem *p = d->shop->p;
    for (int k = 0; k < p->lags_n; k++) {
        const struct timetable_lag *l = &p->lags[k];
        const struct stand *from = &d->stand[l->from], *to = &d->stand[l->to];
        struct timetable_lag_time *t = &a->lags[k];
        *t = (struct timetable_lag_time){TIMETABLE_UNSAID, TIMETABLE_UNSAID, false};
        if (!from->placed) continue;
        int64_t base = lag_base(l, from->start, from->end);
        if (l->min_min != TIMETABLE_UNSAID) t->dry = lag_dry(d->shop, l, base);
        if (l->max_min != TIMETABLE_UNSAID) t->latest = lag_latest(d->shop, l, base);
        t->missed = t->latest != TIMETABLE_UNSAID && to->placed && to->start > t->latest;
    }
}

enum status answer_make(struct decoder *d, struct arena *arena, struct timetable_answer *out) {
    const struct timetable_problem *p = d->shop->p;
    struct timetable_answer a = {.tasks_n = p->tasks_n, .lags_n = p->lags_n, .score = d->score};
    a.places = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *a.places);
    a.lags = arena_array(arena, (size_t)p->lags_n + 1, sizeof *a.lags);
    if (!a.places || !a.lags) return E_MEMORY;
    a.blocked_n = d->shop->blocked_n;
    for (int i = 0; i < p->tasks_n; i++) {
        const struct stand *s = &d->stand[i];
        const int64_t no = TIMETABLE_UNSAID;
        struct timetable_place *x = &a.places[i];
        *x = (struct timetable_place){true,
                                      d->shop->blocked_by[i],
                                      no,
                                      no,
                                      no,
                                      no,
                                      TIMETABLE_NOBODY,
                                      .follows = TIMETABLE_NONE,
                                      .reason = TIMETABLE_BY_WAIT,
                                      .reason_index = TIMETABLE_NONE};
        if (!s->placed) continue;
        *x = (struct timetable_place){false,          TIMETABLE_NONE, s->start,   s->end,
                                      s->block_from,  s->block_to,    s->person,  s->setup_min,
                                      s->cleanup_min, s->scuff_min,   s->follows, .segments_n = 0};
        if (p->tasks[i].due != TIMETABLE_UNSAID && s->end > p->tasks[i].due)
            x->late_min = s->end - p->tasks[i].due;
        x->reason = reason_of(d, i, &x->reason_index);
        if (!cut(d->shop, x, arena)) return E_MEMORY;
    }
    fill_lags(d, &a);
    *out = a;
    return OK;
}

void answer_judge(struct timetable_answer *a, int64_t now) {
    const struct timetable_score *s = &a->score, *b = &a->bound;
    a->proven = s->lateness <= b->lateness && s->finish <= b->finish;
    a->gap_percent = 0;
    if (s->lateness > b->lateness)
        a->gap_percent = 100.0 * (double)(s->lateness - b->lateness) / (double)s->lateness;
    else if (s->finish > b->finish)
        a->gap_percent = 100.0 * (double)(s->finish - b->finish) / (double)(s->finish - now);
}
