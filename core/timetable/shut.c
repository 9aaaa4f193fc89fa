#include "core/timetable/shut.h"

/* A hold of task i alone, of something that is shut at times. */
static bool counts(const struct shop *s, int i, const struct timetable_hold *h) {
    return h->first == i && h->last == i && h->amount > 0 && s->p->resources[h->resource].shut_n;
}

static const struct timetable_lag *lag_of(const struct shop *s, const struct timetable_hold *h) {
    return h->until_lag == TIMETABLE_NONE ? NULL : &s->p->lags[h->until_lag];
}

/* First time shut that ends after `start` and begins before the hold is over; NULL: none. */
static const struct timetable_span *met(const struct shop *s, const struct timetable_hold *h,
                                        int64_t start, int64_t end) {
    const struct timetable_resource *r = &s->p->resources[h->resource];
    const struct timetable_lag *l = lag_of(s, h);
    int64_t until = l ? later(end, lag_dry(s, l, lag_base(l, start, end))) : end;
    int lo = 0, hi = r->shut_n;
    while (lo < hi) {
        int mid = lo + (hi - lo) / 2;
        if (r->shut[mid].to > start)
            hi = mid;
        else
            lo = mid + 1;
    }
    return lo < r->shut_n && r->shut[lo].from < until ? &r->shut[lo] : NULL;
}

int64_t shut_until(const struct shop *s, int i, int64_t start, int64_t end) {
    int64_t open = start;
    for (int k = s->holds_at.first[i]; k < s->holds_at.first[i + 1]; k++) {
        const struct timetable_hold *h = &s->p->holds[s->holds_at.item[k] / 2];
        const struct timetable_span *x = counts(s, i, h) ? met(s, h, start, end) : NULL;
        if (x) open = later(open, x->to);
    }
    return open;
}

int64_t shut_end_before(const struct shop *s, int i, int64_t start, int64_t end) {
    int64_t latest = end;
    for (int k = s->holds_at.first[i]; k < s->holds_at.first[i + 1]; k++) {
        const struct timetable_hold *h = &s->p->holds[s->holds_at.item[k] / 2];
        const struct timetable_span *x = counts(s, i, h) ? met(s, h, start, end) : NULL;
        const struct timetable_lag *l = lag_of(s, h);
        if (!x || (l && l->from_start)) continue;
        int64_t by = l ? drying_before(lag_drying(s, l), x->from, l->min_min) : x->from;
        if (by < latest) latest = by;
    }
    return latest;
}

/* The k-th hold of task i that counts; NULL: there are fewer. */
static const struct timetable_hold *hold_at(const struct shop *s, int i, int k) {
    for (int m = s->holds_at.first[i]; m < s->holds_at.first[i + 1]; m++) {
        const struct timetable_hold *h = &s->p->holds[s->holds_at.item[m] / 2];
        if (counts(s, i, h) && k-- == 0) return h;
    }
    return NULL;
}

static bool as_long(const struct timetable_lag *l, const struct timetable_lag *m) {
    if (!l || !m) return l == m;
    return l->min_min == m->min_min && l->climate == m->climate && l->from_start == m->from_start;
}

bool shut_alike(const struct shop *s, int a, int b) {
    for (int k = 0;; k++) {
        const struct timetable_hold *h = hold_at(s, a, k), *g = hold_at(s, b, k);
        if (!h || !g) return h == g;
        if (h->resource != g->resource || !as_long(lag_of(s, h), lag_of(s, g))) return false;
    }
}
