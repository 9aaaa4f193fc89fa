/* The trade's own operations on a book: guided inspection, help at a step, what was
 * agreed, handing over. Figures were computed by hand, as each case says. */
#include "test/check.h"
#include "test/unit/ask_one.h"

/* ---- the guided inspection ---- */

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

/* ---- help at a step, cautions, gates ---- */

#define FILM(year, more)                                                                           \
    "{\"title\":\"Stand\",\"piece\":{\"template\":\"nightstand\",\"width\":\"20 "                  \
    "in\",\"depth\":\"16 in\","                                                                    \
    "\"height\":\"26 "                                                                             \
    "in\",\"finish\":\"oil_varnish\",\"wood\":\"eastern_white_pine\",\"year\":" year               \
    ",\"wanted\":{\"color\":\"#f4efe4\"}" more "}}"

static bool table_word(const char *list, const char *word) {
    size_t n = strlen(word);
    for (const char *at = list; (at = strstr(at, word)); at += n)
        if ((at == list || at[-1] == ' ') && (!at[n] || at[n] == ' ')) return true;
    return false;
}

static void help_tables(void) {
    const struct tables *t = &tables_builtin;
    CASE("cautions and notes refer to rows and words that are there") {
        for (size_t i = 0; i < t->cautions_n; i++) {
            bool known = false;
            for (size_t k = 0; k < t->hazards_n; k++)
                known |= !strcmp(t->hazards[k].id, t->cautions[i].id);
            CHECK(known);
        }
        for (size_t i = 0; i < t->process_notes_n; i++) {
            const struct process_notes_row *n = &t->process_notes[i];
            CHECK(table_word("dwell technique air cleaning disposal rags", n->topic));
            char list[256], *word, *rest = list;
            snprintf(list, sizeof list, "%s", n->at);
            while ((word = strtok_r(rest, " ", &rest))) {
                bool known = false, alone = *word == '='; /* that operation, not its whole role */
                for (size_t k = 0; k < t->operations_n; k++)
                    known |= !strcmp(t->operations[k].id, word + alone) ||
                             (!alone && !strcmp(t->operations[k].role, word));
                if (!known) printf("%s: no step \"%s\"\n", n->id, word);
                CHECK(known);
            }
            snprintf(list, sizeof list, "%s", n->classes);
            rest = list;
            while ((word = strtok_r(rest, " ", &rest))) {
                bool known = !strcmp(word, "any");
                for (size_t k = 0; k < t->product_classes_n; k++)
                    known |= !strcmp(t->product_classes[k].id, word);
                if (!known) printf("%s: no class \"%s\"\n", n->id, word);
                CHECK(known);
            }
        }
    }
    CASE("every class that is put on has a way to clean the tools and to get rid of the rest") {
        for (size_t i = 0; i < t->product_classes_n; i++) {
            const char *class = t->product_classes[i].id;
            bool cleaned = false, gone = false;
            for (size_t k = 0; k < t->process_notes_n; k++) {
                const struct process_notes_row *n = &t->process_notes[k];
                cleaned |= !strcmp(n->topic, "cleaning") && table_word(n->classes, class);
                gone |= (!strcmp(n->topic, "disposal") || !strcmp(n->topic, "rags")) &&
                        table_word(n->classes, class);
            }
            if (!cleaned || !gone) printf("%s\n", class);
            CHECK(cleaned && gone);
        }
    }
}

/* The first task of the piece whose id ends so. */
static const char *task_ending(const char *piece, const char *end) {
    static char id[120];
    char args[120];
    snprintf(args, sizeof args, "{\"id\":\"%s\"}", piece);
    *id = 0;
    if (do_it("piece plan", args)) return printf("%s: %s\n", a.why.field, a.why.text), id;
    for (const char *at = strstr(answer, "\"days\""); at && (at = strstr(at, "\"id\":\"")); at++) {
        char one[120] = "";
        sscanf(at, "\"id\":\"%119[^\"]", one);
        size_t n = strlen(one), m = strlen(end);
        if (!strncmp(one, piece, strlen(piece)) && n >= m && !strcmp(one + n - m, end))
            return strcpy(id, one);
    }
    return id;
}

