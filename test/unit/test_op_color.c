/* Color work on the book's own shelf: what its samples teach, in the shop's words. */
#include "test/check.h"
#include "test/unit/ask_one.h"

static void cans(void) {
    CASE(
        "the last can of a line is learned from the samples of the first, alone on the shelf too") {
        asker_open(&a);
        CHECK(do_it("paint add",
                    "{\"name\":\"w1\",\"class\":\"wb_enamel\",\"color\":\"#f4f2ec\"}") == OK);
        CHECK(do_it("paint add", "{\"name\":\"w2\",\"can_of\":\"w1\"}") == OK);
        CHECK(do_it("paint add", "{\"name\":\"w3\",\"can_of\":\"w2\"}") == OK);
        CHECK(do_it("sample add", "{\"sample\":{\"items\":[{\"paint\":\"w1\",\"parts\":1}],"
                                  "\"color\":\"#e8e0d0\",\"read\":\"instrument\"}}") == OK);
        CHECK(do_it("paint remove", "{\"id\":\"w1\"}") == OK);
        CHECK(do_it("paint remove", "{\"id\":\"w2\"}") == OK);
        CHECK(do_it("shelf known", "{}") == OK);
        CHECK(count_of(answer, "\"residual\"") == 1);
        CHECK(!strstr(said(&a, answer, "hex"), "#f4f2ec")); /* no longer as it was written */
        asker_close(&a);
    }
}

static void metric(void) {
    CASE("a metric shop is told milliliters and micrometers, whatever it said of its measure") {
        asker_open(&a);
        CHECK(do_it("shop change", "{\"shop\":{\"units\":\"metric\"}}") == OK);
        CHECK(do_it("paint add", "{\"name\":\"white\",\"class\":\"wb_enamel\",\"color\":"
                                 "\"#f4f2ec\",\"stock\":\"2 L\"}") == OK);
        CHECK(do_it("paint add", "{\"name\":\"blue\",\"class\":\"wb_enamel\",\"color\":"
                                 "\"#1f4e79\",\"stock\":\"2 L\"}") == OK);
        CHECK(do_it("sample next", "{\"target\":\"#7f9cbf\"}") == OK);
        CHECK(strstr(said(&a, answer, "text"), " ml") && !strstr(answer, "tsp"));
        CHECK(do_it("hiding", "{\"items\":\"white=3,blue=1\"}") == OK);
        CHECK(strstr(said(&a, answer, "how"), " \u00b5m, its thin") && !strstr(answer, " mil"));
        CHECK(do_it("batch add",
                    "{\"amount\":\"400 ml\",\"items\":[{\"paint\":\"white\",\"parts\":3},"
                    "{\"paint\":\"blue\",\"parts\":1}],\"target\":"
                    "\"#7f9cbf\"}") == OK);
        CHECK(do_it("batch correct", "{\"id\":\"batch\",\"dried\":\"#8fa9c6\",\"most\":"
                                     "\"200 ml\"}") == E_DOMAIN);
        CHECK_TEXT(a.why.text, "That is less than what it holds or what is needed. Write at least "
                               "400 ml.");
        asker_close(&a);
    }
}

static void card(const char *paint, const char *color, const char *wet) {
    char args[200];
    snprintf(
        args, sizeof args,
        "{\"sample\":{\"items\":[{\"paint\":\"%s\",\"parts\":1}],\"color\":\"%s\",\"wet\":%s}}",
        paint, color, wet);
    CHECK(do_it("sample add", args) == OK);
}

static void one_and_many(void) {
    CASE("one of a thing is not said as of many") {
        asker_open(&a);
        CHECK(do_it("paint add", "{\"name\":\"white\",\"class\":\"wb_enamel\",\"color\":"
                                 "\"#f4f2ec\",\"stock\":\"2 L\"}") == OK);
        CHECK(do_it("paint add", "{\"name\":\"black\",\"class\":\"wb_enamel\",\"color\":"
                                 "\"#202020\",\"stock\":\"2 L\"}") == OK);
        CHECK(do_it("shelf wet", "{\"color\":\"lab(50 0 0)\"}") == E_MISSING);
        CHECK(strstr(a.why.text, "0 mixes were read wet and dry: 3 are needed"));
        card("white", "lab(90 0 5)", "true");
        card("white", "lab(86 0 5)", "false");
        CHECK(do_it("shelf known", "{}") == OK);
        CHECK(strstr(answer, "Read wet and dry: the first pair.") != NULL);
        card("black", "lab(80 0 5)", "true");
        CHECK(do_it("shelf known", "{}") == OK);
        CHECK(strstr(answer, "until 3 mixes are read wet and dry, 1 is.") != NULL);
        asker_close(&a);
    }
}

#define PAINT(name, color)                                                                         \
    "{\"id\":\"" name "\",\"name\":\"" name "\",\"class\":\"wb_enamel\",\"color\":\"" color        \
    "\",\"stock\":\"2 L\"}"

static void words_of_answers(void) {
    asker_open(&a);
    CHECK(do_it("paint add", "{\"paint\":" PAINT("blue", "#1f4e79") "}") == OK);
    CHECK(do_it("paint add", "{\"paint\":" PAINT("gray", "#808080") "}") == OK);
    CASE("what is darker than L* 80 is no white to tint with") {
        CHECK(do_it("sample next", "{\"target\":\"#50657f\"}") == OK);
        CHECK(strstr(answer, "\"tint\":false") && !strstr(answer, "\"tint\":true"));
        CHECK(do_it("paint add", "{\"paint\":" PAINT("white", "#f4f2ec") "}") == OK);
        CHECK(do_it("sample next", "{\"target\":\"#50657f\"}") == OK);
        CHECK(strstr(answer, "\"tint\":true") != NULL);
    }
    CASE("within reach ends where the strongest mix of that hue and lightness does") {
        CHECK(do_it("shelf reach", "{\"target\":\"lch(46.5 30 255.8)\"}") == OK);
        CHECK(strstr(answer, "\"inside\":true") && strstr(answer, "up to strength 31"));
        CHECK(do_it("shelf reach", "{\"target\":\"lch(46.5 37 255.8)\"}") == OK);
        CHECK(strstr(answer, "\"inside\":false") && strstr(answer, "wanted is 37"));
    }
    CASE("hiding is told by the contrast of ISO 6504-3: within 2 % of the brightness") {
        CHECK(do_it("hiding", "{\"items\":\"white=3,blue=1\"}") == OK);
        CHECK(strstr(answer, "within 2 % of the brightness") != NULL);
    }
    CASE("an addition that may well carry it farther off is not advised") {
        static const char args[] =
            "{\"shelf\":{\"format\":\"coatwright-shelf\",\"version\":1,\"paints\":[" PAINT(
                "white",
                "#f4f2ec") "," PAINT("blue",
                                     "#1f4e79") "]},\"items\":\"white=3,blue=1\","
                                                "\"target\":\"#7f9cbf\",\"dried\":\"#869fbe\","
                                                "\"batch\":\"400 ml\",\"need\":\"300 ml\"}";
        CHECK(do_it("correct", args) == OK);
        CHECK_TEXT(said(&a, answer, "advice"), "neither");
        CHECK(strstr(said(&a, answer, "text"), "too little is learned") != NULL);
        CHECK(said_real(&a, answer, "difference") < said_real(&a, answer, "difference_now"));
    }
    asker_close(&a);
}

int main(void) {
    words_of_answers();
    cans();
    metric();
    one_and_many();
    return check_done();
}
