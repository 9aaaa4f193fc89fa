/* Drying as progress: slower at night, faster where it is warm, standing still in the cold. */
#include "core/timetable/climate.h"
#include "test/check.h"

enum { NEAR = 64, MINUTES = 400 };

static int near[NEAR];

/* Counted minute by minute, as the header defines it. */
static int64_t counted(const struct timetable_climate *c, int64_t t, int64_t minutes) {
    int64_t done = 0;
    for (; done < minutes * 1000; t++) {
        int64_t rate = 1000;
        for (int i = 0; i < c->rates_n && c->rates[i].from <= t; i++)
            rate = c->rates[i].progress_permille;
        done += rate;
    }
    return t;
}

static void hand(void) {
    const struct timetable_rate rates[] = {{100, 500}, {200, 0}, {250, 2000}};
    const struct timetable_climate c = {.rates = rates, .rates_n = 3};
    const struct drying d = drying_make(&c, near);
    uint16_t table[3];
    CASE("60 minutes from 70 on: 30 as they are, 60 at half") {
        CHECK(drying_after(&d, 70, 60) == 160);
        CHECK(drying_before(&d, 160, 60) == 70);
    }
    CASE("60 minutes from 150 on: 25 of them until 200, none until 250, then two a minute") {
        CHECK(drying_after(&d, 150, 60) == 268); /* 35 / 2, whole minutes */
        CHECK(drying_table(&d, 149, 3, 60, table));
        CHECK(table[0] == 268 - 149); /* half a minute less to do: 34.5 / 2 */
        CHECK(table[1] == 268 - 150);
        CHECK(table[2] == 268 - 151);
    }
    CASE("no climate: clock minutes") {
        CHECK(drying_after(NULL, 7, 60) == 67);
        CHECK(drying_before(NULL, 67, 60) == 7);
    }
}

static void counted_minutes(void) {
    const struct timetable_rate rates[] = {{-30, 700}, {0, 1300},  {11, 0},     {60, 1},
                                           {61, 250},  {150, 900}, {151, 3000}, {300, 1000}};
    const struct timetable_climate c = {.rates = rates, .rates_n = 8};
    const struct drying d = drying_make(&c, near);
    static const int64_t lasts[] = {1, 7, 60, 333};
    static uint16_t table[MINUTES];
    for (size_t k = 0; k < sizeof lasts / sizeof *lasts; k++)
        CASE("each minute as counted, one by one and in a table") {
            bool after = true, rows = true, before = true;
            CHECK(drying_table(&d, -50, MINUTES, lasts[k], table));
            for (int64_t t = -50; t < MINUTES - 50; t++) {
                const int64_t end = counted(&c, t, lasts[k]);
                after &= drying_after(&d, t, lasts[k]) == end;
                rows &= t + table[t + 50] == end;
                /* the latest beginning: the next minute's would end later */
                const int64_t from = drying_before(&d, end, lasts[k]);
                before &=
                    counted(&c, from, lasts[k]) <= end && counted(&c, from + 1, lasts[k]) > end;
            }
            CHECK(after);
            CHECK(rows);
            CHECK(before);
        }
}

static void limits(void) {
    const struct timetable_rate still[] = {{0, 0}, {65000, 1000}};
    const struct timetable_climate c = {.rates = still, .rates_n = 2};
    const struct drying d = drying_make(&c, near);
    uint16_t table[2];
    CASE("16 bits hold 65,535 minutes and not one more") {
        CHECK(drying_table(&d, 0, 1, 535, table) && table[0] == 65535);
        CHECK(!drying_table(&d, 0, 1, 536, table));
        CHECK(drying_table(&d, 1, 1, 536, table) && table[0] == 65535);
    }
    CASE("fewest and most minutes of a film, whenever begun") {
        int64_t fewest, most;
        drying_range(&d, 60, &fewest, &most);
        CHECK(fewest == 60 && most == INT64_MAX);
        const struct timetable_rate cold[] = {{0, 400}, {10, 1500}};
        const struct timetable_climate two = {.rates = cold, .rates_n = 2};
        const struct drying e = drying_make(&two, near);
        drying_range(&e, 60, &fewest, &most);
        CHECK(fewest == 40 && most == 150);
    }
}

int main(void) {
    hand();
    counted_minutes();
    limits();
    return check_done();
}
