/* The books of a year, stock at cost, call-backs by system, and where hours went: figures by hand.
 */
#include "core/work/work_part.h"
#include "test/check.h"
#include "test/unit/ask_one.h"

#include <math.h>

static void money(void) {
    CASE("a year by kind: in, out, driven; other years are left out") {
        CHECK(do_it("money add",
                    "{\"kind\":\"sale\",\"amount\":\"$240\",\"day\":\"2026-03-02\"}") == OK);
        CHECK(do_it("money add", "{\"kind\":\"sale\",\"amount\":\"$60\",\"day\":\"2025-12-31\"}") ==
              OK);
        CHECK(do_it("money add",
                    "{\"kind\":\"material\",\"amount\":\"$31.50\",\"day\":\"2026-03-01\","
                    "\"note\":\"enamel, \\\"white\\\"\"}") == OK);
        CHECK(do_it("money add", "{\"kind\":\"mileage\",\"amount\":\"$14\",\"distance\":\"20 mi\","
                                 "\"day\":\"2026-01-01\"}") == OK);
        CHECK(do_it("books", "{\"from\":\"2026-01-01\",\"to\":\"2026-12-31\"}") == OK);
        CHECK_NEAR(said_real(&a, from("\"kind\":\"sale\""), "in_cent"), 24000, 1e-9);
        CHECK_NEAR(said_real(&a, from("\"kind\":\"material\""), "out_cent"), 3150, 1e-9);
        const char *sum = from("],\"in_cent\"");
        CHECK_NEAR(said_real(&a, sum, "in_cent"), 24000, 1e-9);
        CHECK_NEAR(said_real(&a, sum, "out_cent"), 4550, 1e-9);
        CHECK_NEAR(said_real(&a, sum, "left_cent"), 19450, 1e-9);
        CHECK_NEAR(said_real(&a, sum, "distance_m"), 32186.88, 1e-6);
    }
    CASE("what was taken back is gone from the sums and both rows stand in the table") {
        CHECK(do_it("money add",
                    "{\"kind\":\"tool\",\"amount\":\"$90\",\"distance\":\"5 mi\",\"day\":"
                    "\"2026-04-01\"}") == OK);
        CHECK(do_it("undo", "{}") == OK);
        CHECK(do_it("books", "{\"from\":\"2026-01-01\",\"to\":\"2026-12-31\"}") == OK);
        const char *sum = from("],\"in_cent\"");
        CHECK_NEAR(said_real(&a, sum, "out_cent"), 4550, 1e-9);
        CHECK_NEAR(said_real(&a, sum, "distance_m"), 32186.88, 1e-6);
        CHECK(do_it("books table", "{\"from\":\"2026-01-01\",\"to\":\"2026-12-31\"}") == OK);
        CHECK(count_of(answer, "\r\n") == 1 + 5);
        CHECK(!strncmp(answer, "date,kind,amount,miles,km,", 26));
        CHECK(strstr(answer, "2026-01-01,mileage,-14.00,20,32.18688,") != NULL);
        CHECK(strstr(answer, "\"enamel, \"\"white\"\"\"") != NULL); /* RFC 4180 */
    }
    CASE("the last evening of a year belongs to it, by the clock of the shop") {
        enum { NEW_YEAR_UTC = 29979360 + 60 }; /* 2027-01-01 01:00Z: 7 pm in Chicago */
        int64_t before = a.now_utc_min;
        a.now_utc_min = NEW_YEAR_UTC;
        CHECK(do_it("shop change", "{\"shop\":{\"zone\":\"America/Chicago\"}}") == OK);
        CHECK(do_it("money add", "{\"kind\":\"payment\",\"amount\":\"$70\"}") == OK);
        CHECK_NEAR((double)said_int(&a, answer, "day_day"), NEW_YEAR_UTC / 1440 - 1, 1e-9);
        CHECK(do_it("books", "{}") == OK);
        CHECK_NEAR(said_real(&a, from("\"kind\":\"payment\""), "in_cent"), 7000, 1e-9);
        CHECK(do_it("undo", "{}") == OK && do_it("undo", "{}") == OK);
        a.now_utc_min = before;
    }
    CASE("the wrong way round is an error with its field") {
        CHECK(do_it("books", "{\"from\":\"2026-05-01\",\"to\":\"2026-01-31\"}") == E_DOMAIN);
        CHECK_TEXT(a.why.field, "/to");
    }
}

static void stock(void) {
    CASE("stock at its cost: part of a can counts as that part") {
        CHECK(do_it("paint add",
                    "{\"name\":\"White\",\"class\":\"wb_enamel\",\"stock\":\"16 fl oz\","
                    "\"size\":\"1 qt\",\"cost\":\"$32\"}") == OK);
        CHECK(do_it("supply add",
                    "{\"name\":\"Knobs\",\"kind\":\"hardware\",\"count\":12,\"cost\":\"$4\"}") ==
              OK);
        CHECK(do_it("books", "{}") == OK);
        CHECK_NEAR(said_real(&a, answer, "stock_cent"), 1600 + 4800, 1e-6);
        CHECK(do_it("stock table", "{}") == OK);
        CHECK(strstr(answer, ",16.00\r\n") && strstr(answer, ",48.00\r\n"));
    }
}

