/* Coats and the calendar: cold nights, the air, dates that contradict each other, odd days. What is
 * expected of the trade is common practice unless another source stands beside it. */
#include "test/check.h"
#include "test/unit/days_plan.h"

static void night_cases(void) {
    CASE("a cold night dries slower; below the product's lowest temperature not at all") {
        const char *night = ",'sand_apart':true,'day_temperature':'20 °C',"
                            "'night_temperature':'18 °C'%s";
        char shop[200];
        int64_t dry[3];
        const char *cold[] = {"", ",'nights':[{'night':'2026-10-05','temperature':'12 °C'}]",
                              ",'nights':[{'night':'2026-10-05','temperature':'5 °C'}]"};
        for (int k = 0; k < 3; k++) {
            snprintf(shop, sizeof shop, night, cold[k]);
            CHECK(plan(shop, WHITE ",'label_recoat':'14 h'}", STAND("", "")) == OK);
            dry[k] = task("stand-case-color-coat1")->dry_until_utc_min;
            CHECK(task("stand-case-color-coat1")->start_utc_min < OCTOBER_5 + DAY);
        }
        CHECK(dry[0] < dry[1] && dry[1] < dry[2]);
        CHECK(dry[2] - dry[0] > 8 * 60); /* the whole night is lost */
    }
    CASE("a night without its temperature is asked back") {
        CHECK(plan(",'nights':[{'night':'2026-10-05'}]", WHITE "}", STAND("", "")) == E_MISSING);
        CHECK(!strcmp(why.field, "/shop/nights/0/temperature"));
    }
    CASE("another night changes nothing") {
        CHECK(plan("", WHITE "}", STAND("", "")) == OK);
        int64_t ready = days()->deliver_utc_min;
        CHECK(plan(",'nights':[{'night':'2026-11-20','temperature':'5 °C'}]", WHITE "}",
                   STAND("", "")) == OK);
        CHECK(days()->deliver_utc_min == ready);
    }
}

/* Is every color coat of the nightstand laid so that it is dry by 8 pm? The shop's clock is UTC. */
static bool all_dry_by_night(void) {
    size_t seen = 0;
    for (size_t i = 0; i < days()->n; i++) {
        const struct day_task *t = &days()->rows[i];
        if (!strstr(t->id, "-color-coat1")) continue;
        seen++;
        if (t->dry_until_utc_min > t->start_utc_min / DAY * DAY + 20 * 60) return false;
    }
    return seen > 0;
}

static void before_night_cases(void) {
    const char *late = ",'zone':'UTC','hours':[{'day':'daily','open':'%s','close':'%s'}],"
                       "'day_temperature':'20 C','night_temperature':'%s'%s";
    char shop[300];
    CASE("a waterborne film is dry before a night that is too cold for it to form") {
        snprintf(shop, sizeof shop, late, "08:00", "19:00", "15 C", "");
        CHECK(plan(shop, WHITE "}", STAND("", "")) == OK && !minded("night"));
        bool late_when_warm = !all_dry_by_night();
        int64_t warm = days()->deliver_utc_min;
        snprintf(shop, sizeof shop, late, "08:00", "19:00", "6 C", "");
        CHECK(plan(shop, WHITE "}", STAND("", "")) == OK);
        CHECK(late_when_warm && all_dry_by_night() && days()->deliver_utc_min >= warm);
        CHECK(minded("Dry before the night: ") && minded("dry for the next coat by 8 pm"));
        CHECK(says(task("stand-case-color-coat1")->before_night, "dry for the next coat"));
    }
    CASE("a night that is kept warm does not count, a single cold one does") {
        snprintf(shop, sizeof shop, late, "08:00", "19:00", "15 C",
                 ",'nights':[{'night':'2026-10-05','temperature':'6 C'}]");
        CHECK(plan(shop, WHITE "}", STAND("", "")) == OK);
        CHECK(minded("and a night to come has 43 \u00b0F"));
        for (size_t i = 0; i < days()->n; i++) {
            const struct day_task *t = &days()->rows[i];
            if (strstr(t->id, "-color-coat1") && t->start_utc_min < OCTOBER_5 + DAY)
                CHECK(t->dry_until_utc_min <= OCTOBER_5 + 20 * 60);
        }
    }
    CASE("hours that leave no time for it are planned all the same, and that is said") {
        snprintf(shop, sizeof shop, late, "19:00", "23:00", "6 C", "");
        CHECK(plan(shop, WHITE "}", STAND("", "")) == OK);
        CHECK(minded("Still wet in a cold night: ") && minded("; White. Below"));
        CHECK(!task("stand-case-color-coat1")->before_night);
        snprintf(shop, sizeof shop, late, "13:30", "17:30", "6 C", "");
        CHECK(plan(shop, WHITE "}", STAND("", "")) == OK);
        CHECK(minded("Dry before the night: ") && minded("dry to the touch by 8 pm"));
    }
}

