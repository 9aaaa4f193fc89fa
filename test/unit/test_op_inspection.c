/* The guided inspection of a piece in a book: every test comes up, every answer changes what it
 * should. */
#include "test/check.h"
#include "test/unit/ask_one.h"

/* Pieces in which, between them, every test of data/tests.tsv comes up. */
static const char *const told[] = {
    "",
    "\"finish\":\"unknown\",\"year\":1995",
    "\"finish\":\"paint\",\"year\":1995",
    "\"year\":1960,\"tests\":{\"lead\":\"waiting\"}",
    "\"year\":1995,\"tests\":{\"wax_wipe\":\"greasy\",\"alcohol\":\"nothing\"}",
    "\"year\":1995,\"tests\":{\"wax_wipe\":\"clean\",\"alcohol\":\"nothing\"}",
    ("\"year\":1995,\"tests\":{\"wax_wipe\":\"clean\",\"alcohol\":\"nothing\","
     "\"thinner\":\"softens\"}"),
    "\"year\":1995,\"tests\":{\"rag\":\"red\"}",
    "\"year\":1995,\"wood\":\"eastern_white_pine\"",
    "\"year\":1995,\"wood\":\"hard_maple\",\"knots\":false",
};
enum { TOLD = sizeof told / sizeof *told };

/* What is typed where an answer is typed. */
static const char *typed_for(const char *sets) {
    static const char *const values[][2] = {
        {"year=?", "1938"},          {"tests.lead_content=?", "0.02 %"},
        {"wood=?", "black_walnut"},  {"tests.tape_removed=?", "12 %"},
        {"tests.moisture=?", "9 %"}, {"tests.moisture_at=?", "60 F"}};
    for (size_t i = 0; i < sizeof values / sizeof *values; i++)
        if (!strcmp(values[i][0], sets)) return values[i][1];
    return NULL;
}

static const char *state_in(const char *list, const char *test) {
    char name[80];
    snprintf(name, sizeof name, "{\"id\":\"%s\",\"name\"", test);
    const char *at = strstr(list, name);
    return at ? said(&a, at, "state") : "absent";
}

static bool is_open(const char *state) {
    return !strcmp(state, "next") || !strcmp(state, "open") || !strcmp(state, "waits");
}

/* The one before is gone: every plan lays out the days of all pieces in the book. */
static const char *new_piece(size_t which) {
    static char id[80];
    char args[600];
    snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
    if (*id) CHECK(do_it("piece remove", args) == OK);
    snprintf(args, sizeof args,
             "{\"piece\":{\"template\":\"chest\",\"width\":\"36 in\",\"depth\":\"18 "
             "in\",\"height\":\"40 "
             "in\",\"wanted\":{\"color\":\"#f4efe4\"}%s%s}}",
             *told[which] ? "," : "", told[which]);
    if (do_it("piece add", args)) printf("%s %s\n", a.why.field, a.why.text);
    snprintf(id, sizeof id, "%s", said(&a, answer, "id"));
    return id;
}

/* The first of the pieces in which the test is still to be made; TOLD: none. */
static size_t piece_for(const char *test) {
    char args[120];
    for (size_t i = 0; i < TOLD; i++) {
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", new_piece(i));
        CHECK(do_it("piece inspection", args) == OK);
        const char *state = state_in(answer, test);
        if (!strcmp(state, "next") || !strcmp(state, "open") ||
            (!strcmp(test, "lead_answer") && !strcmp(state, "waits")))
            return i;
    }
    return TOLD;
}

static void answer_each(const struct test_answers_row *row, size_t which) {
    char args[400], id[80];
    const char *typed = strstr(row->sets, "=?") ? typed_for(row->sets) : NULL;
    if (strstr(row->sets, "=?") && !typed) printf("no value to type for %s\n", row->sets);
    snprintf(id, sizeof id, "%s", new_piece(which));
    snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"%s\",\"answer\":\"%s\"%s%s%s}", id,
             row->test, row->id, typed ? ",\"value\":\"" : "", typed ? typed : "",
             typed ? "\"" : "");
    if (do_it("piece test", args)) printf("%s: %s %s\n", row->id, a.why.field, a.why.text);
    const char *state = state_in(answer, row->test);
    /* a home kit clears nothing, a temperature is no reading, and a chip on its way is answered:
     * the others are done, or no longer concern the piece (a laminate has no film to test) */
    bool stays = !strcmp(row->id, "lead_kit_negative") || !strcmp(row->id, "lead_kit_positive") ||
                 !strcmp(row->id, "lead_content") || !strcmp(row->id, "lead_answer_content") ||
                 !strcmp(row->id, "moisture_warmth");
    if (is_open(state) != stays) printf("%s: %s\n", row->id, state);
    CHECK(is_open(state) == stays);
    CHECK(*row->means);
}

