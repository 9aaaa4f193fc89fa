/* Working time, drying time and what is booked of them, each by itself, counted by hand. */
#include "core/timetable/booking.h"
#include "core/timetable/climate.h"
#include "core/timetable/spare.h"
#include "test/check.h"

enum { NEVER = 3 /* the windows of the shop; beyond them nobody works */, ROOM = 16 };

static struct arena arena;
/* 8 to 12 and 13 to 17, and the morning after: 240 minutes each */
static const struct timetable_span windows[] = {{480, 720}, {780, 1020}, {1920, 2160}};
static int64_t before[ROOM];
static int near[HOURS_NEAR * ROOM + 1];

static struct hours open_shop(void) {
    return hours_make(windows, NEVER, before, near);
}

static void cases_hours(void) {
    struct hours h = open_shop();
    CASE("a window holds its first minute, not its end") {
        static const int64_t at[] = {0, 480, 719, 720, 779, 1019, 1020, 2159, 2160, 9000};
        static const int want[] = {0, 0, 0, 1, 1, 1, 2, 2, 3, 3};
        for (int i = 0; i < 10; i++) CHECK(hours_window(&h, at[i]) == want[i]);
        CHECK(hours_worked(&h, 479) == 0 && hours_worked(&h, 500) == 20);
        CHECK(hours_worked(&h, 720) == 240 && hours_worked(&h, 780) == 240);
        CHECK(hours_worked(&h, 1021) == 480 && hours_worked(&h, INT64_MAX) == 720);
    }
    CASE("the index finds windows of a week and of years apart") {
        static const struct timetable_span far[] = {
            {-7, 3}, {5, 6}, {20, 30}, {100000, 100010}, {100011, 100012}, {900000, 900001}};
        struct hours f = hours_make(far, 6, before, near);
        static const int64_t at[] = {-8,     -7,     2,      3,      5,      6,
                                     19,     29,     30,     99999,  100009, 100010,
                                     100011, 100012, 899999, 900000, 900001};
        for (size_t i = 0; i < sizeof at / sizeof *at; i++) {
            int w = 0;
            while (w < 6 && far[w].to <= at[i]) w++;
            CHECK(hours_window(&f, at[i]) == w);
        }
        CHECK(hours_longest(&f) == 10);
        h = open_shop();
    }
    CASE("what may not pause begins where a window has all of it left") {
        CHECK(hours_begin(&h, 0, 60, false) == 480 && hours_begin(&h, 0, 0, false) == 0);
        CHECK(hours_begin(&h, 700, 20, false) == 700 && hours_begin(&h, 700, 21, false) == 780);
        CHECK(hours_begin(&h, 0, 240, false) == 480 && hours_begin(&h, 0, 241, false) == INT64_MAX);
        CHECK(hours_begin(&h, 700, 21, true) == 700 && hours_begin(&h, 730, 21, true) == 780);
        CHECK(hours_begin(&h, 780, 480, true) == 780 &&
              hours_begin(&h, 781, 480, true) == INT64_MAX);
        CHECK(hours_begin(&h, 2160, 1, true) == INT64_MAX);
    }
    CASE("work ends at closing time where it can, not at the next opening") {
        CHECK(hours_end(&h, 480, 240) == 720 && hours_end(&h, 480, 241) == 781);
        CHECK(hours_end(&h, 700, 260) == 1020 && hours_end(&h, 700, 261) == 1921);
        CHECK(hours_end(&h, 0, 10) == 490 && hours_end(&h, 730, 10) == 790);
        CHECK(hours_end(&h, 480, 720) == 2160 && hours_end(&h, 480, 721) == INT64_MAX);
    }
    CASE("reckoned back, work begins in a window and not at its end") {
        CHECK(hours_back(&h, 720, 240) == 480 && hours_back(&h, 490, 10) == 480);
        CHECK(hours_back(&h, 480, 1) == INT64_MIN && hours_back(&h, 2500, 1) == 2159);
        CHECK(hours_back(&h, 780, 10) == 710 && hours_back(&h, 790, 20) == 710);
        CHECK(hours_back(&h, 1920, 240) == 780); /* not 12 o'clock: nobody works then */
        CHECK(hours_latest(&h, 1020, 240, false) == 780 &&
              hours_latest(&h, 1019, 240, false) == 480);
        CHECK(hours_latest(&h, 790, 30, false) == 690 && hours_latest(&h, 790, 30, true) == 700);
        CHECK(hours_latest(&h, 1950, 60, false) == 960 &&
              hours_latest(&h, 3000, 240, false) == 1920);
        CHECK(hours_latest(&h, 719, 240, false) == INT64_MIN && hours_latest(&h, 5, 0, false) == 5);
        CHECK(hours_closing(&h, 720) == INT64_MIN && hours_closing(&h, 721) == 720);
        CHECK(hours_closing(&h, 1020) == 720 && hours_closing(&h, 5000) == 2160);
    }
    CASE("who has no hours never begins") {
        struct hours none = hours_make(windows, 0, before, near);
        CHECK(hours_window(&none, 5) == 0 && hours_worked(&none, 5) == 0);
        CHECK(hours_begin(&none, 5, 1, true) == INT64_MAX && hours_end(&none, 5, 1) == INT64_MAX);
        CHECK(hours_latest(&none, 5, 1, false) == INT64_MIN && hours_longest(&none) == 0);
    }
}

