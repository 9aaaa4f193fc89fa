#include "core/timetable/climate.h"

enum { NOMINAL = 1000 };

struct drying drying_make(const struct timetable_climate *c, int *near) {
    struct drying d = {c->rates, c->rates_n, near, 0, 0};
    if (!d.n) return d;
    d.first = d.rates[0].from;
    while ((d.rates[d.n - 1].from - d.first) >> d.shift >= DRYING_NEAR * d.n) d.shift++;
    for (int k = 0, i = 0; k <= DRYING_NEAR * d.n; k++) {
        while (i < d.n && d.rates[i].from <= d.first + ((int64_t)k << d.shift)) i++;
        near[k] = i;
    }
    return d;
}

/* Row in force at t: the last with from <= t, or -1. */
static int row_at(const struct drying *d, int64_t t) {
    if (t < d->first) return -1;
    int64_t k = (t - d->first) >> d->shift;
    int i = k <= DRYING_NEAR * d->n ? d->near[k] : d->n;
    while (i < d->n && d->rates[i].from <= t) i++;
    return i - 1;
}

static int64_t rate_of(const struct drying *c, int row) {
    return row < 0 ? NOMINAL : c->rates[row].progress_permille;
}

int64_t drying_after(const struct drying *c, int64_t t, int64_t minutes) {
    if (!c || !c->n) return t + minutes;
    int64_t left = minutes * NOMINAL;
    for (int row = row_at(c, t); left > 0; row++) {
        int64_t rate = rate_of(c, row);
        int64_t until = row + 1 < c->n ? c->rates[row + 1].from : INT64_MAX;
        int64_t need = rate ? (left + rate - 1) / rate : INT64_MAX;
        if (until == INT64_MAX || need <= until - t) return t + need;
        left -= rate * (until - t);
        t = until;
    }
    return t;
}

/* Where it ends moves on with where it begins, so that both are walked along once. */
bool drying_table(const struct drying *c, int64_t from, int32_t n, int64_t minutes, uint16_t *out) {
    const int64_t need = minutes * NOMINAL;
    int64_t end = from, done = 0; /* of what is needed, from the beginning in hand to `end` */
    int first = c->n ? row_at(c, from) : -1, last = first;
    for (int32_t i = 0; i < n; i++) {
        const int64_t begin = from + i;
        while (done < need) {
            if (end - begin >= UINT16_MAX) return false;
            while (last + 1 < c->n && c->rates[last + 1].from <= end) last++;
            done += rate_of(c, last);
            end++;
        }
        out[i] = (uint16_t)(end - begin);
        while (first + 1 < c->n && c->rates[first + 1].from <= begin) first++;
        done -= rate_of(c, first);
    }
    return true;
}

int64_t drying_before(const struct drying *c, int64_t t, int64_t minutes) {
    if (!c || !c->n) return t - minutes;
    int64_t left = minutes * NOMINAL, s = t;
    for (int row = row_at(c, t - 1); left > 0; row--) {
        int64_t rate = rate_of(c, row);
        int64_t since = row >= 0 ? c->rates[row].from : INT64_MIN;
        int64_t need = rate ? (left + rate - 1) / rate : INT64_MAX;
        if (row < 0 || need <= s - since) return s - need;
        left -= rate * (s - since);
        s = since;
    }
    return s;
}

void drying_range(const struct drying *c, int64_t minutes, int64_t *out_fewest, int64_t *out_most) {
    int64_t fast = NOMINAL, slow = NOMINAL;
    for (int i = 0; c && i < c->n; i++) {
        int64_t r = c->rates[i].progress_permille;
        if (r > fast) fast = r;
        if (r < slow) slow = r;
    }
    *out_fewest = minutes * NOMINAL / fast;
    *out_most = slow ? (minutes * NOMINAL + slow - 1) / slow : INT64_MAX;
    if (minutes <= 0) *out_fewest = *out_most = minutes;
}