static void help(void) {
    char args[300], task[120];
    help_tables();
    CASE("help at a color coat: how, tool, notes, and only the defects of that step and class") {
        CHECK(do_it("piece add", FILM("1995", "")) == OK);
        snprintf(task, sizeof task, "%s", task_ending("stand", "-color-coat1"));
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", task);
        CHECK(do_it("task help", args) == OK);
        CHECK_TEXT(said(&a, answer, "role"), "color");
        CHECK(strstr(answer, "\"sag\"") && strstr(answer, "\"blocking\""));
        CHECK(!strstr(answer, "\"wax_streaks\"") &&
              !strstr(answer, "\"lifting\"")); /* waterborne */
        CHECK(strstr(answer, "\"cleaning\"") && strstr(answer, "lukewarm water"));
        CHECK(!strstr(answer, "mineral spirits, twice"));
    }
    CASE("every defect comes up at the step of some role, and can be found by its letters") {
        static const char *const roles[] = {"clean", "scuff", "barrier", "primer", "rub",
                                            "stain", "color", "clear",   "wax",    "spot_seal"};
        for (size_t i = 0; i < tables_builtin.defects_n; i++) {
            size_t n = 0;
            for (size_t k = 0; k < sizeof roles / sizeof *roles; k++)
                n += table_word(tables_builtin.defects[i].roles, roles[k]);
            CHECK(n > 0);
        }
        CHECK(do_it("defects", "{\"q\":\"orange peel\"}") == OK &&
              count_of(answer, "\"cure\"") == 1);
        CHECK(do_it("defects", "{\"role\":\"wax\"}") == OK && strstr(answer, "wax_streaks") &&
              !strstr(answer, "\"sag\""));
    }
    CASE("a gate: nothing that makes dust is begun on old paint before a laboratory has answered") {
        CHECK(do_it("piece add", FILM("1938", "")) == OK); /* stand-2 */
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", task_ending("stand-2", "-scuff"));
        CHECK(do_it("task start", args) == E_REFUSED);
        CHECK_TEXT(a.why.field, "/gate");
        CHECK(do_it("task done", args) == E_REFUSED);
        CHECK(do_it("piece accept",
                    "{\"id\":\"stand-2\",\"kind\":\"caution\",\"about\":\"spirits\"}") == OK);
        CHECK(do_it("piece accept",
                    "{\"id\":\"stand-2\",\"kind\":\"caution\",\"about\":\"rags_strip\"}") == OK);
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"at\":\"2199-01-01 8:00 am\"}",
                 task_ending("stand-2", "-clean"));
        CHECK(do_it("task start", args) == E_DOMAIN); /* all days after it would wait till then */
        CHECK_TEXT(a.why.field, "/at");
        CHECK(do_it("task done", args) == E_DOMAIN && strstr(a.why.text, "has not come yet"));
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", task_ending("stand-2", "-clean"));
        CHECK(do_it("task start", args) == OK); /* washing makes no dust */
        CHECK(do_it("piece test",
                    "{\"id\":\"stand-2\",\"test\":\"lead\",\"answer\":\"lab_negative\"}") == OK);
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", task_ending("stand-2", "-scuff"));
        CHECK(do_it("task start", args) == OK);
    }
    CASE("a caution is read before the first such step, and kept with its date") {
        snprintf(task, sizeof task, "%s", task_ending("stand-2", "-barrier"));
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", task);
        CHECK(do_it("task start", args) == E_REFUSED);
        CHECK_TEXT(a.why.field, "/cautions");
        for (int i = 0; i < 5 && do_it("task start", args) == E_REFUSED; i++) {
            char about[40] = "", accept[200];
            const char *at = strstr(a.why.text, "--about ");
            if (at) sscanf(at, "--about %39[a-z_]", about);
            snprintf(accept, sizeof accept,
                     "{\"id\":\"stand-2\",\"kind\":\"caution\",\"about\":\"%s\"}", about);
            CHECK(do_it("piece accept", accept) == OK);
        }
        CHECK(do_it("task help", args) == OK && strstr(answer, "\"read_utc_min\""));
        CHECK_TEXT(said(&a, answer, "role"), "barrier");
        CHECK(do_it("piece accepted", "{\"id\":\"stand-2\"}") == OK &&
              strstr(answer, "\"kind\":\"caution\"") && strstr(answer, "\"at_utc_min\""));
        CHECK(do_it("piece accept",
                    "{\"id\":\"stand-2\",\"kind\":\"caution\",\"about\":\"crib_old\"}") ==
              E_REFERENCE);
    }
    CASE("a crib is begun only when its caution was read, whatever the step; so is the lid of a "
         "child's chest") {
        CHECK(do_it("piece add", "{\"title\":\"Cot\",\"piece\":{\"template\":\"crib\","
                                 "\"width\":\"54 in\",\"depth\":\"30 in\",\"height\":\"40 in\","
                                 "\"finish\":\"bare\",\"wood\":\"beech\",\"year\":2016,"
                                 "\"wanted\":{\"color\":\"#f4efe4\"}}}") == OK);
        CHECK(do_it("piece add", "{\"title\":\"Toys\",\"piece\":{\"template\":\"blanket_chest\","
                                 "\"width\":\"40 in\",\"depth\":\"18 in\",\"height\":\"20 in\","
                                 "\"finish\":\"bare\",\"wood\":\"beech\",\"child\":true,"
                                 "\"wanted\":{\"color\":\"#446677\"}}}") == OK);
        static const char *const kinds[][2] = {{"cot", "crib_maker"}, {"toys", "lid_child"}};
        for (size_t i = 0; i < 2; i++) {
            char read[160];
            snprintf(task, sizeof task, "%s", task_ending(kinds[i][0], "-photo_before"));
            snprintf(args, sizeof args, "{\"id\":\"%s\"}", task);
            CHECK(*task && do_it("task start", args) == E_REFUSED);
            CHECK_TEXT(a.why.field, "/cautions");
            CHECK(strstr(a.why.text, kinds[i][1]));
            snprintf(read, sizeof read, "{\"id\":\"%s\",\"kind\":\"caution\",\"about\":\"%s\"}",
                     kinds[i][0], kinds[i][1]);
            CHECK(do_it("piece accept", read) == OK);
            CHECK(do_it("task start", args) == OK);
        }
    }
    CASE(
        "every task of the days is a step that is helped and judged, coats' backs and mixing too") {
        CHECK(do_it("days", "{}") == OK);
        size_t seen = 0;
        for (const char *at = strstr(answer, "\"rows\""); at && (at = strstr(at, "{\"id\":\""));
             at++) {
            char one[120] = "", rest[40] = "";
            const char *kept = answer;
            sscanf(at, "{\"id\":\"%119[^\"]\",\"%39[a-z]", one, rest);
            if (strcmp(rest, "piece")) continue;
            bool odd = strstr(one, "-back") || strstr(one, "-mix") || strstr(one, "-card") ||
                       strstr(one, "-pot-") || strstr(one, "-board");
            if (!odd) continue; /* each asks for a whole plan */
            snprintf(args, sizeof args, "{\"id\":\"%s\"}", one);
            if (do_it("task help", args)) printf("%s: %s\n", one, a.why.text);
            CHECK(!*a.why.text);
            answer = kept;
            seen++;
        }
        CHECK(seen >= 3);
    }
    CASE("a piece that cannot be planned any more: no task of it is begun, and why is said") {
        CHECK(do_it("paint add", "{\"paint\":{\"id\":\"gone\",\"name\":\"Gone\",\"class\":"
                                 "\"wb_enamel\",\"color\":\"#446677\",\"stock\":\"1 qt\"}}") == OK);
        CHECK(do_it("piece add", "{\"title\":\"Lost\",\"piece\":{\"template\":\"nightstand\","
                                 "\"width\":\"20 in\",\"depth\":\"16 in\",\"height\":\"26 in\","
                                 "\"finish\":\"bare\",\"wood\":\"hard_maple\",\"knots\":false,"
                                 "\"wanted\":{\"product\":\"gone\"}}}") == OK);
        snprintf(task, sizeof task, "%s", task_ending("lost", "-clean"));
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", task);
        CHECK(do_it("task start", args) == OK && do_it("task undone", args) == OK);
        CHECK(do_it("paint remove", "{\"id\":\"gone\"}") == OK);
        CHECK(do_it("task start", args) == E_REFUSED);
        CHECK_TEXT(a.why.field, "/gate");
        if (!strstr(a.why.text, "cannot be planned")) printf("%s\n", a.why.text);
        CHECK(strstr(a.why.text, "cannot be planned") && strstr(a.why.text, "gone"));
        CHECK(do_it("task done", args) == E_REFUSED);
    }
    CASE("the remover without methylene chloride is confirmed before anything is stripped") {
        CHECK(do_it("piece add", FILM("1995", ",\"tests\":{\"tape_removed\":\"60 %\"}")) == OK);
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", task_ending("stand-3", "-strip"));
        CHECK(do_it("task start", args) == E_REFUSED);
        CHECK_TEXT(a.why.field, "/cautions");
        CHECK(strstr(a.why.text, "methylene chloride"));
        CHECK(count_of(a.why.text, "piece accept stand-3 caution --about ") > 1);
    }
}

/* ---- what was agreed ---- */

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
    inspection();
    asker_close(&a);
    asker_open(&a);
    help();
    accepted();
    asker_close(&a);
    return check_done();
}