/* Lowest temperatures and humidities of the classes: product_classes.tsv, common practice. Dew
 * point of air of 20 degC and 80 %: 16.4 degC (Magnus formula, WMO No. 8), less than 3 K from 18
 * degC. */
static void air_cases(void) {
    CASE("the shop's air is judged: cold, damp, cold by night") {
        CHECK(plan(",'day_temperature':'20 C','night_temperature':'16 C','humidity':'50 %'",
                   WHITE "}", STAND("", "")) == OK);
        CHECK(days()->gates.n == 0);
        CHECK_NEAR(days()->dew_degc, 9.26, .05); /* 20 degC, 50 %: Magnus formula */
        CHECK(plan(",'day_temperature':'5 C','night_temperature':'2 C','humidity':'50 %'",
                   WHITE "}", STAND("", "")) == OK);
        CHECK(minded("Not at 41 \u00b0F: waterborne bonding primer; White; waterborne clear. They "
                     "need 50 \u00b0F"));
        CHECK(days()->gates.rows[0].rank == RANK_STOP);
        view = UNITS_METRIC;
        CHECK(plan(",'day_temperature':'5 C','night_temperature':'2 C','humidity':'50 %'",
                   WHITE "}", STAND("", "")) == OK);
        view = UNITS_UNSAID;
        CHECK(minded("Not at 5 \u00b0C: waterborne bonding primer; White; waterborne clear. They "
                     "need 10 \u00b0C"));
        CHECK(plan(",'day_temperature':'20 C','night_temperature':'6 C','humidity':'50 %'",
                   WHITE "}", STAND("", "")) == OK);
        CHECK(minded("White; waterborne clear. Below 50 \u00b0F no film forms, and the shop's "
                     "nights have 43 \u00b0F; "));
        CHECK(plan(",'day_temperature':'20 C','night_temperature':'6 C','humidity':'50 %'",
                   WHITE ",'label_lowest':'5 C'}", STAND("", "")) == OK);
        CHECK(!minded(": White.")); /* its label knows better */
        CHECK(plan(",'day_temperature':'20 C','night_temperature':'18 C','humidity':'70 %'",
                   WHITE "}", STAND("", "")) == OK);
        size_t damp = 0; /* of white and clear together */
        for (size_t i = 0; i < days()->gates.n; i++)
            damp += !strcmp(days()->gates.rows[i].topic, "damp");
        CHECK(damp == 1 && minded("Slow in air of 70 %: waterborne bonding primer; White; "
                                  "waterborne clear. They may turn"));
        CHECK(plan(",'day_temperature':'20 C','night_temperature':'18 C','humidity':'95 %'",
                   WHITE "}", STAND("", "")) == OK);
        size_t dew = 0; /* said once, not for every can */
        for (size_t i = 0; i < days()->gates.n; i++)
            dew += !strcmp(days()->gates.rows[i].topic, "dew");
        CHECK(dew == 1 && minded("No coat in air of 95 %."));
    }
    CASE("an oil or shellac film only stands still in a cold night; several are said once") {
        const char *cold = ",'day_temperature':'20 C','night_temperature':'6 C','humidity':'50 %'";
#define ALKYD "{'id':'white','name':'White','class':'alkyd_enamel','color':'#f4f2ec','stock':'3 L'"
        CHECK(plan(cold, ALKYD ",'label_lowest':'10 C'}", STAND("", ",'primer':'shellac_clear'")) ==
              OK);
        CHECK(minded("They stand still at night: clear shellac, 2 lb cut; White. "
                     "Below 50 \u00b0F they do not dry"));
        CHECK(plan(cold, ALKYD ",'label_lowest':'5 C'}", STAND("", ",'primer':'shellac_clear'")) ==
              OK);
        CHECK(minded("It stands still at night: clear shellac, 2 lb cut. "
                     "Below 50 \u00b0F it does not dry"));
#undef ALKYD
    }
    CASE("no piece is ready earlier because the air is colder or damper") {
        static const char *const airs[2][7] = {{"'day_temperature':'22 C','humidity':'50 %'",
                                                "'day_temperature':'15 C','humidity':'50 %'",
                                                "'day_temperature':'10 C','humidity':'50 %'",
                                                "'day_temperature':'4 C','humidity':'50 %'",
                                                "'day_temperature':'0 C','humidity':'50 %'",
                                                "'day_temperature':'-1 C','humidity':'50 %'",
                                                "'day_temperature':'-40 C','humidity':'50 %'"},
                                               {"'day_temperature':'20 C','humidity':'0 %'",
                                                "'day_temperature':'20 C','humidity':'40 %'",
                                                "'day_temperature':'20 C','humidity':'60 %'",
                                                "'day_temperature':'20 C','humidity':'74 %'",
                                                "'day_temperature':'20 C','humidity':'85 %'",
                                                "'day_temperature':'20 C','humidity':'99 %'",
                                                "'day_temperature':'20 C','humidity':'100 %'"}};
        for (int k = 0; k < 2; k++) {
            int64_t before = 0;
            for (int i = 0; i < 7; i++) {
                char shop[128];
                snprintf(shop, sizeof shop, ",'night_temperature':'%s',%s", k ? "18 C" : "-20 C",
                         airs[k][i]);
                CHECK(plan(shop, WHITE "}", STAND("", "")) == OK);
                CHECK(days()->deliver_utc_min >= before);
                if (days()->deliver_utc_min < before) printf("%s\n", shop);
                before = days()->deliver_utc_min;
            }
        }
    }
}

