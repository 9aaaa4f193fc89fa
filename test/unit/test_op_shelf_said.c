/* A shelf as somebody wrote it: mixes that cannot be are refused, with the field and what would be
 * right. */
#include "test/check.h"
#include "test/unit/ask.h"

#define SHELF(paints, samples)                                                                     \
    "{\"target\":\"#888\",\"shelf\":{\"format\":\"coatwright-shelf\",\"version\":1,\"paints\":"    \
    "[" paints "],\"samples\":[" samples "]}}"
#define JAR(id, of) "{\"id\":\"" id "\",\"class\":\"wb_enamel\",\"color\":\"#ccc\"" of "}"
#define OF(mix) ",\"leftover_of\":[" mix "]"
#define PARTS(id, n) "{\"paint\":\"" id "\",\"parts\":" n "}"
#define TWO JAR("w", "") "," JAR("b", "")
#define CARD(items, rest) "{\"id\":\"card\",\"items\":[" items "]" rest "}"
#define DRY ",\"color\":\"#777\""

static const struct {
    const char *of, *shelf;
    enum status want;
    const char *field, *says;
} rows[] = {
    {"two jars, what is left of them, a card",
     SHELF(TWO "," JAR("l", OF(PARTS("w", "2") "," PARTS("b", "1"))),
           CARD(PARTS("w", "1") "," PARTS("l", "1"), DRY)),
     OK, "", ""},
    {"a leftover of a leftover",
     SHELF(TWO "," JAR("m", OF(PARTS("l", "1"))) "," JAR("l", OF(PARTS("w", "2"))), ""), OK, "",
     ""},
    {"a leftover of itself", SHELF(JAR("w", OF(PARTS("w", "1"))), ""), E_DOMAIN,
     "/paints/0/leftover_of", "\"w\" would be mixed from itself"},
    {"two leftovers of each other",
     SHELF(TWO
           "," JAR("l", OF(PARTS("m", "1"))) "," JAR("m", OF(PARTS("w", "1") "," PARTS("l", "1"))),
           ""),
     E_DOMAIN, "/paints/2/leftover_of", "\"l\" would be mixed from itself"},
    {"a leftover of no part of something", SHELF(TWO "," JAR("l", OF(PARTS("w", "0"))), ""),
     E_DOMAIN, "/paints/2/leftover_of/0/parts", "write how many"},
    {"a card of nothing", SHELF(TWO, CARD("", DRY)), E_MISSING, "/samples/0/items",
     "what was mixed"},
    {"a card that nobody read", SHELF(TWO, CARD(PARTS("w", "1"), "")), E_MISSING,
     "/samples/0/color", "what color it dried to"},
    {"a card with a paint twice", SHELF(TWO, CARD(PARTS("w", "1") "," PARTS("w", "2"), DRY)),
     E_DOMAIN, "/samples/0/items/1/paint", "twice"},
    {"a card of a paint that is not there", SHELF(TWO, CARD(PARTS("x", "1"), DRY)), E_REFERENCE,
     "/samples/0/items/0/paint", "Write one of w, b."},
    {"a card where no paint is", SHELF("", CARD(PARTS("x", "1"), DRY)), E_REFERENCE,
     "/samples/0/items/0/paint", "there is none"},
    {"a spectrum in steps too wide",
     SHELF("{\"id\":\"s\",\"spectrum\":{\"first_nm\":400,\"step_nm\":50,\"values\":[0.2,0.2,0.2,0."
           "2,0.2,0.2,0.2]}}",
           ""),
     E_DOMAIN, "/paints/0/spectrum/step_nm", "between 0.5 and 20"},
};

int main(void) {
    struct asker a;
    const char *answer;
    asker_open(&a);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) CASE(rows[i].of) {
            CHECK(ask(&a, "recipe", rows[i].shelf, &answer) == rows[i].want);
            const char *field = a.why.field;
            CHECK_TEXT(strncmp(field, "/shelf", 6) ? field : field + 6, rows[i].field);
            CHECK(strstr(a.why.text, rows[i].says));
        }
    CASE("a bright red is out of reach of a brick red: the strongest of its hue is named") {
        CHECK(ask(&a, "recipe",
                  "{\"target\":\"lch(40 75 38)\",\"shelf\":{\"format\":\"coatwright-shelf\","
                  "\"version\":1,\"paints\":[{\"id\":\"w\",\"class\":\"wb_enamel\",\"color\":\"#"
                  "fff\"},"
                  "{\"id\":\"r\",\"class\":\"wb_enamel\",\"color\":\"#9a4030\"}]}}",
                  &answer) == OK);
        CHECK(strstr(answer, "for this hue ask for lch(40 47 38).")); /* the jar: 39.7 47.7 37.9 */
    }
    CASE("a can's solids by volume say how far it goes: 38 % at the usual 38 um are 10 m2/L") {
        CHECK(ask(&a, "plan",
                  "{\"why\":true,\"job\":{\"format\":\"coatwright-job\",\"version\":1,\"shelf\":"
                  "{\"paints\":[{\"id\":\"w\",\"class\":\"wb_enamel\",\"color\":\"#eee\","
                  "\"stock\":\"1 gal\",\"label_solids\":\"38 %\"}]},\"pieces\":[{\"template\":"
                  "\"nightstand\",\"width\":\"18 in\",\"depth\":\"15 in\",\"height\":\"26 in\","
                  "\"year\":2005,\"finish\":\"wb_clear\",\"wanted\":{\"color\":\"#eee\","
                  "\"product\":\"w\"}}]}}",
                  &answer) == OK);
        CHECK(strstr(answer, "\"spread_m2_per_l\":10,"));
        CHECK(strstr(answer, "spread by the label's solids"));
    }
    asker_close(&a);
    return check_done();
}
