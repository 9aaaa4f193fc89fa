#include "core/timetable/climate.h"

enum { NOMINAL = 1000 };

/* Row in force at t: the last with from <= t, or -1. */
static int row_at(const struct timetable_climate *c, int64_t t) {
    int lo = 0, hi = c->rates_n;
    while (lo < hi) {
        int mid = lo + (hi - lo) / 2;
        if (c->rates[mid].from <= t)
            lo = mid + 1;
        else
            hi = mid;
    }
    return lo - 1;
}

static int64_t rate_of(const struct timetable_climate *c, int row) {
    return row < 0 ? NOMINAL : c->rates[row].progress_permille;
}

int64_t climate_after(const struct timetable_climate *c, int64_t t, int64_t minutes) {
    if (!c || !c->rates_n) return t + minutes;
    int64_t left = minutes * NOMINAL;
    for (int row = row_at(c, t); left > 0; row++) {
        int64_t rate = rate_of(c, row);
        int64_t until = row + 1 < c->rates_n ? c->rates[row + 1].from : INT64_MAX;
        int64_t need = rate ? (left + rate - 1) / rate : INT64_MAX;
        if (until == INT64_MAX || need <= until - t) return t + need;
        left -= rate * (until - t);
        t = until;
    }
    return t;
}

int64_t climate_before(const struct timetable_climate *c, int64_t t, int64_t minutes) {
    if (!c || !c->rates_n) return t - minutes;
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

void climate_range(const struct timetable_climate *c, int64_t minutes, int64_t *out_fewest,
                   int64_t *out_most) {
    int64_t fast = NOMINAL, slow = NOMINAL;
    for (int i = 0; c && i < c->rates_n; i++) {
        int64_t r = c->rates[i].progress_permille;
        if (r > fast) fast = r;
        if (r < slow) slow = r;
    }
    *out_fewest = minutes * NOMINAL / fast;
    *out_most = slow ? (minutes * NOMINAL + slow - 1) / slow : INT64_MAX;
    if (minutes <= 0) *out_fewest = *out_most = minutes;
}
