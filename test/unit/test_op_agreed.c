/* What was agreed on a piece is kept as it was promised, whatever becomes of the plan. */
#include "test/check.h"
#include "test/unit/film_piece.h"

static void accepted(void) {
    CASE("an accepted quote keeps its price, its day and its words when the plan changes") {
        CHECK(do_it("client add", "{\"name\":\"Lane\"}") == OK);
        CHECK(
            do_it("piece add",
                  FILM("1995",
                       ",\"agreement\":{\"purpose\":\"client\",\"client\":\"Lane\",\"excluded\":["
                       "\"the drawers inside\"],\"marks\":[\"ring on the top\"],\"due\":\"2026-11-"
                       "20\"}")) == OK);
        const char *id = said(&a, answer, "id");
        char args[300];
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"kind\":\"quote\"}", id);
        CHECK(do_it("piece accept", args) == E_MISSING);
        CHECK_TEXT(a.why.field, "/who");
        snprintf(args, sizeof args,
                 "{\"id\":\"%s\",\"kind\":\"quote\",\"who\":\"Lane\",\"amount\":\"$640\"}", id);
        CHECK(do_it("piece accept", args) == OK);
        CHECK(strstr(answer, "ring on the top") && strstr(answer, "the drawers inside"));
        CHECK(said_real(&a, answer, "amount_cent") == 64000);
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
        CHECK(do_it("piece show", args) == OK && strstr(answer, "\"quoted\":\"$640\""));
        CHECK_TEXT(said(&a, answer, "stage"), "agreed");
        snprintf(args, sizeof args,
                 "{\"id\":\"%s\",\"kind\":\"change\",\"who\":\"Lane\",\"amount\":\"$80\",\"due\":"
                 "\"2026-11-"
                 "25\",\"text\":\"brass pulls instead of wood\"}",
                 id);
        CHECK(do_it("piece accept", args) == OK);
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
        CHECK(do_it("piece show", args) == OK && strstr(answer, "\"quoted\":\"$720\"") &&
              strstr(answer, "2026-11-25"));
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"piece\":{\"agreement\":{\"excluded\":[]}}}",
                 id);
        CHECK(do_it("piece change", args) == OK);
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
        CHECK(do_it("piece accepted", args) == OK && strstr(answer, "the drawers inside") &&
              strstr(answer, "brass pulls"));
        CHECK(count_of(answer, "\"withdrawn\":false") == 2);
    }
    CASE("taking back adds a row; nothing that was agreed is lost") {
        CHECK(do_it("undo", "{}") == OK); /* the exclusions */
        CHECK(do_it("undo", "{}") == OK); /* the change order */
        char args[120];
        snprintf(args, sizeof args, "{\"q\":\"stand\"}");
        CHECK(do_it("pieces", args) == OK);
        const char *id = said(&a, answer, "id");
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
        CHECK(do_it("piece accepted", args) == OK);
        CHECK(count_of(answer, "\"withdrawn\":true") == 1 && count_of(answer, "\"corrects\"") == 1);
        CHECK(strstr(answer, "brass pulls"));
        CHECK(do_it("piece show", args) == OK && strstr(answer, "\"quoted\":\"$640\""));
    }
    CASE("a signed sample is said in the piece; a refused piece is agreed with nobody") {
        char args[200];
        CHECK(do_it("pieces", "{\"q\":\"stand\"}") == OK);
        const char *id = said(&a, answer, "id");
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"kind\":\"sample\",\"who\":\"Lane\"}", id);
        CHECK(do_it("piece accept", args) == OK);
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
        CHECK(do_it("piece show", args) == OK && strstr(answer, "\"sample_signed\":true"));
        CHECK(do_it("shop change", "{\"shop\":{\"zone\":\"America/New_York\"}}") == OK);
        a.now_utc_min = 29861400; /* Sunday, October 11, 2:00 in Greenwich: Saturday evening here */
        snprintf(args, sizeof args,
                 "{\"id\":\"%s\",\"kind\":\"sample\",\"about\":\"board\",\"who\":\"Lane\"}", id);
        CHECK(do_it("piece accept", args) == OK);
        CHECK_TEXT(said(&a, answer, "about"), "board");
        snprintf(args, sizeof args,
                 "{\"id\":\"%s\",\"kind\":\"sample\",\"about\":\"shoe\",\"who\":\"Lane\"}", id);
        CHECK(do_it("piece accept", args) == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/about");
        snprintf(args, sizeof args,
                 "{\"id\":\"%s\",\"kind\":\"agreement\",\"who\":\"Lane\",\"amount\":\"$640\"}", id);
        CHECK(do_it("piece accept", args) == OK);
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
        CHECK(do_it("piece show", args) == OK && strstr(answer, "\"signed\":\"2026-10-10\""));
        a.now_utc_min = TEMP_NOW;
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"pests\",\"answer\":\"bedbugs\"}",
                 id);
        CHECK(do_it("piece test", args) == OK);
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"kind\":\"quote\",\"who\":\"Lane\"}", id);
        CHECK(do_it("piece accept", args) == E_REFUSED);
    }
}

int main(void) {
    asker_open(&a);
    accepted();
    asker_close(&a);
    return check_done();
}