static void date_cases(void) {
    CASE("nothing is done before the piece has come") {
        CHECK(plan("", WHITE "}", STAND(",'agreement':{'arrives':'2026-10-14'}", "")) == OK);
        CHECK(days()->n > 5);
        for (size_t i = 0; i < days()->n; i++)
            CHECK(days()->rows[i].start_utc_min >= (MONDAY + 9) * DAY);
    }
    CASE("what comes after it must be ready is named with both dates' distance") {
        CHECK(plan("", WHITE "}",
                   STAND(",'agreement':{'arrives':'2026-10-14','due':'2026-10-12'}", "")) ==
              E_DOMAIN);
        CHECK(!strcmp(why.field, "/pieces/0/agreement/arrives") && says(why.text, "2 days after"));
    }
    CASE("days beyond what is planned are refused with their field, not tried") {
        CHECK(plan("", WHITE "}", STAND(",'agreement':{'arrives':'2029-01-01'}", "")) == E_DOMAIN);
        CHECK(!strcmp(why.field, "/pieces/0/agreement/arrives"));
        CHECK(plan("", WHITE "}", STAND(",'waits':[{'kind':'client','until':'2030-01-01'}]", "")) ==
              E_DOMAIN);
        CHECK(!strcmp(why.field, "/pieces/0/waits/0/until"));
    }
    CASE("the heavier due date goes first") {
        const char *two =
            STAND(",'agreement':{'due':'2026-10-09'%s}",
                  "") ",{'id':'other',"
                      "'title':'Other','template':'nightstand','width':'24 in','depth':'16 in',"
                      "'height':'28 in','finish':'lacquer','year':1995,'wood':'hard_maple',"
                      "'agreement':{'due':'2026-10-09'%s},"
                      "'wanted':{'color':'#f4f2ec','product':'white'}}";
        char pieces[2000];
        snprintf(pieces, sizeof pieces, two, ",'due_weight':10", "");
        const char *half = ",'hours':[{'day':'weekdays','open':'8:00 am','close':'11:00 am'}]";
        CHECK(plan(half, WHITE "}", pieces) == OK);
        CHECK(answer.plan.pieces[0].deliver_utc_min <= answer.plan.pieces[1].deliver_utc_min);
        snprintf(pieces, sizeof pieces, two, "", ",'due_weight':10");
        CHECK(plan(half, WHITE "}", pieces) == OK);
        CHECK(answer.plan.pieces[1].deliver_utc_min <= answer.plan.pieces[0].deliver_utc_min);
    }
}

