#include "codec/time_text.h"
#include "test/check.h"

static int64_t clock_of(const char *text) {
    int64_t v = -1;
    return clock_read(text, &v, NULL) == OK ? v : -1;
}
static int64_t day_of(const char *text) {
    int64_t v = -1;
    return day_read(text, &v, NULL) == OK ? v : -1;
}
static int64_t local_of(const char *text) {
    int64_t v = -1;
    return local_read(text, &v, NULL) == OK ? v : -1;
}
static int64_t instant_of(const char *text) {
    int64_t v = -1;
    return instant_read(text, &v, NULL) == OK ? v : -1;
}

int main(void) {
    CASE("time of day") {
        CHECK(clock_of("6:40 pm") == 18 * 60 + 40);
        CHECK(clock_of("18:40") == 18 * 60 + 40);
        CHECK(clock_of("8 am") == 480 && clock_of("8AM") == 480 && clock_of("8 a.m.") == 480);
        CHECK(clock_of("12:00 am") == 0 && clock_of("12 pm") == 720 && clock_of("24:00") == 1440);
        CHECK(clock_of("8") == -1 && clock_of("25:00") == -1 && clock_of("24:01") == -1);
        CHECK(clock_of("13 pm") == -1 && clock_of("7:5") == -1 && clock_of("7:60") == -1);
        CHECK(clock_of("") == -1 && clock_of("noon") == 720 && clock_of("Noon") == 720);
    }
    CASE("days") {
        CHECK(day_of("1970-01-01") == 0);
        CHECK(day_of("2000-03-01") == 11017);
        CHECK(day_of("2024-02-29") == 19782);
        CHECK(day_of("2026-02-29") == -1 && day_of("1900-02-29") == -1);
        CHECK(day_of("2026-13-01") == -1 && day_of("2026-1-") == -1 && day_of("12/10/2026") == -1);
        CHECK(weekday_of_day(0) == 3);
    }
    CASE("whatever names its month or begins with its year is a day") {
        static const char *const same[] = {
            "2026/12/11",       "2026.12.11",  "2026/12/11 ",       "Dec 11, 2026",  "dec. 11 2026",
            "DECEMBER 11,2026", "11 Dec 2026", "11 December, 2026", "11. Dec. 2026", "11-Dec-2026"};
        for (size_t i = 0; i < sizeof same / sizeof *same; i++)
            CHECK(day_of(same[i]) == day_of("2026-12-11"));
        CHECK(day_of("2026-1-5") == day_of("2026-01-05") &&
              day_of("Sept 3, 2026") == day_of("2026-09-03"));
        static const char *const none[] = {
            "2026/12-11", "2026/2/30",    "De 11, 2026", "Decem8er 1, 2026", "Dec 11",
            "Dec 11, 26", "Feb 29, 2025", "Dec 112026",  "Dec 11, 20266",    "2026/12/111"};
        for (size_t i = 0; i < sizeof none / sizeof *none; i++) CHECK(day_of(none[i]) == -1);
        CHECK(local_of("Dec 11, 2026, 8:00 am") == local_of("2026-12-11 08:00"));
        CHECK(local_of("2026/12/11 8 am") == local_of("2026-12-11 08:00"));
        CHECK(instant_of("Dec 11, 2026 08:00-05:00") == instant_of("2026-12-11T13:00Z"));
    }
    CASE("an order that nobody can know is refused with what would be right") {
        struct why why = {0};
        int64_t v = 77;
        CHECK(day_read("12/11/2026", &v, &why) == E_SYNTAX && v == 77);
        CHECK_TEXT(why.text,
                   "\"12/11/2026\" can be Dec 11 or Nov 12. Write 2026-12-11 or Dec 11, 2026.");
        CHECK(local_read("11.12.2026 8:00 am", &v, &why) == E_SYNTAX);
        CHECK(strstr(why.text, "can be Nov 12 or Dec 11. Write 2026-11-12 or Nov 12, 2026."));
        CHECK(moment_read("25.12.2026", &v, &why) == E_SYNTAX && v == 77);
        CHECK(strstr(why.text, "Write 2026-12-25 or Dec 25, 2026."));
        CHECK(day_read("31.2.2026", &v, &why) == E_SYNTAX && strstr(why.text, "not a day"));
    }
    CASE("every day from 1600 to 2400 goes there and back") {
        for (int64_t d = day_of_date(1600, 1, 1); d < day_of_date(2400, 1, 1); d++) {
            char text[24];
            int64_t back;
            day_print(d, text, sizeof text);
            if (day_read(text, &back, NULL) != OK || back != d) {
                CHECK(false && "there and back");
                break;
            }
        }
    }
    CASE("minutes") {
        char text[40];
        CHECK(local_of("1970-01-02 08:00") == 1440 + 480);
        CHECK(local_of("1970-01-02T8:00 am") == 1440 + 480);
        CHECK(local_of("1970-01-02") == 1440);
        CHECK(instant_of("1970-01-02T08:00Z") == 1440 + 480);
        CHECK(instant_of("1970-01-02T08:00-04:00") == 1440 + 720);
        CHECK(instant_of("1970-01-02T08:00:30.25+01:00") == 1440 + 420);
        CHECK(instant_of("2016-12-31T23:59:60Z") > 0); /* a leap second (RFC 3339, 5.7) */
        CHECK(instant_of("1970-01-02T08:00:61Z") == -1);
        CHECK(instant_of("1970-01-02T08:00") == -1 && instant_of("1970-01-02T08:00+1") == -1);
        instant_print(-1, text, sizeof text);
        CHECK_TEXT(text, "1969-12-31T23:59Z");
        local_print(1440 + 480, text, sizeof text);
        CHECK_TEXT(text, "1970-01-02 08:00");
        clock_print(UNITS_US, 18 * 60 + 40, text, sizeof text);
        CHECK_TEXT(text, "6:40 pm");
        clock_print(UNITS_US, 0, text, sizeof text);
        CHECK_TEXT(text, "12:00 am");
        clock_print(UNITS_METRIC, 425, text, sizeof text);
        CHECK_TEXT(text, "07:05");
    }
    CASE("outputs stay untouched, the reason says what would be right") {
        int64_t v = 77;
        struct why why = {0};
        CHECK(day_read("tomorrow", &v, &why) == E_SYNTAX && v == 77);
        CHECK(strstr(why.text, "2026-10-12"));
    }
    return check_done();
}
