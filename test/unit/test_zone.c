/* The shop's clock across the changes to and from daylight saving time. */
#include "app/zone.h"
#include "core/work/day_hours.h"
#include "test/check.h"

enum { DAY = 1440, HOUR = 60 };
enum { OCT_12_2026 = 20738, NOV_1_2026 = 20758, MAR_14_2027 = 20891 }; /* days since 1970 */

static struct arena arena;
static struct why why;

/* Since 2007 New York is four hours behind from the second Sunday of March to the first Sunday of
 * November, each 2 am by the clock that ends, five hours else (15 USC 260a). */
static void new_york(void) {
    struct plan_options o = {0};
    CASE("a year back and two ahead, each change at its minute") {
        CHECK(zone_spans("America/New_York", OCT_12_2026 * DAY, &arena, &o.zone, &o.zone_n, &why) ==
              OK);
        CHECK(o.zone_n == 7);
        const int64_t autumn = NOV_1_2026 * DAY + 6 * HOUR, spring = MAR_14_2027 * DAY + 7 * HOUR;
        CHECK(day_offset(&o, autumn - 1) == -4 * HOUR && day_offset(&o, autumn) == -5 * HOUR);
        CHECK(day_offset(&o, spring - 1) == -5 * HOUR && day_offset(&o, spring) == -4 * HOUR);
    }
    CASE("8 am is 8 am on both sides of a change; an hour there twice is its first") {
        for (int d = -1; d <= 1; d++) {
            int64_t autumn = (NOV_1_2026 + d) * DAY, spring = (MAR_14_2027 + d) * DAY;
            CHECK(day_utc_of_local(&o, autumn + 8 * HOUR) == autumn + (d < 0 ? 12 : 13) * HOUR);
            CHECK(day_utc_of_local(&o, spring + 8 * HOUR) == spring + (d < 0 ? 13 : 12) * HOUR);
        }
        CHECK(day_utc_of_local(&o, NOV_1_2026 * DAY + 90) == NOV_1_2026 * DAY + 90 + 4 * HOUR);
    }
    CASE("a shop open all day has a day of 25 hours and one of 23") {
        struct shop_hours all = {.day = DAILY, .open_min = 0, .close_min = DAY};
        struct shop shop = {.hours = &all, .hours_n = 1};
        const int days[] = {NOV_1_2026, MAR_14_2027};
        for (int i = 0; i < 2; i++) {
            int n = 0;
            const struct timetable_span *w =
                day_windows(&shop, &o, days[i] * (int64_t)DAY + 12 * HOUR, 1, &arena, &n);
            CHECK(w && n == 1 && w[0].to - w[0].from == (i ? 23 : 25) * HOUR);
        }
    }
    CASE("the day on the shop's clock, late in the evening") {
        int64_t late = OCT_12_2026 * DAY + 3 * HOUR; /* 11 pm the day before */
        CHECK(zone_day("America/New_York", late, &arena) == OCT_12_2026 - 1);
        CHECK(zone_day("UTC", late, &arena) == OCT_12_2026);
    }
}

static void refused(void) {
    CASE("what is no zone is refused: a folder of zones, a list beside them, a way out of them") {
        const struct zone_span *spans = NULL;
        size_t n = 7;
        const char *const names[] = {"America",         "leapseconds",   "Nowhere/Town",
                                     "../zoneinfo/UTC", "/etc/hostname", ""};
        for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
            CHECK(zone_spans(names[i], 0, &arena, &spans, &n, &why) == E_DOMAIN);
            CHECK_TEXT(why.field, "/shop/zone");
        }
        CHECK(!spans && n == 7);
        CHECK(zone_spans("UTC", 0, &arena, &spans, &n, &why) == OK && n == 1);
    }
}

int main(void) {
    arena_init(&arena, alloc_heap(), 0);
    new_york();
    refused();
    arena_free(&arena);
    return check_done();
}