static void bound_cases(void) {
    CASE("no floor to dry on is a contradiction, little floor is said") {
        CHECK(plan(",'drying_area':'0 m2'", WHITE "}", STAND("", "")) == E_DOMAIN);
        CHECK(!strcmp(why.field, "/shop/drying_area"));
        CHECK(plan(",'drying_area':'0.05 m2'", WHITE "}", STAND("", "")) == OK);
        CHECK(minded("more floor to dry than the shop has"));
    }
    CASE("a film longer than any working day is planned with a stop, and that is said") {
        CHECK(plan(",'hours':[{'day':'daily','open':'8:00 am','close':'8:20 am'}]", WHITE "}",
                   STAND("", "")) == OK);
        CHECK(minded("a stop leaves a lap"));
    }
    CASE("more work than hours is said in hours") {
        CHECK(plan(",'hours':[{'day':'sat','open':'8:00 am','close':'8:03 am'}]", WHITE "}",
                   STAND("", "")) != OK);
        CHECK(!strcmp(why.field, "/shop/hours") && says(why.text, "Both cannot be: "));
        CHECK(says(why.text, "2 hours in which the shop is open"));
    }
    CASE("2,000 tasks of 57 pieces: one plan, in bounded memory") {
        static char pieces[57 * 320];
        size_t n = 0;
        for (int i = 0; i < 57; i++)
            n += (size_t)snprintf(pieces + n, sizeof pieces - n,
                                  "%s{'id':'p%d','template':'nightstand','doors':1,'width':'24 in',"
                                  "'depth':'16 in','height':'28 in','finish':'lacquer',"
                                  "'year':1995,'wood':'hard_maple',"
                                  "'wanted':{'color':'#f4f2ec','product':'white'}}",
                                  i ? "," : "", i);
        CHECK(plan("", WHITE "}", pieces) == OK);
        CHECK(days()->n > 1900 && days()->deliver_utc_min > OCTOBER_5);
        CHECK(arena.used_bytes < 64u << 20);
    }
    CASE("nobody and never are refused with their field") {
        CHECK(plan(",'people':0", WHITE "}", STAND("", "")) == E_DOMAIN);
        CHECK(!strcmp(why.field, "/shop/people"));
        CHECK(plan(",'hours':[{'day':'mon','open':'8:00 am','close':'8:00 am'}]", WHITE "}",
                   STAND("", "")) != OK);
        CHECK(strstr(why.field, "/shop/hours") == why.field);
    }
}

/* Gregorian calendar: 2028 is a leap year, its 29 February a Tuesday; 2027 has none. */
static void leap_cases(void) {
    enum { SUNDAY_FEB_27 = 21241, LEAP_DAY = SUNDAY_FEB_27 + 2 };
    now_min = (int64_t)SUNDAY_FEB_27 * DAY + 6 * 60;
    CASE("29 February is worked on like any Tuesday, or taken off like one") {
        CHECK(plan("", WHITE "}", STAND("", "")) == OK);
        int on = 0;
        for (size_t i = 0; i < days()->n; i++)
            on += days()->rows[i].start_utc_min / DAY == LEAP_DAY;
        CHECK(on > 0);
        CHECK(plan(",'days_off':['2028-02-29']", WHITE "}", STAND("", "")) == OK);
        for (size_t i = 0; i < days()->n; i++)
            CHECK(days()->rows[i].start_utc_min / DAY != LEAP_DAY);
        CHECK(plan("", WHITE "}", STAND(",'agreement':{'due':'2028-02-29'}", "")) == OK);
        CHECK(plan("", WHITE "}", STAND(",'agreement':{'due':'2027-02-29'}", "")) != OK);
        CHECK(!strcmp(why.field, "/pieces/0/agreement/due"));
    }
    now_min = OCTOBER_5 + 6 * 60;
}

/* IANA zone America/New_York: clocks go back on 2026-11-01, 2 am (from memory). */
static void clock_cases(void) {
    enum { FRIDAY = MONDAY + 25, SUNDAY_NOV_1 = FRIDAY + 2 };
    now_min = (int64_t)FRIDAY * DAY + 11 * 60;
    CASE("the shop opens at eight on its own clock on both sides of a clock change") {
        CHECK(plan(",'hours':[{'day':'daily','open':'8:00 am','close':'12:00 pm'}],"
                   "'zone':'America/New_York'",
                   WHITE "}", STAND("", "")) == OK);
        int before = 0, after = 0;
        for (size_t i = 0; i < days()->n; i++) {
            const struct day_task *t = &days()->rows[i];
            int64_t day = t->start_utc_min / DAY, of_day = t->start_utc_min % DAY;
            int64_t opens = (day < SUNDAY_NOV_1 ? 12 : 13) * 60; /* UTC */
            CHECK(of_day >= opens && of_day < opens + 4 * 60);
            day < SUNDAY_NOV_1 ? before++ : after++;
        }
        CHECK(before > 0 && after > 0);
    }
    now_min = OCTOBER_5 + 6 * 60;
}

int main(void) {
    night_cases();
    before_night_cases();
    air_cases();
    date_cases();
    bound_cases();
    leap_cases();
    clock_cases();
    arena_free(&arena);
    return check_done();
}
