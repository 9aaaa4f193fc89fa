#include "core/work/day_hours.h"

#include <stdlib.h>

enum { DAY_BEGINS = 8 * 60, NIGHT_BEGINS = 20 * 60, DAY_MIN = 1440 };

int day_offset(const struct plan_options *o, int64_t utc_min) {
    int offset = o->zone_n ? o->zone[0].offset_min : 0;
    for (size_t i = 0; i < o->zone_n && o->zone[i].from_utc_min <= utc_min; i++)
        offset = o->zone[i].offset_min;
    return offset;
}

int64_t day_utc_of_local(const struct plan_options *o, int64_t local_min) {
    /* Offsets differ by an hour or so at most: the guess with the earlier offset is within one
     * change of the truth, and one more look finds the offset that holds there. */
    int64_t guess = local_min - day_offset(o, local_min - DAY_MIN);
    int64_t better = local_min - day_offset(o, guess);
    return day_offset(o, better) == day_offset(o, guess) ? better : guess;
}

static int64_t floor_day(int64_t local_min) {
    return local_min / DAY_MIN - (local_min % DAY_MIN < 0);
}

/* 1970-01-01 was a Thursday. */
static enum shop_day weekday(int64_t day) {
    return (enum shop_day)(MON + (int)(((day + 3) % 7 + 7) % 7));
}

static bool opens(const struct shop_hours *h, enum shop_day day) {
    return h->day == day || h->day == DAILY || (h->day == WEEKDAYS && day <= FRI);
}

static bool is_off(const struct shop *s, int64_t day) {
    for (size_t i = 0; i < s->days_off_n; i++)
        if (s->days_off[i] == day) return true;
    return false;
}

static int by_begin(const void *a, const void *b) {
    const struct timetable_span *x = a, *y = b;
    return x->from < y->from ? -1 : x->from > y->from;
}

static int joined(struct timetable_span *w, int n) {
    int k = 0;
    for (int i = 0; i < n; i++) {
        if (k && w[i].from <= w[k - 1].to) {
            if (w[i].to > w[k - 1].to) w[k - 1].to = w[i].to;
        } else {
            w[k++] = w[i];
        }
    }
    return k;
}

struct timetable_span *day_windows(const struct shop *shop, const struct plan_options *o,
                                   int64_t from_utc_min, int days, struct arena *arena,
                                   int *out_n) {
    struct timetable_span *w = arena_array(arena, (size_t)days * (shop->hours_n + 1), sizeof *w);
    if (!w) return NULL;
    int64_t first = floor_day(from_utc_min + day_offset(o, from_utc_min));
    int n = 0;
    for (int64_t day = first; day < first + days; day++) {
        if (is_off(shop, day)) continue;
        for (size_t i = 0; i < shop->hours_n; i++) {
            if (!opens(&shop->hours[i], weekday(day))) continue;
            struct timetable_span s = {
                day_utc_of_local(o, day * DAY_MIN + shop->hours[i].open_min),
                day_utc_of_local(o, day * DAY_MIN + shop->hours[i].close_min)};
            if (s.to > s.from) w[n++] = s;
        }
    }
    qsort(w, (size_t)n, sizeof *w, by_begin);
    *out_n = joined(w, n);
    return w;
}

static int32_t night_of(const struct day_night *other, size_t n, int64_t day, int32_t usual) {
    for (size_t i = n; i-- > 0;)
        if (other[i].day == day) return other[i].permille;
    return usual;
}

struct timetable_rate *day_rates(const struct plan_options *o, int64_t from_utc_min, int days,
                                 int32_t night_permille, const struct day_night *other,
                                 size_t other_n, struct arena *arena, int *out_n) {
    struct timetable_rate *r = arena_array(arena, (size_t)days * 2 + 2, sizeof *r);
    if (!r) return NULL;
    int64_t first = floor_day(from_utc_min + day_offset(o, from_utc_min)) - 1;
    int n = 0;
    for (int64_t day = first; day < first + days; day++) {
        r[n++] = (struct timetable_rate){day_utc_of_local(o, day * DAY_MIN + DAY_BEGINS), 1000};
        r[n++] = (struct timetable_rate){day_utc_of_local(o, day * DAY_MIN + NIGHT_BEGINS),
                                         night_of(other, other_n, day, night_permille)};
    }
    r[n++] =
        (struct timetable_rate){day_utc_of_local(o, (first + days) * DAY_MIN + DAY_BEGINS), 1000};
    *out_n = n;
    return r;
}

static double night_degc(const struct shop *shop, int64_t day) {
    for (size_t i = shop->nights_n; i-- > 0;)
        if (shop->nights[i].day == day) return shop->nights[i].degc;
    return shop->night_degc;
}

struct timetable_span *day_nights_below(const struct shop *shop, const struct plan_options *o,
                                        double degc, int64_t from_utc_min, int days,
                                        struct arena *arena, int *out_n) {
    struct timetable_span *w = arena_array(arena, (size_t)days + 1, sizeof *w);
    if (!w) return NULL;
    int64_t first = floor_day(from_utc_min + day_offset(o, from_utc_min)) - 1;
    int n = 0;
    for (int64_t day = first; day < first + days; day++)
        if (night_degc(shop, day) < degc)
            w[n++] = (struct timetable_span){day_utc_of_local(o, day * DAY_MIN + NIGHT_BEGINS),
                                             day_utc_of_local(o, (day + 1) * DAY_MIN + DAY_BEGINS)};
    *out_n = n;
    return w;
}
