/* What runs short over all pieces, counted by hand from what the plan of each one takes, and which
 * coats must not wait for the next one any longer. */
#include "test/check.h"
#include "test/unit/ask_one.h"

static double white_of(const char *member) {
    CHECK(do_it("shopping", "{}") == OK);
    const char *row = strstr(answer, "{\"product\":\"white\"");
    return row ? said_real(&a, row, member) : 0;
}

static void stand_add(const char *title) {
    char args[600];
    snprintf(args, sizeof args,
             "{\"title\":\"%s\",\"piece\":{\"template\":\"nightstand\",\"width\":\"60 cm\","
             "\"depth\":\"40 cm\",\"height\":\"70 cm\",\"finish\":\"bare\",\"year\":1995,"
             "\"wood\":\"hard_maple\",\"wanted\":{\"color\":\"#f4f2ec\",\"product\":\"white\"}}}",
             title);
    CHECK(do_it("piece add", args) == OK);
}

static void done(const char *task) {
    char args[100];
    snprintf(args, sizeof args, "{\"id\":\"%s\"}", task);
    if (do_it("task done", args)) printf("%s: %s\n", task, a.why.text), CHECK(false);
}

/* Is the coat among those whose window closes within a day, at that minute? */
static bool closes_soon(const char *task, int64_t now) {
    char id[80];
    const int64_t is = a.now_utc_min;
    snprintf(id, sizeof id, "\"id\":\"%s\"", task);
    a.now_utc_min = now;
    CHECK(do_it("today", "{\"days_only\":true}") == OK);
    a.now_utc_min = is;
    const char *list = strstr(answer, "\"windows\":["), *end = list ? strchr(list, ']') : NULL;
    const char *at = list ? strstr(list, id) : NULL;
    return at && at < end;
}

static void window_cases(void) {
    CASE("a coat's window is told in its last day, while nothing is on it yet") {
        CHECK(do_it("days", "{}") == OK);
        static const char row[] =
            "{\"id\":\"left-case-color-coat1\",\"piece\":\"left\",\"piece_title";
        const char *coat = from(row);
        int64_t end = said_int(&a, coat, "window_end_utc_min");
        CHECK(end > a.now_utc_min + 1440);
        int64_t dry = said_int(&a, coat, "dry_until_utc_min");
        a.now_utc_min += (int64_t)8 * 1440; /* the nights since were nights, whoever asks when */
        CHECK(do_it("days", "{}") == OK);
        coat = from(row);
        CHECK(said_int(&a, coat, "window_end_utc_min") == end &&
              said_int(&a, coat, "dry_until_utc_min") == dry);
        a.now_utc_min -= (int64_t)8 * 1440;
        CHECK(!closes_soon("left-case-color-coat1", end - 1440));
        CHECK(closes_soon("left-case-color-coat1", end - 1439));
        CHECK(closes_soon("left-case-color-coat1", end - 1));
        CHECK(!closes_soon("left-case-color-coat1", end));
        done("left-case-color-coat2");
        CHECK(!closes_soon("left-case-color-coat1", end - 1));
        CHECK(closes_soon("left-drawers-color-coat1", end - 1));
    }
}

int main(void) {
    double one = 0;
    asker_open(&a);
    CHECK(do_it("shop change", "{\"shop\":{\"units\":\"metric\"}}") == OK);
    CHECK(do_it("paint add", "{\"name\":\"White\",\"paint\":{\"id\":\"white\",\"class\":"
                             "\"wb_enamel\",\"color\":\"#f4f2ec\",\"stock\":\"50 ml\"}}") == OK);
    CASE("one piece lacks what it takes less what is on the shelf") {
        stand_add("Left");
        CHECK(do_it("piece plan", "{\"id\":\"left\"}") == OK);
        one = said_real(&a, from("{\"product\":\"white\",\"name\":\"White\""), "mix_ml");
        CHECK(one > 200);
        CHECK_NEAR(white_of("need_ml"), one, 1e-9);
        CHECK_NEAR(white_of("buy_ml"), one - 50, 1e-9);
    }
    CASE("two alike take twice that from the one shelf, and both are named") {
        stand_add("Right");
        CHECK_NEAR(white_of("need_ml"), 2 * one, 1e-9);
        CHECK_NEAR(white_of("buy_ml"), 2 * one - 50, 1e-9);
        CHECK(strstr(from("{\"product\":\"white\""), "\"pieces\":[\"Left\",\"Right\"]"));
    }
    CASE("the first of two coats is on: its half is not needed again, and its can is emptier") {
        done("left-case-color-coat1");
        done("left-drawers-color-coat1");
        CHECK_NEAR(white_of("need_ml"), 1.5 * one, 1e-6);
        CHECK_NEAR(white_of("used_ml"), 50, 1e-9); /* no more than there is */
        CHECK_NEAR(white_of("buy_ml"), 1.5 * one, 1e-6);
        CHECK(do_it("paint stock",
                    "{\"id\":\"white\",\"kind\":\"bought\",\"amount\":\"950 ml\"}") == OK);
        CHECK_NEAR(white_of("used_ml"), one / 2, 1e-6);
        CHECK_NEAR(white_of("buy_ml"), 1.5 * one - (1000 - one / 2), 1e-6);
    }
    CASE("what was logged for the piece is off the shelf already, and is taken off once") {
        CHECK(do_it("paint stock", "{\"id\":\"white\",\"kind\":\"used\",\"amount\":\"100 ml\","
                                   "\"piece\":\"left\"}") == OK);
        CHECK_NEAR(white_of("stock_ml"), 900, 1e-6);
        CHECK_NEAR(white_of("used_ml"), one / 2 - 100, 1e-6);
        CHECK_NEAR(white_of("buy_ml"), 1.5 * one - (1000 - one / 2), 1e-6);
        CHECK(do_it("paint stock", "{\"id\":\"white\",\"kind\":\"used\",\"amount\":\"100 ml\","
                                   "\"piece\":\"right\"}") == OK); /* of which no coat is on */
        CHECK_NEAR(white_of("used_ml"), one / 2 - 100, 1e-6);
        CHECK_NEAR(white_of("buy_ml"), 1.5 * one - (900 - one / 2), 1e-6);
    }
    CASE("half a milliliter is not bought, a whole one is") {
        char args[160];
        double lacks = white_of("buy_ml");
        snprintf(args, sizeof args, "{\"id\":\"white\",\"kind\":\"bought\",\"amount\":\"%.6f ml\"}",
                 lacks - 0.4);
        CHECK(do_it("paint stock", args) == OK && white_of("buy_ml") == 0);
        CHECK(do_it("undo", "{}") == OK);
        snprintf(args, sizeof args, "{\"id\":\"white\",\"kind\":\"bought\",\"amount\":\"%.6f ml\"}",
                 lacks - 0.6);
        CHECK(do_it("paint stock", args) == OK);
        CHECK_NEAR(white_of("buy_ml"), 0.6, 1e-4);
    }
    window_cases();
    asker_close(&a);
    return check_done();
}
