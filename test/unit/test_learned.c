/* What records teach reaches the next plan, and what looks wrong does not until it is confirmed. */
#include "test/check.h"
#include "test/unit/ask_one.h"

#include <math.h>

/* A table of the same make as every other one here. */
static void table(const char *id) {
    char args[400];
    snprintf(args, sizeof args,
             "{\"piece\":{\"id\":\"%s\",\"title\":\"Table\",\"template\":\"dining_table\","
             "\"width\":\"60 in\",\"depth\":\"34 in\",\"height\":\"30 in\",\"finish\":"
             "\"lacquer\",\"year\":1995,\"wood\":\"hard_maple\",\"wanted\":{\"product\":\"blue\","
             "\"method\":\"brush\"}}}",
             id);
    CHECK(do_it("piece add", args) == OK);
}

static void piece(void) {
    CHECK(do_it("paint add",
                "{\"paint\":{\"name\":\"Blue\",\"class\":\"wb_enamel\",\"color\":"
                "\"#24497f\",\"stock\":\"2 qt\",\"size\":\"1 qt\",\"cost\":\"$30\"}}") == OK);
    table("table");
}

/* Of the color row in the plan of the piece. */
static const char *color_amount(void) {
    CHECK(do_it("piece plan", "{\"id\":\"table\",\"why\":true}") == OK);
    const char *amounts = strstr(answer, "\"amounts\":[");
    const char *color = amounts ? strstr(amounts, "\"role\":\"color\"") : NULL;
    return color ? color : "";
}

static void spreads(void) {
    double before = NAN, usual = NAN;
    CASE("without records the class speaks") {
        before = said_real(&a, color_amount(), "film_ml");
        usual = said_real(&a, color_amount(), "spread_m2_per_l");
        CHECK(before > 100 && usual > 5);
        CHECK(!strstr(answer, "your shop"));
    }
    CASE("six records of a thicker hand: the next plan takes more, and says why") {
        for (int i = 0; i < 6; i++)
            CHECK(do_it("record add", "{\"kind\":\"spread\",\"class\":\"wb_enamel\",\"method\":"
                                      "\"brush\",\"spread\":\"7.5 m2/L\"}") == OK);
        CHECK(do_it("learned", "{}") == OK);
        double factor = said_real(&a, answer, "factor");
        CHECK_NEAR(said_real(&a, answer, "usual"), sqrt(8.6 * 11), 1e-9); /* product_classes.tsv */
        CHECK_NEAR(said_real(&a, answer, "shop"), factor * sqrt(8.6 * 11), 1e-9);
        /* normal posterior of ln factor by hand: prior sd .20, one job .12, six jobs of
         * ln(7.5 / 9.7263): gain 6 x .04 / (6 x .04 + .0144) = .94340 */
        CHECK_NEAR(log(factor), .94340 * log(7.5 / sqrt(8.6 * 11)), 2e-4);
        double now = said_real(&a, color_amount(), "film_ml");
        CHECK_NEAR(now / before, 1 / factor, 1e-6);
        CHECK(strstr(answer, "your shop, 6 records"));
    }
    CASE("another tool is not meant") {
        CHECK(do_it("record add", "{\"kind\":\"spread\",\"class\":\"wb_enamel\",\"method\":"
                                  "\"hvlp\",\"spread\":\"9 m2/L\"}") == OK);
        CHECK(color_amount()[0] && strstr(answer, "your shop, 6 records"));
    }
}

static void outliers(void) {
    int64_t number = INT64_MIN;
    CASE("what is far off is doubted, kept and not learnt from") {
        CHECK(do_it("record add", "{\"kind\":\"spread\",\"class\":\"wb_enamel\",\"method\":"
                                  "\"brush\",\"spread\":\"15 m2/L\"}") == OK);
        CHECK(strstr(answer, "\"doubted\":true"));
        number = said_int(&a, answer, "number");
        CHECK(color_amount()[0] && strstr(answer, "your shop, 6 records"));
        CHECK(do_it("learned", "{}") == OK && strstr(answer, "\"questioned\":1"));
    }
    CASE("confirmed it counts; confirmed twice or of nothing is an error with its field") {
        char args[60];
        snprintf(args, sizeof args, "{\"number\":%lld}", (long long)number);
        CHECK(do_it("record confirm", args) == OK);
        CHECK(color_amount()[0] && strstr(answer, "your shop, 7 records"));
        CHECK(do_it("undo", "{}") == OK && color_amount()[0] &&
              strstr(answer, "your shop, 6 records"));
        CHECK(do_it("record confirm", "{\"number\":9999}") == E_NOT_FOUND);
        CHECK_TEXT(a.why.field, "/number");
        CHECK(do_it("record confirm", "{\"number\":1}") == E_CONFLICT);
    }
}