static void came_back(void) {
    CASE("call-backs are counted by coating system, the worst first") {
        static const char add[] =
            "{\"piece\":{\"id\":\"%s\",\"title\":\"T\",\"template\":\"stool\","
            "\"width\":\"14 in\",\"depth\":\"14 in\",\"height\":\"24 in\",\"finish\":"
            "\"%s\",\"year\":1995,\"wanted\":{\"color\":\"#456\",\"product\":\"%s\"}}}";
        const char *const rows[][3] = {{"one", "lacquer", "wb_enamel"},
                                       {"two", "lacquer", "wb_enamel"},
                                       {"three", "bare", "chalk"}};
        char args[600];
        for (size_t i = 0; i < 3; i++) {
            snprintf(args, sizeof args, add, rows[i][0], rows[i][1], rows[i][2]);
            CHECK(do_it("piece add", args) == OK);
            snprintf(args, sizeof args, "{\"id\":\"%s\",\"hours\":\"3 h\",\"price\":\"$90\"}",
                     rows[i][0]);
            CHECK(do_it("piece close", args) == OK);
        }
        CHECK(do_it("record add",
                    "{\"kind\":\"callback\",\"piece\":\"three\",\"note\":\"peels\"}") == OK);
        CHECK(do_it("callbacks", "{}") == OK);
        const char *worst = from("\"rows\":[");
        CHECK(!strncmp(said(&a, worst, "system"), "bare wood + ", 12) &&
              strstr(said(&a, worst, "system"), "chalk"));
        CHECK(said_int(&a, worst, "callbacks") == 1 && said_int(&a, worst, "pieces") == 1);
        const char *other = from("\"system\":\"lacquer");
        CHECK(said_int(&a, other, "pieces") == 2);
        CHECK(do_it("callbacks table", "{}") == OK && count_of(answer, "\r\n") == 3);
        CHECK(do_it("undo", "{}") == OK); /* the table reads only: the call-back goes */
        CHECK(do_it("callbacks", "{}") == OK && !strstr(answer, "\"callbacks\":1"));
    }
}

static void hours(void) {
    CASE("every operation and repair of the tables belongs to a part of the work") {
        const struct tables *t = a.app.tables;
        for (size_t i = 0; i < t->operations_n; i++)
            CHECK(work_part_of(t, t->operations[i].id) < WORK_PARTS);
        for (size_t i = 0; i < t->repairs_n; i++)
            CHECK(work_part_of(t, t->repairs[i].id) < WORK_PARTS);
        CHECK(work_part_of(t, "mix_batch") == WORK_SAMPLES); /* of the role color */
        CHECK(work_part_of(t, "sweeping") == WORK_PARTS && work_part_of(t, NULL) == WORK_PARTS);
    }
    CASE("where the hours went: records by operation beside the plan's parts") {
        CHECK(do_it("piece add",
                    "{\"piece\":{\"id\":\"bench\",\"title\":\"B\",\"template\":\"bench\",\"width\":"
                    "\"48 in\",\"depth\":\"14 in\",\"height\":\"18 "
                    "in\",\"finish\":\"lacquer\",\"year\":"
                    "1995,\"wanted\":{\"color\":\"#456\",\"product\":\"wb_enamel\"}}}") == OK);
        CHECK(do_it("record add", "{\"kind\":\"hours\",\"piece\":\"bench\",\"operation\":\"scuff\","
                                  "\"took\":\"50 min\"}") == OK);
        CHECK(do_it("record add", "{\"kind\":\"hours\",\"piece\":\"bench\",\"operation\":\"clean\","
                                  "\"took\":\"20 min\"}") == OK);
        CHECK(do_it("record add", "{\"kind\":\"hours\",\"piece\":\"bench\",\"operation\":\"loose_"
                                  "joint\",\"took\":\"30 min\"}") == OK);
        CHECK(do_it("record add", "{\"kind\":\"hours\",\"piece\":\"bench\",\"operation\":"
                                  "\"sweeping\",\"took\":\"5 min\"}") == OK);
        CHECK(do_it("piece went", "{\"id\":\"bench\"}") == OK);
        CHECK_NEAR(said_real(&a, from("\"id\":\"prepare\""), "actual_min"), 70, 1e-9);
        CHECK(said_real(&a, from("\"id\":\"prepare\""), "planned_min") > 30);
        CHECK_NEAR(said_real(&a, from("\"id\":\"repairs\""), "actual_min"), 30, 1e-9);
        CHECK_NEAR(said_real(&a, from("\"id\":\"other\""), "actual_min"), 5, 1e-9);
        CHECK(do_it("piece went", "{\"id\":\"nothing\"}") == E_NOT_FOUND);
    }
}

int main(void) {
    asker_open(&a);
    money();
    stock();
    came_back();
    hours();
    check_close();
    asker_close(&a);
    return check_done();
}