/* Minute by minute; what is over within a minute is over at its end. */
static int64_t dried(const struct timetable_rate *r, int n, int64_t t, int64_t minutes) {
    for (int64_t left = minutes * 1000; left > 0; t++) {
        int64_t rate = 1000;
        for (int i = 0; i < n && r[i].from <= t; i++) rate = r[i].progress_permille;
        left -= rate;
    }
    return t;
}

static void cases_drying(void) {
    /* half as fast, then not at all, then twice as fast */
    static const struct timetable_rate rates[] = {{0, 500}, {100, 0}, {200, 2000}};
    static const struct timetable_climate climate = {rates, 3};
    int by_time[DRYING_NEAR * ROOM + 1];
    struct drying d = drying_make(&climate, by_time);
    CASE("10 minutes from 90 on: 5 by 100, none by 200, 5 in 2.5") {
        CHECK(drying_after(&d, 90, 10) == 203 && drying_after(&d, 88, 10) == 202);
        CHECK(drying_after(&d, -10, 20) == 20); /* 10 as usual, 10 at half */
        CHECK(drying_after(&d, 100, 1) == 201 && drying_after(&d, 150, 0) == 150);
        CHECK(drying_after(&d, 80, 10) == 100); /* over as it stands still */
        CHECK(drying_after(NULL, 80, 10) == 90);
    }
    CASE("reckoned back it is the latest moment that still comes to the same") {
        CHECK(drying_before(&d, 203, 10) == 92); /* 3 x 2, then 4 at half */
        CHECK(drying_before(&d, 202, 10) == 88);
        CHECK(drying_before(&d, 200, 1) == 98 && drying_before(&d, 150, 1) == 98);
        CHECK(drying_before(&d, 5, 20) == -18); /* 2.5 and 17.5 before the first row */
        CHECK(drying_before(NULL, 80, 10) == 70 && drying_before(&d, 150, 0) == 150);
    }
    CASE("from any moment, rows uneven in time, both ways: as minute by minute") {
        static const struct timetable_rate uneven[] = {{-50, 250}, {-49, 1000}, {3, 700},   {4, 0},
                                                       {90, 3000}, {1500, 1},   {1600, 900}};
        static const struct timetable_climate rough = {uneven, 7};
        struct drying u = drying_make(&rough, by_time);
        int wrong = 0;
        for (int64_t t = -80; t < 1700; t += 3)
            for (int64_t m = 1; m < 60; m += 11) {
                int64_t end = dried(uneven, 7, t, m), last = drying_before(&u, end, m);
                wrong += drying_after(&u, t, m) != end;
                wrong += last < t || dried(uneven, 7, last, m) > end ||
                         dried(uneven, 7, last + 1, m) <= end;
            }
        CHECK(!wrong);
    }
    CASE("fewest and most minutes that drying can take") {
        int64_t few = 0, most = 0;
        drying_range(&d, 20, &few, &most);
        CHECK(few == 10 && most == INT64_MAX);
        static const struct timetable_rate slow[] = {{0, 300}};
        struct drying s = drying_make(&(struct timetable_climate){slow, 1}, by_time);
        drying_range(&s, 61, &few, &most); /* 61 / .3 = 203.3 */
        CHECK(few == 61 && most == 204);
        drying_range(&s, -5, &few, &most);
        CHECK(few == -5 && most == -5);
    }
}