static void hours_and_drying(void) {
    double cent = NAN, minutes = NAN;
    CASE("hours of an operation: price and days go by the shop's pace") {
        CHECK(color_amount()[0]);
        cent = said_real(&a, from("\"price\":{"), "labor_cent");
        for (int i = 0; i < 4; i++)
            CHECK(do_it("record add", "{\"kind\":\"hours\",\"operation\":\"color\",\"took\":"
                                      "\"30 min\",\"planned\":60}") == OK);
        CHECK(color_amount()[0]);
        CHECK(said_real(&a, from("\"price\":{"), "labor_cent") < cent - 300);
        CHECK(strstr(answer, "your shop, 4 records"));
    }
    CASE("teaching is not counted twice: a job done as planned changes nothing") {
        CHECK(do_it("learned", "{}") == OK);
        const char *row = strstr(answer, "\"operation\":\"color\"");
        double factor = said_real(&a, row ? row : "", "factor");
        char args[120];
        snprintf(args, sizeof args,
                 "{\"kind\":\"hours\",\"operation\":\"color\",\"took\":\"30 min\",\"planned\":30}");
        CHECK(do_it("record add", args) == OK && do_it("learned", "{}") == OK);
        row = strstr(answer, "\"operation\":\"color\"");
        CHECK_NEAR(said_real(&a, row ? row : "", "factor"), factor, 1e-9);
    }
    CASE("drying times seen move the waits") {
        CHECK(color_amount()[0]);
        const char *coat = strstr(answer, "\"operation\":\"color\"");
        minutes = said_real(&a, coat ? coat : "", "recoat_min");
        for (int i = 0; i < 4; i++)
            CHECK(do_it("record add", "{\"kind\":\"drying\",\"class\":\"wb_enamel\",\"took\":"
                                      "\"9 h\"}") == OK);
        CHECK(color_amount()[0]);
        coat = strstr(answer, "\"operation\":\"color\"");
        CHECK(said_real(&a, coat ? coat : "", "recoat_min") > minutes * 1.2);
    }
}

static double labor_of(const char *id) {
    char args[60];
    snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
    CHECK(do_it("piece plan", args) == OK);
    return said_real(&a, from("\"price\":{"), "labor_cent");
}

/* What a page that plans all pieces together keeps of one. */
static double hours_listed(const char *id) {
    char args[60];
    CHECK(do_it("days", "{}") == OK);
    snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
    CHECK(do_it("piece show", args) == OK);
    return said_real(&a, answer, "hours");
}

static double planned_when_done(const char *id) {
    char args[60];
    double sum = 0;
    snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
    CHECK(do_it("piece went", args) == OK);
    for (const char *at = answer; (at = strstr(at, "\"planned_min\":")); at++)
        sum += said_real(&a, at, "planned_min");
    return sum;
}

/* Work that foretells itself would make the price follow the clock. */
static void of_others_only(void) {
    CASE("records of a piece leave its own plan as it was and move those of others") {
        table("table-2");
        double own = labor_of("table"), other = labor_of("table-2");
        double listed = hours_listed("table"), planned = planned_when_done("table");
        CHECK_NEAR(own, other, 1e-6);
        CHECK(listed > 0 && planned > 0);
        for (int i = 0; i < 4; i++)
            CHECK(do_it("record add", "{\"kind\":\"hours\",\"operation\":\"color\",\"piece\":"
                                      "\"table\",\"took\":\"80 min\",\"planned\":60}") == OK);
        CHECK_NEAR(labor_of("table"), own, 1e-6);
        CHECK_NEAR(hours_listed("table"), listed, 1e-9);
        CHECK_NEAR(planned_when_done("table"), planned, 1e-9);
        CHECK(labor_of("table-2") > other + 100);
    }
    CASE("where only its own records speak, all is as usual") {
        double own = labor_of("table"), other = labor_of("table-2");
        for (int i = 0; i < 3; i++)
            CHECK(do_it("record add", "{\"kind\":\"hours\",\"operation\":\"clean\",\"piece\":"
                                      "\"table\",\"took\":\"90 min\",\"planned\":60}") == OK);
        CHECK_NEAR(labor_of("table"), own, 1e-6);
        CHECK(labor_of("table-2") > other + 50);
    }
}

int main(void) {
    asker_open(&a);
    CASE("a shop with a piece in its book") {
        piece();
    }
    spreads();
    outliers();
    hours_and_drying();
    of_others_only();
    check_close();
    asker_close(&a);
    return check_done();
}
