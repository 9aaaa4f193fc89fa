/* Shelf, shop, history, undo, search, copies and exports through the operations. */
#include "app/done_words.h"
#include "app/op.h"
#include "test/check.h"
#include "test/unit/ask.h"

static struct asker a;
static const char *answer;

static enum status do_it(const char *name, const char *args) {
    enum status s = ask(&a, name, args, &answer);
    return s;
}

static double stock_of(const char *paint) {
    char args[80];
    snprintf(args, sizeof args, "{\"id\":\"%s\"}", paint);
    CHECK(do_it("paint show", args) == OK);
    return said_real(&a, answer, "stock_ml");
}

static void shelf(void) {
    CASE("a paint's stock is a sum of movements, each entered as it was measured") {
        CHECK(do_it("paint add",
                    "{\"paint\":{\"name\":\"Yellow "
                    "ochre\",\"class\":\"wb_enamel\",\"color\":\"#c08a3e\",\"stock\":\"16 fl oz\","
                    "\"size\":\"1 qt\",\"cost\":\"$24\"}}") == OK);
        CHECK_TEXT(said(&a, answer, "id"), "yellow-ochre");
        CHECK_NEAR(said_real(&a, answer, "stock_ml"), 16 * 29.5735295625, 1e-9);
        CHECK(!strstr(answer, "\"stock\":"));
        CHECK(do_it("paint stock", "{\"id\":\"yellow-ochre\",\"kind\":\"used\",\"amount\":\"3 fl "
                                   "oz\",\"note\":\"test board\"}") == OK);
        CHECK_NEAR(stock_of("yellow-ochre"), 13 * 29.5735295625, 1e-9);
        CHECK(do_it("paint stock", "{\"id\":\"yellow-ochre\",\"kind\":\"bought\",\"amount\":\"1 "
                                   "qt\",\"cost\":\"$24\"}") == OK);
        CHECK_NEAR(stock_of("yellow-ochre"), 45 * 29.5735295625, 1e-9);
        CHECK(do_it("paint stock",
                    "{\"id\":\"yellow-ochre\",\"kind\":\"counted\",\"amount\":\"40 fl oz\"}") ==
              OK);
        CHECK_NEAR(stock_of("yellow-ochre"), 40 * 29.5735295625, 1e-9);
        CHECK(do_it("paint stock",
                    "{\"id\":\"yellow-ochre\",\"kind\":\"used\",\"amount\":\"3\"}") == E_UNIT);
        CHECK(do_it("paint stock", "{\"id\":\"yellow-ochre\",\"kind\":\"used\",\"amount\":\"3 "
                                   "ml\",\"piece\":\"none\"}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/piece");
        CHECK(do_it("paint movements", "{\"id\":\"yellow-ochre\"}") == OK &&
              count_of(answer, "\"kind\"") == 4);
    }
    CASE("undo of a use puts it back by a contrary movement") {
        CHECK(do_it("paint stock",
                    "{\"id\":\"yellow-ochre\",\"kind\":\"used\",\"amount\":\"5 fl oz\"}") == OK);
        CHECK(do_it("undo", "{}") == OK);
        CHECK_TEXT(said(&a, answer, "operation"), "paint stock");
        CHECK_NEAR(stock_of("yellow-ochre"), 40 * 29.5735295625, 1e-9);
        CHECK(do_it("paint movements", "{\"id\":\"yellow-ochre\"}") == OK &&
              strstr(answer, "\"corrected\""));
    }
    CASE("a stock that is said in a change is a stock take; the id stays") {
        CHECK(
            do_it("paint change",
                  "{\"id\":\"yellow-ochre\",\"paint\":{\"stock\":\"1 qt\",\"sheen\":\"flat\"}}") ==
            OK);
        CHECK_NEAR(said_real(&a, answer, "stock_ml"), 32 * 29.5735295625, 1e-9);
        CHECK_TEXT(said(&a, answer, "sheen"), "flat");
        CHECK(do_it("paint change", "{\"id\":\"yellow-ochre\",\"paint\":{\"id\":\"other\"}}") ==
              E_CONFLICT);
    }
    CASE("a measured paint comes from a spectrum file; one that cannot be used is refused") {
        struct text args = {0};
        text_print(&args, "{\"class\":\"wb_enamel\",\"file\":\"nm,Deep green,Slate\\n");
        for (int nm = 400; nm <= 700; nm += 10)
            text_print(&args, "%d,%d,20\\n", nm, nm < 580 && nm > 490 ? 30 : 5);
        text_print(&args, "\"");
        char *open = strdup(args.at);
        text_print(&args, ",\"sample\":\"Slate\"}");
        CHECK(do_it("paint measured", args.at) == OK);
        CHECK_TEXT(said(&a, answer, "id"), "slate");
        CHECK_TEXT(said(&a, answer, "color_hex"), "#7c7c7c"); /* Y 0.2: sRGB 0.4845 (IEC 61966) */
        text_free(&args);
        text_print(&args, "%s}", open);
        CHECK(do_it("paint measured", args.at) == E_MISSING);
        CHECK_TEXT(a.why.field, "/sample");
        CHECK(do_it("shelf known", "{}") == OK && strstr(answer, "\"spectrum\""));
        CHECK(do_it("paint add",
                    "{\"paint\":{\"name\":\"x\",\"class\":\"wb_enamel\",\"spectrum\":{"
                    "\"first_nm\":400,\"step_nm\":10,\"values\":[0.1,0.2,0.3]}}}") == E_MISSING);
        CHECK_TEXT(a.why.field, "/paint/spectrum");
        text_free(&args);
        text_print(&args, "%s,\"sample\":\"Slate\"}", open);
        CHECK(do_it("paint measured", args.at) == E_DUPLICATE); /* it is on the shelf by now */
        CHECK_TEXT(a.why.field, "/name");
        CHECK(strstr(a.why.text, "(id \"slate\")"));
        CHECK(do_it("paint remove", "{\"id\":\"slate\"}") == OK);
        text_free(&args);
        text_print(&args, "{\"class\":\"wb_enamel\",\"sample\":\"Slate\","
                          "\"file\":\"nm,Slate,Green,Slate\\n");
        for (int nm = 400; nm <= 700; nm += 20) text_print(&args, "%d,20,30,40\\n", nm);
        text_print(&args, "\"}");
        CHECK(do_it("paint measured", args.at) == E_DUPLICATE);
        CHECK(strstr(a.why.text, "Samples 1 and 3") && strstr(a.why.text, "\"Slate\""));
        text_free(&args);
        free(open);
    }
    CASE("no two paints of the shelf have one name: added, renamed, imported, or brought back") {
        CHECK(do_it("paint add", "{\"name\":\"Deep blue\",\"class\":\"wb_enamel\"}") == OK);
        CHECK(do_it("paint add", "{\"name\":\" deep  BLUE \",\"class\":\"wb_enamel\"}") ==
              E_DUPLICATE);
        CHECK_TEXT(a.why.field, "/paint/name");
        CHECK(do_it("paint change", "{\"id\":\"yellow-ochre\",\"name\":\"deep blue\"}") ==
              E_DUPLICATE);
        CHECK(strstr(a.why.text, "(id \"deep-blue\")"));
        CHECK(do_it("import", "{\"job\":{\"format\":\"coatwright-job\",\"version\":1,\"shelf\":{"
                              "\"paints\":[{\"id\":\"red\"},{\"id\":\"blue-2\",\"name\":\"Deep "
                              "Blue\"}]},\"pieces\":[]}}") == E_DUPLICATE);
        CHECK_TEXT(a.why.field, "/job/shelf/paints/1/name");
        CHECK(strstr(a.why.text, "(id \"deep-blue\")"));
        CHECK(do_it("paint show", "{\"id\":\"red\"}") == E_NOT_FOUND); /* nothing was entered */
        CHECK(do_it("paint remove", "{\"id\":\"deep-blue\"}") == OK);
        const int64_t removed = said_int(&a, answer, "revision");
        CHECK(do_it("paint add", "{\"name\":\"deep blue\",\"class\":\"wb_enamel\"}") == OK);
        char args[64];
        snprintf(args, sizeof args, "{\"revision\":%lld}", (long long)removed);
        CHECK(do_it("undo", args) == E_CONFLICT);
        CHECK_TEXT(a.why.field, "/revision");
        for (int i = 0; i < 3; i++) CHECK(do_it("undo", "{}") == OK);
    }
    CASE("a paint whose id is taken is refused, and nothing of it is read any further") {
        CHECK(do_it("paint add", "{\"paint\":{\"id\":\"yellow-ochre\",\"name\":\"Ochre of "
                                 "another can\",\"class\":\"wb_enamel\"}}") == E_DUPLICATE);
        CHECK_TEXT(a.why.field, "/id");
    }
    CASE("samples and leftovers refer to paints that are there") {
        CHECK(do_it("sample add", "{\"sample\":{\"items\":[{\"paint\":\"white\",\"parts\":1}],"
                                  "\"color\":\"#fff\"}}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/sample/items/0/paint");
        CHECK(do_it("sample add", "{\"sample\":{\"items\":[{\"paint\":\"yellow-ochre\",\"parts\":1}"
                                  "],\"color\":\"#c49044\",\"read\":\"instrument\"}}") == OK);
        CHECK(do_it("sample add", "{\"sample\":{\"items\":[{\"paint\":\"yellow-ochre\",\"parts\":1}"
                                  "],\"lab\":[60,10,40]}}") == OK);
        CHECK(do_it("sample add",
                    "{\"sample\":{\"items\":[{\"paint\":\"yellow-ochre\",\"parts\":1}]}}") ==
              E_MISSING);
        CHECK(do_it("samples", "{\"paint\":\"yellow-ochre\"}") == OK &&
              count_of(answer, "\"document\"") == 2);
        CHECK(do_it("sample remove", "{\"id\":\"sample\"}") == OK);
        CHECK(do_it("samples", "{}") == OK && count_of(answer, "\"document\"") == 1);
        CHECK(do_it("paint add", "{\"paint\":{\"name\":\"left\",\"leftover_of\":[{\"paint\":"
                                 "\"gray\",\"parts\":1}]}}") == E_REFERENCE);
    }
    CASE("supplies are counted in pieces") {
        CHECK(do_it("supply add",
                    "{\"name\":\"Masking tape\",\"kind\":\"tape\",\"count\":4,\"cost\":\"$6\"}") ==
              OK);
        CHECK(do_it("supply stock", "{\"id\":\"masking-tape\",\"kind\":\"used\",\"count\":1}") ==
              OK);
        CHECK(said_real(&a, answer, "count") == 3);
        CHECK(do_it("supply change", "{\"id\":\"masking-tape\",\"count\":7}") == OK &&
              said_real(&a, answer, "count") == 7);
        CHECK(do_it("supplies", "{}") == OK && count_of(answer, "\"id\"") == 1);
        const int64_t seen = said_int(&a, answer, "revision");
        CHECK(do_it("supply change", "{\"id\":\"masking-tape\",\"cost\":\"$7\"}") == OK);
        a.if_revision = seen;
        CHECK(do_it("supply stock", "{\"id\":\"masking-tape\",\"kind\":\"counted\",\"count\":5}") ==
              E_STALE);
        CHECK(do_it("supply stock", "{\"id\":\"masking-tape\",\"kind\":\"counted\",\"count\":5}") ==
                  OK &&
              said_real(&a, answer, "count") == 5);
        CHECK(do_it("supply stock", "{\"id\":\"masking-tape\",\"kind\":\"bought\",\"count\":2}") ==
                  OK &&
              said_real(&a, answer, "count") == 7);
    }
}

/* How many of the last three changes a terminal marks with these words; is the newest of them? */
static int marked(const char *words, bool *newest) {
    const struct op *op = op_by_name("history");
    void *args = arena_take(&a.arena, op->args->size);
    void *result = arena_take(&a.arena, op->result->size);
    desc_unsay(op->args, args);
    desc_unsay(op->result, result);
    CHECK(!document_read(op->args, SPELL_INPUT, "{\"limit\":3}", 11, &a.arena, args, &a.why));
    struct op_call call = {
        .app = &a.app, .arena = &a.arena, .args = args, .result = result, .if_revision = INT64_MIN};
    call.out_body.columns = 200; /* no words are torn */
    CHECK(op_run(op, &call, &a.why) == OK);
    const char *text = call.out_body.at ? arena_text(&a.arena, call.out_body.at) : "";
    const char *back = strstr(text, words), *line = strchr(text, '\n');
    *newest = back && line && back < line;
    text_free(&call.out_body);
    return count_of(text, words);
}

static void shop_and_history(void) {
    bool newest = true;
    CASE("the shop is kept as typed and understood as numbers") {
        CHECK(do_it("shop change", "{\"shop\":{\"name\":\"Bench\",\"rate\":\"$45/"
                                   "h\",\"zone\":\"America/New_York\"}}") == OK);
        CHECK(said_real(&a, answer, "rate_cent_per_h") == 4500 &&
              strstr(answer, "\"rate\":\"$45/h\""));
        int64_t seen = said_int(&a, answer, "revision");
        CHECK(do_it("shop change", "{\"shop\":{\"rate\":\"$50/h\"}}") == OK);
        a.if_revision = seen;
        CHECK(do_it("shop change", "{\"shop\":{\"rate\":\"$55/h\"}}") == E_STALE &&
              strstr(a.why.text, "rate"));
        CHECK(do_it("shop change", "{\"shop\":{\"hours\":[{\"day\":\"mon\",\"open\":\"5 pm\","
                                   "\"close\":\"8 am\"}]}}") == E_DOMAIN);
        CHECK_TEXT(a.why.field, "/shop/hours/0/close");
        CHECK(do_it("shop change", "{\"shop\":{\"rate\":\"45\"}}") == E_UNIT);
        CHECK_TEXT(a.why.field, "/shop/rate");
        CHECK(do_it("shop change", "{\"shop\":{\"zone\":\"Nowhere/Town\"}}") == E_DOMAIN);
        CHECK_TEXT(a.why.field, "/shop/zone");
    }
    CASE("the history of a piece reads what changed from what to what") {
        CHECK(do_it("piece add", "{\"title\":\"Desk\",\"width\":\"42 in\",\"wood\":\"oak\"}") ==
              OK);
        CHECK(do_it("piece change", "{\"id\":\"desk\",\"width\":\"43 in\"}") == OK);
        CHECK(do_it("piece history", "{\"id\":\"desk\"}") == OK);
        CHECK(count_of(answer, "\"operation\"") == 2);
        CHECK(strstr(answer, "\"member\":\"width\",\"before\":\"42 in\",\"after\":\"43 in\""));
        CHECK(strstr(answer, "\"what\":\"Desk: "));
    }
    CASE("whatever writes has words for what it did, and the history says them") {
        size_t n;
        const struct ops *const *all = ops_all(&n);
        for (size_t i = 0; i < n; i++)
            for (size_t k = 0; k < all[i]->n; k++) {
                const struct op *op = &all[i]->rows[k];
                bool writes = op->flags & OP_WRITES || !strcmp(op->name, "restore");
                bool said_so = done_words(op->name) != NULL;
                CHECK(said_so == writes);
                if (said_so != writes) printf("  %s\n", op->name);
            }
        CHECK(do_it("piece history", "{\"id\":\"desk\"}") == OK);
        CHECK_TEXT(said(&a, answer, "done"), "Piece changed");
    }
    CASE("undo and undo of undo, and the history tells both") {
        CHECK(marked("; taken back", &newest) == 0);
        CHECK(do_it("undo", "{}") == OK);
        int64_t back = said_int(&a, answer, "revision");
        CHECK(marked("; taken back", &newest) == 1 && !newest); /* the change, not its undo */
        CHECK(do_it("piece show", "{\"id\":\"desk\"}") == OK &&
              strstr(answer, "\"width\":\"42 in\""));
        char args[64];
        snprintf(args, sizeof args, "{\"revision\":%lld}", (long long)back);
        CHECK(do_it("undo", args) == OK);
        CHECK(marked("; taken back", &newest) == 0);
        CHECK(marked("; not any more", &newest) == 1 && !newest); /* the undo, not its own */
        CHECK(do_it("piece show", "{\"id\":\"desk\"}") == OK &&
              strstr(answer, "\"width\":\"43 in\""));
        CHECK(do_it("history", "{\"limit\":3}") == OK && strstr(answer, "\"undoes\"") &&
              strstr(answer, "\"undone_by\"") && strstr(answer, "\"next\""));
        CHECK(do_it("history", "{\"after\":\"\"}") == E_SYNTAX); /* it was an empty page */
        CHECK(do_it("history", "{\"limit\":3}") == OK);
        char next[64];
        snprintf(next, sizeof next, "{\"after\":\"%s\"}", said(&a, answer, "next"));
        CHECK(do_it("history", next) == OK && said_int(&a, answer, "revision") + 3 == a.revision);
    }
    CASE("blanks are no name") {
        CHECK(do_it("piece add",
                    "{\"title\":\"  \",\"template\":\"side_table\",\"client\":\" \"}") == OK);
        CHECK_TEXT(said(&a, answer, "title"), "side table");
        CHECK(!strstr(answer, "client_name"));
        CHECK(do_it("undo", "{}") == OK);
    }
    CASE("undo of an entry takes it off the list; words find it no more") {
        CHECK(do_it("piece add", "{\"title\":\"Hall bench\"}") == OK);
        CHECK(do_it("search", "{\"q\":\"hall\"}") == OK && count_of(answer, "\"id\"") == 1);
        CHECK(do_it("undo", "{}") == OK);
        CHECK(do_it("search", "{\"q\":\"hall\"}") == OK && count_of(answer, "\"id\"") == 0);
        CHECK(do_it("piece show", "{\"id\":\"hall-bench\"}") == E_NOT_FOUND);
    }
}

static void copies_and_exports(void) {
    CASE("a whole book exported, read into a new one and exported again is equal") {
        CHECK(do_it("export", "{}") == OK);
        const char *first = answer;
        struct asker other;
        asker_open(&other);
        struct text args = {0};
        text_print(&args, "{\"export\":%s}", first);
        const char *second;
        CHECK(ask(&other, "export read",
                  "{\"export\":{\"format\":\"coatwright-book\",\"version\":1,\"revision\":"
                  "9223372036854775807}}",
                  &second) == E_DOMAIN);
        CHECK(ask(&other, "export read", args.at, &second) == OK);
        CHECK(ask(&other, "export", "{}", &second) == OK);
        const char *from = strstr(first, "\"tables\""), *to = strstr(second, "\"tables\"");
        CHECK(from && to && !strcmp(from, to));
        CHECK(ask(&other, "check", "{}", &second) == OK);
        CHECK(ask(&other, "export read", args.at, &second) == E_CONFLICT);
        CHECK(ask(&other, "search", "{\"q\":\"desk\"}", &second) == OK &&
              count_of(second, "\"id\"") == 1);
        CHECK(ask(&other, "piece change", "{\"id\":\"desk\",\"width\":\"44 in\"}", &second) == OK);
        text_free(&args);
        asker_close(&other);
    }
    CASE("a book that was read in goes on behind the last change of the other") {
        for (int64_t then = 0; then < 4; then++) {
            char args[160];
            const char *got;
            struct asker other;
            asker_open(&other);
            snprintf(args, sizeof args,
                     "{\"export\":{\"format\":\"coatwright-book\",\"version\":1,\"revision\":%lld,"
                     "\"tables\":{}}}",
                     (long long)then);
            CHECK(ask(&other, "export read", args, &got) == OK && other.revision > then);
            asker_close(&other);
        }
    }
    CASE("an export whose rows nobody could read is refused whole, with the place") {
        static const struct {
            const char *tables, *field;
            enum status status;
        } bad[] = {
            {"{\"piece\":[\"abc\"]}", "/export/tables/piece/0", E_TYPE},
            {"{\"piece\":{\"a\":1}}", "/export/tables/piece", E_TYPE},
            {"{\"a\\\"b\":[]}", "/export/tables", E_UNKNOWN_KEY},
            {"5", "/export/tables", E_UNKNOWN_KEY},
            {"{\"piece\":[{\"document\":\"{}\"},{\"document\":\"{broken\"}]}",
             "/export/tables/piece/1/document", E_SYNTAX},
            {"{\"piece\":[{\"document\":\"{\\\"widht\\\":\\\"3 in\\\"}\"}]}",
             "/export/tables/piece/0/document/widht", E_UNKNOWN_KEY},
            {"{\"shop\":[{\"document\":\"[]\"}]}", "/export/tables/shop/0/document", E_TYPE},
            {"{\"paint\":[{\"document\":\"{\\\"id\\\":\\\"p\\\",\\\"stock\\\":9}\"}]}",
             "/export/tables/paint/0/document/stock", E_UNIT},
            {"{\"recipe\":[{\"items\":\"zzz\"}]}", "/export/tables/recipe/0/items", E_SYNTAX},
            {"{\"client\":[{\"number\":\"x\"}]}", "/export/tables/client", E_TYPE},
            {"{\"client\":[{\"number\":1}]}", "/export/tables/client/id", E_MISSING},
        };
        struct asker other;
        const char *got;
        asker_open(&other);
        for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
            struct text args = {0};
            text_print(&args,
                       "{\"export\":{\"format\":\"coatwright-book\",\"version\":1,\"revision\":5,"
                       "\"tables\":%s}}",
                       bad[i].tables);
            CHECK(ask(&other, "export read", args.at, &got) == bad[i].status);
            CHECK_TEXT(other.why.field, bad[i].field);
            text_free(&args);
        }
        static const char *const versions[] = {"0", "-3", "\"one\""};
        for (size_t i = 0; i < sizeof versions / sizeof *versions; i++) {
            char args[128];
            snprintf(args, sizeof args,
                     "{\"export\":{\"format\":\"coatwright-book\",\"version\":%s,\"tables\":{}}}",
                     versions[i]);
            CHECK(ask(&other, "export read", args, &got) == E_DOMAIN);
            CHECK_TEXT(other.why.field, "/export/version");
        }
        asker_close(&other);
    }
    CASE("a backup brought back gives the same export") {
        CHECK(do_it("export", "{}") == OK);
        const char *before = strstr(answer, "\"tables\"");
        CHECK(do_it("backup", "{}") == OK);
        char args[200];
        snprintf(args, sizeof args, "{\"name\":\"%s\"}", said(&a, answer, "name"));
        CHECK(do_it("piece change", "{\"id\":\"desk\",\"width\":\"50 in\"}") == OK);
        CHECK(do_it("restore", args) == OK);
        CHECK(do_it("export", "{}") == OK);
        CHECK_TEXT(strstr(answer, "\"tables\""), before);
        CHECK(do_it("restore", "{\"name\":\"../../etc/passwd\"}") == E_NOT_FOUND);
        CHECK(do_it("backups", "{}") == OK && count_of(answer, "\"name\"") == 2);
    }
    CASE("a table as CSV has a head and a line a row") {
        CHECK(do_it("export table", "{\"table\":\"stock_movement\"}") == OK);
        CHECK(!strncmp(answer, "number,revision,paint,kind,amount_ml,", 37));
        CHECK(count_of(answer, "\r\n") == 1 + 7);
        CHECK(strstr(answer, ",473.176473,"));
        CHECK(do_it("export table", "{\"table\":\"sqlite_schema\"}") == E_NOT_FOUND &&
              strstr(a.why.text, "Write one of") && strstr(a.why.text, "stock_movement"));
    }
}

int main(void) {
    asker_open(&a);
    shelf();
    shop_and_history();
    copies_and_exports();
    asker_close(&a);
    return check_done();
}