static int task_at(const struct diary *d, int64_t from, int64_t to, int but) {
    const struct diary_block *b = diary_clash(d, from, to, but);
    return b ? b->task : -1;
}

static void cases_diary(void) {
    struct diary d;
    CHECK(diary_make(&d, ROOM, &arena));
    diary_add(&d, 100, 200, 1);
    diary_add(&d, 300, 400, 2);
    diary_add(&d, 50, 80, 3);
    CASE("blocks that touch do not clash") {
        CHECK(d.n == 3 && d.blocks[0].task == 3 && d.blocks[1].task == 1);
        CHECK(task_at(&d, 80, 100, -1) == -1 && task_at(&d, 80, 101, -1) == 1);
        CHECK(task_at(&d, 200, 300, -1) == -1 && task_at(&d, 199, 300, -1) == 1);
        CHECK(task_at(&d, 150, 300, 1) == -1 && task_at(&d, 150, 301, 1) == 2);
    }
    CASE("a gap is used to its last minute") {
        CHECK(diary_gap(&d, 0, 50, -1) == 0 && diary_gap(&d, 0, 51, -1) == 200);
        CHECK(diary_gap(&d, 200, 100, -1) == 200 && diary_gap(&d, 200, 101, -1) == 400);
        CHECK(diary_gap(&d, 60, 20, -1) == 80 && diary_gap(&d, 80, 101, 1) == 80);
    }
    CASE("what is fixed fills what is free; shortened to nothing a block is gone") {
        diary_end_at(&d, 101, 102);
        diary_end_at(&d, 100, 150);
        CHECK(task_at(&d, 150, 300, -1) == -1 && task_at(&d, 149, 150, -1) == 1);
        diary_end_at(&d, 100, 100);
        CHECK(d.n == 2 && d.blocks[1].task == 2 && task_at(&d, 80, 300, -1) == -1);
        diary_fill(&d, 40, 350, 9); /* 40 to 50, 80 to 300 */
        CHECK(d.n == 4 && d.blocks[0].from == 40 && d.blocks[0].to == 50);
        CHECK(d.blocks[2].from == 80 && d.blocks[2].to == 300 && d.blocks[2].task == 9);
        diary_fill(&d, 390, 450, 8);
        CHECK(d.n == 5 && d.blocks[4].from == 400 && d.blocks[4].to == 450);
        diary_fill(&d, 60, 449, 7);
        CHECK(d.n == 5);
    }
}

static void cases_level(void) {
    static const struct timetable_span shut[] = {{100, 200}};
    static const struct timetable_resource place = {"place", 3, shut, 1};
    struct level l;
    CHECK(level_make(&l, 4, &place, &arena));
    CASE("shut is taken whole, open is free to its last minute") {
        CHECK(level_free(&l, 0, 100, 3) == 0 && level_free(&l, 0, 101, 1) == 200);
        CHECK(level_free(&l, 200, 999, 3) == 200 && level_last_change(&l) == 200);
        CHECK(level_step_at(&l, 99) == 0 && level_step_at(&l, 100) == 1);
    }
    CASE("2 of 3 places from 20 to 60, 1 more from 40 to 80") {
        level_add(&l, 20, 60, 2);
        CHECK(level_free(&l, 0, 50, 1) == 0 && level_free(&l, 0, 50, 2) == 60);
        CHECK(level_free(&l, 10, 20, 3) == 10 && level_free(&l, 60, 90, 3) == 60);
        level_add(&l, 40, 80, 1);
        CHECK(level_free(&l, 0, 40, 1) == 0 && level_free(&l, 0, 41, 1) == 60);
        CHECK(level_free(&l, 0, 99, 2) == 60 && level_free(&l, 0, 99, 3) == 80);
        CHECK(l.n == 7); /* ever, 20, 40, 60, 80, 100, 200 */
        level_add(&l, 40, 80, -1);
        CHECK(l.n == 5);
        level_add(&l, 20, 60, -2);
        CHECK(l.n == 3 && level_free(&l, 0, 100, 3) == 0);
    }
    CASE("what is held for ever is not free again") {
        level_add(&l, 300, BOOKING_FOREVER, 1);
        CHECK(level_free(&l, 250, 300, 3) == 250 && level_free(&l, 250, 301, 2) == 250);
        CHECK(level_free(&l, 250, 301, 3) == BOOKING_FOREVER);
        level_clear(&l);
        CHECK(l.n == 3 && level_free(&l, 250, 301, 3) == 250);
    }
}

