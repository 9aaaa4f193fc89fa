/* Worth buying: what a piece may cost. Figures were computed by hand, as each case says. */
#include "core/work/worth.h"
#include "test/check.h"
#include "test/unit/ask_one.h"

static void worth(void) {
    static const char *const words[] = {"sound", "worn", "damaged", "flaking"};
    char args[200];
    CASE("worth buying: 140, fee 13 %, supplies 34, 6.5 h at 30: an offer of -107.20; bought at 25 "
         "an "
         "hour earns 9.66 (common practice, by hand: 140 x .87 - 34 - 195; (121.80 - 25 - 34) / "
         "6.5)") {
        CHECK(do_it("worth", "{\"template\":\"nightstand\",\"price\":\"$140\",\"fee\":\"13 %\","
                             "\"supplies\":\"$34\",\"hours\":\"6 h 30 min\",\"pay\":\"$30/h\","
                             "\"asked\":\"$25\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "offer_cent"), -10720, .01);
        CHECK_NEAR(said_real(&a, answer, "hour_cent_per_h"), 966.15, .01);
        CHECK_NEAR(said_real(&a, answer, "fee_cent"), 1820, .01);
        CHECK_NEAR(said_real(&a, answer, "break_even_cent"), 5900 / .87, .01);
        CHECK_NEAR(said_real(&a, answer, "must_bring_cent"), (5900 + 19500) / .87, .01);
        CHECK_TEXT(said(&a, answer, "verdict"), "leave");
        CHECK(!strstr(answer, "\"rule\"")); /* nobody asked why */
    }
    CASE(
        "worth buying: at the highest offer an hour earns the pay; below it take, above it offer") {
        const char *const base = "{\"template\":\"chest\",\"price\":\"$900\",\"hours\":\"10 h\","
                                 "\"supplies\":\"$80\",\"pay\":\"$30/h\",\"fee\":\"10 %%\","
                                 "\"year\":2015,\"asked\":\"$%d\",\"why\":true}";
        snprintf(args, sizeof args, base, 430); /* 900 x .9 - 80 - 300 = 430 */
        CHECK(do_it("worth", args) == OK);
        CHECK_NEAR(said_real(&a, answer, "offer_cent"), 43000, .01);
        CHECK_NEAR(said_real(&a, answer, "hour_cent_per_h"), 3000, .01);
        CHECK_TEXT(said(&a, answer, "verdict"), "take");
        CHECK(strstr(answer, "\"/offer_cent\"") && strstr(answer, "\"/hour_cent_per_h\"") &&
              strstr(answer, "\"/hours\"") && strstr(answer, "\"/must_bring_cent\"") &&
              strstr(answer, "\"/break_even_cent\"") && strstr(answer, "\"/supplies_cent\""));
        snprintf(args, sizeof args, base, 431);
        CHECK(do_it("worth", args) == OK);
        CHECK_TEXT(said(&a, answer, "verdict"), "offer");
    }
    CASE("worth buying: hours rise from sound to damaged and to stripping, with a range") {
        double hours[4] = {0};
        for (size_t i = 0; i < tables_builtin.conditions_n && i < 4; i++) {
            snprintf(args, sizeof args, "{\"template\":\"dresser\",\"condition\":\"%s\"}",
                     tables_builtin.conditions[i].id);
            CHECK(do_it("worth", args) == OK);
            hours[i] = said_real(&a, answer, "hours");
            CHECK(said_real(&a, answer, "hours_low") < hours[i]);
            CHECK(said_real(&a, answer, "hours_high") > hours[i]);
            CHECK_TEXT(said(&a, answer, "verdict"), ""); /* no sale price was said */
            CHECK(said_real(&a, answer, "must_bring_cent") > 0);
        }
        CHECK(hours[0] < hours[1] && hours[1] < hours[2] && hours[2] < hours[3]);
    }
    CASE("worth buying: supplies are planned in whole dollars; where only a quick hand earns the "
         "pay, "
         "that is said") {
        CHECK(do_it("worth", "{\"template\":\"chest\",\"condition\":\"worn\",\"price\":\"$1500\","
                             "\"pay\":\"$30/h\",\"fee\":\"10 %\",\"year\":2015}") == OK);
        double offer = said_real(&a, answer, "offer_cent");
        CHECK(offer > 10000 && fmod(said_real(&a, answer, "supplies_cent"), 100) == 0);
        snprintf(args, sizeof args,
                 "{\"template\":\"chest\",\"condition\":\"worn\",\"price\":\"$1500\",\"pay\":"
                 "\"$30/h\",\"fee\":\"10 %%\",\"year\":2015,\"asked\":\"$%.0f\"}",
                 floor(offer / 100) - 1);
        CHECK(do_it("worth", args) == OK);
        CHECK_TEXT(said(&a, answer, "verdict"), "take");
        CHECK(strstr(answer, "Keep the hours down."));
    }
    CASE("worth buying: every condition is planned as a word of the job document") {
        for (size_t i = 0; i < tables_builtin.conditions_n; i++) {
            bool known = false;
            for (size_t k = 0; k < 4; k++)
                known |= !strcmp(words[k], tables_builtin.conditions[i].plans_as);
            CHECK(known);
            CHECK(tables_builtin.conditions[i].low_frac < 1 &&
                  tables_builtin.conditions[i].high_frac > 1);
        }
    }
    CASE(
        "worth buying: every template can be judged; the hours overlap those usual for it x 0.6 to "
        "x 1.8 (common practice)") {
        for (size_t i = 0; i < tables_builtin.piece_templates_n; i++) {
            const struct piece_templates_row *t = &tables_builtin.piece_templates[i];
            if (!strcmp(t->id, "crib")) continue; /* refused without a year */
            snprintf(args, sizeof args, "{\"template\":\"%s\",\"year\":2015}", t->id);
            if (do_it("worth", args)) printf("%s: %s %s\n", t->id, a.why.field, a.why.text);
            double h = said_real(&a, answer, "hours");
            if (!(h > .6 * t->hours_low_h && h < 1.8 * t->hours_high_h))
                printf("%s: %.1f h, usual %.0f to %.0f\n", t->id, h, t->hours_low_h,
                       t->hours_high_h);
            CHECK(h > .6 * t->hours_low_h && h < 1.8 * t->hours_high_h);
        }
    }
    CASE("worth buying: a crib of unknown age is left; what is not known is named") {
        CHECK(do_it("worth", "{\"template\":\"crib\",\"price\":\"$900\"}") == OK);
        CHECK_TEXT(said(&a, answer, "verdict"), "leave");
        CHECK(do_it("worth", "{\"template\":\"spaceship\"}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/template");
        CHECK(do_it("worth", "{\"template\":\"chest\",\"condition\":\"sad\"}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/condition");
        CHECK(do_it("worth", "{\"template\":\"chest\",\"fee\":\"120 %\"}") == E_DOMAIN);
        CHECK(do_it("worth", "{}") == E_MISSING);
    }
}

int main(void) {
    asker_open(&a);
    worth();
    asker_close(&a);
    return check_done();
}