static void inspection(void) {
    const struct tables *t = &tables_builtin;
    char args[300], id[80];
    CASE("every test comes up in some piece, and has answers that name it") {
        for (size_t i = 0; i < t->tests_n; i++) {
            size_t n = 0;
            if (piece_for(t->tests[i].id) == TOLD) printf("never open: %s\n", t->tests[i].id);
            CHECK(piece_for(t->tests[i].id) < TOLD);
            for (size_t k = 0; k < t->test_answers_n; k++)
                n += !strcmp(t->test_answers[k].test, t->tests[i].id);
            CHECK(n > 0);
        }
    }
    CASE("every answer is of a test, can be given, and settles it") {
        for (size_t i = 0; i < t->test_answers_n; i++) {
            const struct test_answers_row *row = &t->test_answers[i];
            size_t n = strlen(row->test), which = piece_for(row->test);
            CHECK(!strncmp(row->id, row->test, n) && row->id[n] == '_');
            if (which < TOLD) answer_each(row, which);
        }
    }
    CASE("no two answers of a test set the same") {
        for (size_t i = 0; i < t->test_answers_n; i++)
            for (size_t k = 0; k < i; k++)
                CHECK(strcmp(t->test_answers[i].test, t->test_answers[k].test) ||
                      strcmp(t->test_answers[i].sets, t->test_answers[k].sets));
    }
    CASE("an answer changes the plan at once, and the change is said in words") {
        snprintf(id, sizeof id, "%s", new_piece(8)); /* white pine, light color */
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"rag\",\"answer\":\"red\"}", id);
        CHECK(do_it("piece test", args) == OK);
        CHECK(strstr(answer, "\"what\":\"Bleeding\"") && strstr(answer, "red rag"));
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"smell\",\"answer\":\"none\"}", id);
        CHECK(do_it("piece test", args) == OK);
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"pests\",\"answer\":\"bedbugs\"}",
                 id);
        CHECK(do_it("piece test", args) == OK);
        CHECK(strstr(answer, "\"what\":\"Refused\"") && *said(&a, answer, "refusal"));
        CHECK(!*said(&a, answer, "next")); /* nothing is tested on a refused piece */
    }
    CASE("lead: only a laboratory or an X-ray reading releases sanding; a kit does not") {
        static const struct {
            const char *answer;
            bool free;
        } rows[] = {{"kit_negative", false},
                    {"kit_positive", false},
                    {"waiting", false},
                    {"lab_negative", true},
                    {"xrf_negative", true}};
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            snprintf(id, sizeof id, "%s", new_piece(0));
            snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"lead\",\"answer\":\"%s\"}", id,
                     rows[i].answer);
            CHECK(do_it("piece test", args) == OK);
            snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
            CHECK(do_it("piece plan", args) == OK);
            const char *mine = strstr(answer, "\"hazards\""),
                       *rest = mine ? strstr(mine, "\"inspection\"") : NULL,
                       *stop = mine ? strstr(mine, "\"blocks\":\"dust") : NULL;
            CHECK(mine && rest && (!stop || stop > rest) == rows[i].free);
            CHECK(do_it("piece inspection", args) == OK);
            CHECK(is_open(state_in(answer, "tape")) &&
                  !strcmp(state_in(answer, "tape"), "open") == rows[i].free);
        }
    }
    CASE("skipped stays unknown, is planned as before, and can be opened again") {
        snprintf(id, sizeof id, "%s", new_piece(1));
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"alcohol\",\"skip\":true}", id);
        CHECK(do_it("piece test", args) == OK);
        CHECK_TEXT(state_in(answer, "alcohol"), "skipped");
        CHECK(strstr(answer, "\"changed\":[]"));
        CHECK(do_it("piece test", args) == OK); /* twice is once */
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
        CHECK(do_it("piece show", args) == OK && count_of(answer, "\"alcohol\"") == 1);
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"alcohol\",\"open\":true}", id);
        CHECK(do_it("piece test", args) == OK && is_open(state_in(answer, "alcohol")));
    }
    CASE("wax voids the solvent tests; on a cleaned spot they count") {
        snprintf(id, sizeof id, "%s", new_piece(4));
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"retest\",\"answer\":\"clean\"}", id);
        CHECK(do_it("piece test", args) == OK);
        CHECK(is_open(state_in(answer, "alcohol")));
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"alcohol\",\"answer\":\"dissolves\"}",
                 id);
        CHECK(do_it("piece test", args) == OK && strstr(answer, "shellac"));
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", id);
        CHECK(do_it("piece plan", args) == OK && strstr(answer, "Take off wax"));
    }
    CASE("what is wrong with an answer is said") {
        snprintf(id, sizeof id, "%s", new_piece(1));
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"mirror\",\"answer\":\"red\"}", id);
        CHECK(do_it("piece test", args) == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/test");
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"rag\",\"answer\":\"blue\"}", id);
        CHECK(do_it("piece test", args) == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/answer");
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"moisture\",\"value\":\"9\"}", id);
        CHECK(do_it("piece test", args) != OK);
        CHECK(strstr(a.why.field, "/tests/moisture"));
        /* a year is a whole number as people write it, and not what reads like one */
        static const char *const years[] = {"007", "1e3", "99999999999999999999", "about 1938"};
        for (size_t i = 0; i < sizeof years / sizeof *years; i++) {
            snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"age\",\"value\":\"%s\"}", id,
                     years[i]);
            CHECK(do_it("piece test", args) == E_TYPE);
            CHECK_TEXT(a.why.field, "/value/year");
        }
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"age\",\"value\":\" \"}", id);
        CHECK(do_it("piece test", args) == E_MISSING);
        CHECK_TEXT(a.why.field, "/value");
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"test\":\"age\",\"value\":\"1938\"}", id);
        CHECK(do_it("piece test", args) == OK);
    }
}

int main(void) {
    asker_open(&a);
    inspection();
    asker_close(&a);
    return check_done();
}
