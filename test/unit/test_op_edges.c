/* What stands just inside and just outside of a limit, asked of a book. */
#include "test/check.h"
#include "test/unit/ask_one.h"

#include <math.h>

static void days(void) {
    CHECK(
        do_it("piece add",
              "{\"title\":\"Desk\",\"template\":\"desk\",\"width\":\"34 in\",\"depth\":\"20 in\","
              "\"height\":\"30 in\",\"piece\":{\"wood\":\"mdf\",\"finish\":\"bare\",\"year\":2001,"
              "\"wanted\":{\"color\":\"#445566\"}}}") == OK);
    CASE("begun and done within four hours took so long; what took longer was not one go") {
        CHECK(do_it("task start", "{\"id\":\"desk-photo_before\"}") == OK);
        a.now_utc_min += 239;
        CHECK(do_it("task done", "{\"id\":\"desk-photo_before\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "took_min"), 239, 1e-9);
        CHECK(do_it("task undone", "{\"id\":\"desk-photo_before\"}") == OK);
        CHECK(do_it("task start", "{\"id\":\"desk-photo_before\"}") == OK);
        a.now_utc_min += 240;
        CHECK(do_it("task done", "{\"id\":\"desk-photo_before\"}") == OK);
        CHECK(!*said(&a, answer, "took_min"));
        CHECK(do_it("task undone", "{\"id\":\"desk-photo_before\"}") == OK);
        a.now_utc_min = TEMP_NOW;
    }
    CASE("a clock may be a day ahead; what lies farther ahead was not done") {
        /* now: 2026-10-10 02:40 UTC */
        CHECK(do_it("task done", "{\"id\":\"desk-photo_before\",\"at\":\"2026-10-11T02:41Z\"}") ==
              E_DOMAIN);
        CHECK_TEXT(a.why.field, "/at");
        CHECK(do_it("task done", "{\"id\":\"desk-photo_before\",\"at\":\"2026-10-11T02:40Z\"}") ==
              OK);
        CHECK(do_it("undo", "{}") == OK);
    }
}

static void money(void) {
    CASE("a refund goes out, and is nothing that comes in less") {
        CHECK(do_it("money add", "{\"kind\":\"payment\",\"amount\":\"$100\"}") == OK);
        CHECK(do_it("money add", "{\"kind\":\"refund\",\"amount\":\"$20\"}") == OK);
        CHECK(do_it("books", "{\"from\":\"2026-01-01\",\"to\":\"2026-12-31\"}") == OK);
        CHECK(said_int(&a, from("\"kind\":\"refund\""), "out_cent") == 2000);
        CHECK(said_int(&a, from("\"left_cent\""), "left_cent") == 8000);
        CHECK(do_it("undo", "{}") == OK && do_it("undo", "{}") == OK);
    }
    CASE("listed today it was sold within no day; a purchase on record goes before what was said; "
         "both also of a piece that cannot be planned, for want of its sizes") {
        CHECK(do_it("piece add",
                    "{\"title\":\"Stool\",\"template\":\"stool\",\"piece\":{\"year\":"
                    "2001,\"agreement\":{\"purpose\":\"sale\",\"listed\":\"2026-10-10\""
                    ",\"bought\":\"$25\",\"asking\":\"$90\"}}}") == OK);
        CHECK(do_it("piece close", "{\"id\":\"stool\",\"hours\":\"2 h\",\"price\":\"$90\"}") == OK);
        CHECK(said_int(&a, answer, "days_to_sell") == 0);
        CHECK_NEAR(said_real(&a, answer, "bought_cent"), 2500, 1e-9);
        CHECK(do_it("undo", "{}") == OK);
        CHECK(do_it("money add",
                    "{\"kind\":\"purchase\",\"amount\":\"$40\",\"piece\":\"stool\"}") == OK);
        CHECK(do_it("piece change", "{\"id\":\"stool\",\"piece\":{\"agreement\":{\"listed\":"
                                    "\"2026-10-11\"}}}") == OK);
        CHECK(do_it("piece close", "{\"id\":\"stool\",\"hours\":\"2 h\",\"price\":\"$90\"}") == OK);
        CHECK(!*said(&a, answer, "days_to_sell")); /* that day is still to come */
        CHECK_NEAR(said_real(&a, answer, "bought_cent"), 4000, 1e-9);
    }
}

static void pieces(void) {
    CASE("a half of five pulls is three: none is forgotten") {
        CHECK(do_it("piece add",
                    "{\"title\":\"Pair\",\"template\":\"nightstand\",\"width\":\"20 "
                    "in\",\"depth\":\"16 in\",\"height\":\"26 "
                    "in\",\"color\":\"#445566\",\"piece\":{\"year\":"
                    "2001,\"count\":2,\"fittings\":{\"pulls\":{\"count\":5}}}}") == OK);
        CHECK(do_it("piece again", "{\"id\":\"pair\",\"title\":\"Single\"}") == OK);
        CHECK(strstr(answer, "\"pulls\":{\"count\":3}"));
    }
    CASE("the sheet of one piece brings no bases of the others") {
        CHECK(do_it("piece plan", "{\"id\":\"pair\",\"why\":true}") == OK);
        CHECK(strstr(answer, "\"/pieces/0/") && !strstr(answer, "\"/pieces/1/"));
    }
}

static void colors(void) {
    CHECK(do_it("paint add", "{\"name\":\"Pale\",\"class\":\"wb_enamel\",\"color\":\"lab(90 0 2)\","
                             "\"stock\":\"1 qt\"}") == OK);
    CHECK(do_it("paint add", "{\"name\":\"Deep\",\"class\":\"wb_enamel\",\"color\":\"lab(40 0 0)\","
                             "\"stock\":\"1 qt\"}") == OK);
    CASE("a paint is another one from half a unit of difference on") {
        CHECK(do_it("recipe keep", "{\"name\":\"Mid\",\"items\":[{\"paint\":\"pale\",\"parts\":3},"
                                   "{\"paint\":\"deep\",\"parts\":1}]}") == OK);
        CHECK(do_it("recipe again", "{\"id\":\"mid\"}") == OK && strstr(answer, "\"same\":true"));
        CHECK(do_it("paint change", "{\"id\":\"deep\",\"color\":\"lab(40.3 0 0)\"}") == OK);
        CHECK(do_it("recipe again", "{\"id\":\"mid\"}") == OK && strstr(answer, "\"same\":true"));
        CHECK(do_it("paint change", "{\"id\":\"deep\",\"color\":\"lab(41.2 0 0)\"}") == OK);
        CHECK(do_it("recipe again", "{\"id\":\"mid\"}") == OK && strstr(answer, "\"same\":false"));
    }
    CASE("a batch that the measure cannot pour is said from a tenth on: 1/4 fl oz are 7.39 ml") {
        CHECK(do_it("recipes", "{\"target\":\"lab(60 0 1)\",\"amount\":\"8.1 ml\",\"measure\":\"fl "
                               "oz\",\"paints_max\":1}") == OK);
        CHECK(!*said(&a, answer, "coarse"));
        CHECK(do_it("recipes", "{\"target\":\"lab(60 0 1)\",\"amount\":\"8.4 ml\",\"measure\":\"fl "
                               "oz\",\"paints_max\":1}") == OK);
        CHECK(strstr(said(&a, answer, "coarse"), "less than"));
    }
    CASE("so much more than was asked that it is said: a part in 200 in quarter ounces") {
        CHECK(do_it("steps",
                    "{\"items\":\"pale=200,deep=1\",\"amount\":\"4 fl oz\",\"measure\":\"fl "
                    "oz\"}") == OK);
        CHECK(strstr(said(&a, answer, "larger"), "4 fl oz"));
        CHECK(do_it("steps",
                    "{\"items\":\"pale=30,deep=1\",\"amount\":\"4 fl oz\",\"measure\":\"fl "
                    "oz\"}") == OK);
        CHECK(strstr(said(&a, answer, "larger"), "7 3/4 fl oz")); /* 31 quarters, .94 more */
        CHECK(do_it("steps", "{\"items\":\"pale=3,deep=1\",\"amount\":\"4 fl oz\",\"measure\":\"fl "
                             "oz\"}") == OK);
        CHECK(!*said(&a, answer, "larger"));
    }
}

static void records(void) {
    CASE("a drying time that was planned with what the shop had taught is kept without it") {
        CHECK(do_it("record add", "{\"kind\":\"drying\",\"class\":\"wb_enamel\",\"took\":\"4 h\","
                                  "\"planned\":120}") == OK);
        CHECK_NEAR(said_real(&a, answer, "planned"), 120, 1e-9);
        CHECK(do_it("learned", "{}") == OK);
        const double factor = said_real(&a, from("\"kind\":\"drying\""), "factor");
        CHECK(factor > 1.05);
        CHECK(do_it("record add", "{\"kind\":\"drying\",\"class\":\"wb_enamel\",\"took\":\"3 h\","
                                  "\"planned\":150}") == OK);
        CHECK_NEAR(said_real(&a, answer, "planned"), 150 / factor, 1e-6);
    }
}

static void doubted(void) {
    CASE("only a doubted record is confirmed: not the row that takes it back, not the one put in "
         "its "
         "place") {
        char args[64];
        for (int i = 0; i < 4; i++)
            CHECK(do_it("record add",
                        "{\"kind\":\"hours\",\"operation\":\"scuff\",\"took\":\"1 h\","
                        "\"planned\":60}") == OK);
        CHECK(do_it("record add", "{\"kind\":\"hours\",\"operation\":\"scuff\",\"took\":\"40 h\","
                                  "\"planned\":60}") == OK);
        CHECK(strstr(answer, "\"doubted\":true"));
        const int64_t number = said_int(&a, answer, "number");
        snprintf(args, sizeof args, "{\"number\":%lld}", (long long)number);
        CHECK(do_it("record confirm", args) == OK);
        for (int more = 1; more <= 2; more++) {
            snprintf(args, sizeof args, "{\"number\":%lld}", (long long)number + more);
            CHECK(do_it("record confirm", args) == E_CONFLICT);
        }
    }
}

/* Three pieces are open by now; 24 are planned together, those longest in the book. */
static void many_pieces(void) {
    CASE("a piece beyond those that are planned together keeps the price of its last plan") {
        for (int i = 0; i < 24; i++) {
            char args[160];
            snprintf(
                args, sizeof args,
                "{\"title\":\"Shelf %d\",\"template\":\"wall_shelf\",\"width\":\"30 in\",\"depth\":"
                "\"8 in\",\"height\":\"10 in\",\"color\":\"#445566\"}",
                i);
            CHECK(do_it("piece add", args) == OK);
        }
        CHECK(do_it("piece plan", "{\"id\":\"shelf-23\"}") == OK);
        const int64_t price = said_int(&a, from("\"price\":{"), "price_cent");
        CHECK(price > 0);
        CHECK(do_it("piece change", "{\"id\":\"shelf-23\",\"title\":\"The last\"}") == OK);
        CHECK(do_it("money open", "{}") == OK);
        CHECK(said_int(&a, from("\"id\":\"shelf-23\""), "price_cent") == price);
        CHECK(said_int(&a, from("\"id\":\"shelf-0\""), "price_cent") > 0); /* planned now */
    }
}

int main(void) {
    asker_open(&a);
    CHECK(do_it("shop change", "{\"shop\":{\"zone\":\"UTC\"}}") == OK);
    days();
    money();
    pieces();
    colors();
    records();
    doubted();
    many_pieces();
    asker_close(&a);
    return check_done();
}
