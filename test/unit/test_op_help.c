/* Help at a step, the cautions that are read before it, and what keeps a step from being begun. */
#include "test/check.h"
#include "test/unit/film_piece.h"

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

int main(void) {
    help_tables();
    asker_open(&a);
    help();
    asker_close(&a);
    return check_done();
}
