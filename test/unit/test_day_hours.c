/* The shop's clock: weekdays, hours that touch, and the nights on which clocks are moved. */
#include "core/work/day_hours.h"
#include "core/work/day_waits.h"
#include "test/check.h"

enum { DAY = 1440, HOUR = 60, MARCH_6 = 20518 /* 2026-03-06, a Friday; days since 1970 */ };

/* New York in 2026: Energy Policy Act of 2005, clocks go forward on March 8 at 2:00 and back on
 * November 1 at 2:00. */
static struct zone_span new_york[] = {{0, -5 * HOUR},
                                      {(int64_t)(MARCH_6 + 2) * DAY + 7 * HOUR, -4 * HOUR},
                                      {(int64_t)20758 * DAY + 6 * HOUR, -5 * HOUR}};
static const struct plan_options options = {.zone = new_york, .zone_n = 3};

static int64_t utc(int64_t day, int64_t hour, int64_t min) {
    return day_utc_of_local(&options, day * DAY + hour * HOUR + min) - day * DAY;
}

int main(void) {
    struct arena a;
    int n;
    arena_init(&a, alloc_heap(), 0);
    CASE("a local time is one instant, the day before, on and after clocks are moved") {
        CHECK(utc(MARCH_6, 8, 0) == 13 * HOUR);
        CHECK(utc(MARCH_6 + 2, 1, 59) == 6 * HOUR + 59);
        CHECK(utc(MARCH_6 + 2, 3, 0) == 7 * HOUR);
        CHECK(utc(MARCH_6 + 3, 8, 0) == 12 * HOUR);
        CHECK(utc(20758, 0, 59) == 4 * HOUR + 59);
        CHECK(utc(20758, 2, 0) == 7 * HOUR);
    }
    CASE("a time that is not, and one that is twice: by the offset before (RFC 5545, 3.3.5)") {
        CHECK(utc(MARCH_6 + 2, 2, 30) == 7 * HOUR + 30);
        CHECK(utc(20758, 1, 30) == 5 * HOUR + 30);
    }
    CASE("weekdays are Monday to Friday; a morning and an afternoon that touch are one") {
        struct shop_hours hours[] = {{WEEKDAYS, 12 * HOUR, 17 * HOUR},
                                     {WEEKDAYS, 8 * HOUR, 12 * HOUR}};
        struct shop shop = {.hours = hours, .hours_n = 2};
        struct timetable_span *w =
            day_windows(&shop, &options, (int64_t)MARCH_6 * DAY + 15 * HOUR, 5, &a, &n);
        CHECK(w && n == 3); /* Friday, Monday, Tuesday */
        CHECK(w && w[0].from == (int64_t)MARCH_6 * DAY + 13 * HOUR &&
              w[0].to == (int64_t)MARCH_6 * DAY + 22 * HOUR);
        CHECK(w && w[1].from == (int64_t)(MARCH_6 + 3) * DAY + 12 * HOUR);
    }
    CASE("a day off has no hours; Saturday has its own") {
        struct shop_hours hours[] = {{WEEKDAYS, 8 * HOUR, 17 * HOUR}, {SAT, 9 * HOUR, 12 * HOUR}};
        int64_t off[] = {MARCH_6 + 3};
        struct shop shop = {.hours = hours, .hours_n = 2, .days_off = off, .days_off_n = 1};
        struct timetable_span *w =
            day_windows(&shop, &options, (int64_t)MARCH_6 * DAY + 15 * HOUR, 5, &a, &n);
        CHECK(w && n == 3); /* Friday, Saturday, Tuesday */
        CHECK(w && w[1].from == (int64_t)(MARCH_6 + 1) * DAY + 14 * HOUR &&
              w[2].from == (int64_t)(MARCH_6 + 4) * DAY + 12 * HOUR);
    }
    CASE("a night that is said to be other is that night's, between day and day") {
        struct day_night cold = {MARCH_6 + 1, 100};
        struct timetable_rate *r =
            day_rates(&options, (int64_t)MARCH_6 * DAY + 15 * HOUR, 4, 500, &cold, 1, &a, &n);
        int found = 0;
        for (int i = 0; r && i < n; i++)
            if (r[i].progress_permille == 100)
                found++, CHECK(r[i].from == (int64_t)(MARCH_6 + 2) * DAY + 1 * HOUR); /* 8 pm */
        CHECK(found == 1);
    }
    CASE("an offset holds from its minute on; before the first one known it is that one") {
        int64_t spring = new_york[1].from_utc_min;
        CHECK(day_offset(&options, spring - 1) == -300 && day_offset(&options, spring) == -240);
        CHECK(day_offset(&options, -1) == -300);
        CHECK(day_offset(&(struct plan_options){.zone_n = 0}, spring) == 0);
    }
    CASE("a night is below a temperature when it is colder, from 8 pm to 8 am by the clock") {
        struct shop_night nights[] = {{MARCH_6, 15}, {MARCH_6 + 1, 14.9}};
        struct shop shop = {.night_degc = 18, .nights = nights, .nights_n = 2};
        struct timetable_span *w =
            day_nights_below(&shop, &options, 15, (int64_t)MARCH_6 * DAY + 15 * HOUR, 4, &a, &n);
        CHECK(w && n == 1); /* Saturday night, an hour short: clocks go forward in it */
        CHECK(w && w[0].from == (int64_t)(MARCH_6 + 2) * DAY + 1 * HOUR &&
              w[0].to == (int64_t)(MARCH_6 + 2) * DAY + 12 * HOUR);
        shop.nights_n = 0; /* all are alike: four of them, from last night on */
        w = day_nights_below(&shop, &options, 18.1, (int64_t)MARCH_6 * DAY + 15 * HOUR, 4, &a, &n);
        CHECK(w && n == 4 && w[0].from == (int64_t)MARCH_6 * DAY + 1 * HOUR);
    }
    CASE("nothing from outside comes before the shop's next day, whose midnight is its own") {
        struct day_ask ask = {.begin_utc_min = (int64_t)MARCH_6 * DAY + 15 * HOUR};
        int64_t next = (int64_t)(MARCH_6 + 1) * DAY + 5 * HOUR;
        CHECK(day_waits_at_least(&options, &ask, ask.begin_utc_min) == next);
        CHECK(day_waits_at_least(&options, &ask, next + 1) == next + 1);
        ask.begin_utc_min = next - 1; /* a minute before midnight, already Saturday in UTC */
        CHECK(day_waits_at_least(&options, &ask, 0) == next);
        ask.begin_utc_min = next;
        CHECK(day_waits_at_least(&options, &ask, 0) == next + DAY);
    }
    arena_free(&a);
    return check_done();
}