/* Begin of what fits, its end in *to; -1: nowhere. */
static int64_t fit(struct spare *s, int64_t from, int64_t work, bool pausable, int64_t *to) {
    struct spare_fit f;
    if (!spare_fit(s, from, work, pausable, &f)) return -1;
    return *to = f.to, f.begin;
}

static void cases_spare(void) {
    struct hours h = open_shop();
    struct spare s;
    int64_t to = 0;
    CHECK(spare_make(&s, &h, ROOM, &arena));
    spare_clear(&s, 0);
    CASE("a booking cuts a window in two; what may pause does so at closing time alone") {
        spare_take(&s, 500, 520);
        CHECK(fit(&s, 480, 20, false, &to) == 480 && to == 500);
        CHECK(fit(&s, 480, 21, false, &to) == 520 && to == 541);
        CHECK(fit(&s, 480, 21, true, &to) == 520 && to == 541);
        CHECK(fit(&s, 520, 200, false, &to) == 520 && to == 720);
        CHECK(fit(&s, 521, 200, false, &to) == 780 && to == 980);
        CHECK(fit(&s, 521, 200, true, &to) == 521 && to == 781);
        spare_take(&s, 780, 790); /* nothing goes on at 1 pm any more */
        CHECK(fit(&s, 521, 200, true, &to) == 790 && to == 990);
        spare_give(&s, 780, 790);
        CHECK(fit(&s, 521, 200, true, &to) == 521 && to == 781);
    }
    CASE("booked over lunch and given back, all is as it was") {
        spare_take(&s, 700, 800);
        CHECK(fit(&s, 690, 11, true, &to) == 800 && to == 811);
        spare_give(&s, 500, 520);
        CHECK(fit(&s, 0, 220, false, &to) == 480 && to == 700);
        spare_give(&s, 700, 800);
        CHECK(fit(&s, 0, 240, false, &to) == 480 && to == 720);
        CHECK(fit(&s, 480, 481, true, &to) == 480 && to == 1921);
        CHECK(fit(&s, 480, 720, true, &to) == 480 && to == 2160);
        CHECK(s.n == 3); /* one piece a window */
    }
    CASE("given back in parts it joins what lies on both sides") {
        spare_take(&s, 480, 720);
        CHECK(fit(&s, 0, 1, false, &to) == 780);
        spare_give(&s, 600, 720);
        spare_give(&s, 480, 500);
        CHECK(fit(&s, 0, 21, false, &to) == 600 && to == 621);
        spare_give(&s, 500, 600);
        CHECK(fit(&s, 0, 240, false, &to) == 480 && to == 720 && s.n == 3);
    }
    CASE("what has no room is said to have none") {
        CHECK(fit(&s, 0, 241, false, &to) == -1 && fit(&s, 480, 721, true, &to) == -1);
        CHECK(fit(&s, 2159, 1, false, &to) == 2159 && fit(&s, 2160, 1, true, &to) == -1);
    }
}

int main(void) {
    arena_init(&arena, alloc_heap(), 0);
    cases_hours();
    cases_drying();
    cases_diary();
    cases_level();
    cases_spare();
    arena_free(&arena);
    return check_done();
}
