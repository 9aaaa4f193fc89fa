/* A day worked through in the book: days, tasks, records, money, closing. The figures of the
 * closing were computed by hand, as each case says. */
#include "app/book.h"
#include "app/op_days.h"
#include "core/base/limit.h"
#include "test/check.h"
#include "test/unit/ask_one.h"

#define TABLE                                                                                      \
    "{\"title\":\"Side table\",\"piece\":{\"template\":\"side_table\",\"width\":\"20 "             \
    "in\",\"depth\":\"16 in\",\"height\":\"24 "                                                    \
    "in\",\"wood\":\"pine\",\"year\":2005,\"finish\":\"bare\",\"wanted\":{\"color\":\"#f4efe4\"}}" \
    "}"

static void tasks(void) {
    char args[160];
    CASE("an empty shop has empty days") {
        CHECK(do_it("today", "{}") == OK && count_of(answer, "\"id\"") == 0);
        CHECK(do_it("days", "{}") == OK && said_int(&a, answer, "pieces_open") == INT64_MIN);
        CHECK(do_it("shopping", "{}") == OK);
    }
    CASE("a piece of the book is planned with the shop's hours; the list shows what comes next") {
        CHECK(do_it("shop change",
                    "{\"shop\":{\"zone\":\"America/New_York\",\"rate\":\"$40/h\"}}") == OK);
        CHECK(do_it("piece add", TABLE) == OK);
        if (do_it("piece plan", "{\"id\":\"side-table\"}"))
            printf("%s: %s\n", a.why.field, a.why.text);
        CHECK(strstr(answer, "\"sheet\"") && strstr(answer, "\"days\""));
        CHECK(do_it("pieces", "{}") == OK && *said(&a, answer, "next_step"));
    }
    CASE("begun and done: the piece is in work, the next task comes up, the time is a record") {
        CHECK(do_it("today", "{}") == OK);
        const char *first = said(&a, strstr(answer, "\"now\":["), "id");
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", first);
        CHECK(do_it("task start", args) == OK);
        CHECK_TEXT(said(&a, answer, "state"), "begun");
        CHECK(do_it("piece show", "{\"id\":\"side-table\"}") == OK);
        CHECK_TEXT(said(&a, answer, "stage"), "in_work");
        a.now_utc_min += 20;
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"took\":\"12 min\"}", first);
        CHECK(do_it("task done", args) == OK);
        CHECK(said_real(&a, answer, "took_min") == 12);
        CHECK(do_it("task done", args) == E_CONFLICT);
        CHECK(do_it("today", "{}") == OK);
        CHECK(strcmp(said(&a, strstr(answer, "\"now\":["), "id"), first));
        CHECK(do_it("records", "{\"kind\":\"hours\"}") == OK &&
              count_of(answer, "\"actual\":12") == 1);
        snprintf(args, sizeof args, "{\"id\":\"%s\"}", first);
        CHECK(do_it("task undone", args) == OK);
        CHECK(do_it("records", "{}") == OK && count_of(answer, "\"weight\":-1") == 1);
        CHECK(do_it("task done", "{\"id\":\"nothing\"}") == E_NOT_FOUND);
        CHECK(do_it("undo", "{}") == OK); /* the undone */
        CHECK(do_it("today", "{}") == OK);
        CHECK(strcmp(said(&a, strstr(answer, "\"now\":["), "id"), first));
    }
    CASE("the days do not hang on recipes, and a list keeps the price that was planned") {
        CHECK(do_it("paint add", "{\"name\":\"Chalk\",\"paint\":{\"class\":\"wb_enamel\",\"color\":"
                                 "\"#f0ead8\",\"stock\":\"1 qt\"}}") == OK);
        CHECK(do_it("today", "{}") == OK && do_it("piece show", "{\"id\":\"side-table\"}") == OK);
        const char *price = said(&a, answer, "price_cent"), *hex = said(&a, answer, "shown_hex");
        CHECK(*price && *hex);
        struct days_view with, without;
        static struct op_call call;
        call = (struct op_call){.app = &a.app, .arena = &a.arena, .limit = {0}};
        CHECK(store_read(a.app.store, &call.book, &a.why) == OK);
        CHECK(days_look(&call, INT64_MIN, true, &with, &a.why) == OK);
        CHECK(days_look(&call, INT64_MIN, false, &without, &a.why) == OK);
        store_read_end(call.book);
        CHECK(with.answer.plan.pieces[0].color.lines_n &&
              !without.answer.plan.pieces[0].color.lines_n);
        CHECK(with.tasks_n == without.tasks_n && with.tasks_n > 3);
        for (size_t i = 0; i < with.tasks_n; i++)
            CHECK(!strcmp(with.tasks[i].id, without.tasks[i].id) &&
                  with.tasks[i].start_utc_min == without.tasks[i].start_utc_min);
        CHECK(do_it("piece show", "{\"id\":\"side-table\"}") == OK);
        CHECK_TEXT(said(&a, answer, "price_cent"), price);
        CHECK_TEXT(said(&a, answer, "shown_hex"), hex);
        CHECK(do_it("paint remove", "{\"id\":\"chalk\"}") == OK);
    }
    CASE("days that are accepted do not move until the clock does") {
        CHECK(do_it("days accept", "{}") == OK);
        CHECK(do_it("days replan", "{}") == OK && !strstr(answer, "instead of"));
        a.now_utc_min += 3 * 1440;
        CHECK(do_it("days replan", "{}") == OK && strstr(answer, "instead of"));
    }
}

/* Another window writes while a change is still computing: once to each state that it reads. */
struct meddler {
    const struct op_call *call;
    int left;
    int64_t seen;
};

static bool meddle(void *ctx) {
    struct meddler *m = ctx;
    const char *out;
    if (book_writes(m->call->book) || book_revision(m->call->book) == m->seen || m->left <= 0)
        return false;
    m->seen = book_revision(m->call->book);
    m->left--;
    struct asker other = {.app = a.app, .now_utc_min = a.now_utc_min, .if_revision = INT64_MIN};
    other.app.now_ctx = &other;
    arena_init(&other.arena, alloc_heap(), 0);
    CHECK(ask(&other, "client add", "{\"name\":\"Meddler\"}", &out) == OK);
    arena_free(&other.arena);
    return false;
}

static void computing_outside(void) {
    CASE("a long change computes before it writes: others write meanwhile, and what it wrote is of "
         "the state that it stands on") {
        for (int times = 0; times <= 4; times += 2) {
            const struct op *op = op_by_name("days accept");
            struct done_answer done;
            void *args = arena_take(&a.arena, op->args->size);
            desc_unsay(op->args, args);
            ((struct days_ask *)args)->anew = true; /* laid out anew, which takes its time */
            desc_unsay(op->result, &done);
            struct op_call call = {.app = &a.app,
                                   .arena = &a.arena,
                                   .args = args,
                                   .result = &done,
                                   .if_revision = INT64_MIN};
            struct meddler m = {.call = &call, .left = times, .seen = INT64_MIN};
            call.limit = (struct limit){.stop = meddle, .ctx = &m};
            CHECK(op_run(op, &call, &a.why) == OK);
            text_free(&call.out_body);
            CHECK(call.out_revision == done.revision);
            CHECK(m.left == (times > 3 ? times - 3 : 0)); /* three tries, then within the change */
            CHECK(do_it("days replan", "{}") == OK && !strstr(answer, "instead of"));
        }
    }
    CASE("a change that was prepared and refused says why, and a repeated key gets its answer") {
        a.key = "accept-once-1";
        CHECK(do_it("days accept", "{}") == OK);
        int64_t revision = a.revision;
        a.key = "accept-once-1";
        CHECK(do_it("days accept", "{}") == OK && a.revision == revision);
        CHECK(do_it("task done", "{\"id\":\"nobody/nothing\"}") == E_NOT_FOUND);
        CHECK_TEXT(a.why.field, "/id");
    }
}

static void money(void) {
    CASE("in or out follows from what it was for") {
        CHECK(do_it("money add",
                    "{\"kind\":\"purchase\",\"amount\":\"$35\",\"piece\":\"side-table\"}") == OK);
        CHECK(said_int(&a, answer, "amount_cent") == -3500);
        CHECK(do_it("money add",
                    "{\"kind\":\"sale\",\"amount\":\"$240\",\"piece\":\"side-table\"}") == OK);
        CHECK(said_int(&a, answer, "amount_cent") == 24000);
        CHECK(do_it("money add",
                    "{\"kind\":\"fee\",\"amount\":\"$24\",\"piece\":\"side-table\"}") == OK);
        CHECK(do_it("money add", "{\"kind\":\"sale\",\"amount\":\"$1\",\"piece\":\"none\"}") ==
              E_REFERENCE);
        CHECK(do_it("money", "{\"piece\":\"side-table\"}") == OK &&
              count_of(answer, "\"number\"") == 3);
    }
    CASE("an hour earned (240 - 24 - 35 - 8) / 3.5 = $49.43") {
        /* 8 = 1/4 qt of a $32 quart */
        CHECK(do_it("paint add", "{\"name\":\"Warm "
                                 "white\",\"paint\":{\"class\":\"wb_enamel\",\"color\":\"#f4efe4\","
                                 "\"size\":\"1 qt\",\"cost\":\"$32\",\"stock\":\"1 qt\"}}") == OK);
        CHECK(do_it("paint stock", "{\"id\":\"warm-white\",\"kind\":\"used\",\"amount\":\"8 fl "
                                   "oz\",\"piece\":\"side-table\"}") == OK);
        CHECK(do_it("piece close", "{\"id\":\"side-table\",\"hours\":\"3 h 30 min\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "hour_cent"), 17300 / 3.5, 1e-6);
        CHECK_NEAR(said_real(&a, answer, "actual_material_cent"), 800, 1e-6);
        const char *product = strstr(answer, "\"paint\":\"warm-white\"");
        CHECK(product && strstr(product, "\"actual_ml\":236.588"));
        CHECK_NEAR(said_real(&a, product, "actual_cost_cent"), 800, 1e-6);
        CHECK(do_it("piece close", "{\"id\":\"side-table\"}") == E_CONFLICT);
        CHECK(do_it("money pieces", "{}") == OK && count_of(answer, "\"hour_cent\"") == 1);
        CHECK(do_it("pieces", "{\"stage\":\"closed\"}") == OK && count_of(answer, "\"id\"") == 1);
    }
    CASE("undo opens it again, and it can be closed anew") {
        CHECK(do_it("undo", "{}") == OK);
        CHECK(do_it("money pieces", "{}") == OK && count_of(answer, "\"hour_cent\"") == 0);
        CHECK(do_it("piece close",
                    "{\"id\":\"side-table\",\"hours\":\"7 h\",\"price\":\"$300\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "hour_cent"), (30000 - 2400 - 3500 - 800) / 7.0, 1e-6);
        CHECK(do_it("money pieces", "{}") == OK && count_of(answer, "\"hour_cent\"") == 1);
    }
    CASE("what was used in all, said at closing, is on the piece once and off the shelf") {
        static const char close[] = "{\"id\":\"side-table\",\"hours\":\"7 h\",\"used\":[{"
                                    "\"paint\":\"warm-white\",\"amount\":\"10 fl oz\"}]}";
        CHECK(do_it("undo", "{}") == OK);
        CHECK(do_it("piece close", close) == OK);
        CHECK_NEAR(said_real(&a, answer, "actual_material_cent"), 1000, 1e-6); /* 10/32 of $32 */
        CHECK(count_of(answer, "\"paint\":\"warm-white\"") == 1);
        CHECK(do_it("paint show", "{\"id\":\"warm-white\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "stock_ml"), 22 * 29.5735295625, 1e-6);
        CHECK(do_it("undo", "{}") == OK);
        CHECK(do_it("paint show", "{\"id\":\"warm-white\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "stock_ml"), 24 * 29.5735295625, 1e-6);
        CHECK(do_it("piece close", "{\"id\":\"side-table\",\"hours\":\"7 h\",\"used\":[{"
                                   "\"paint\":\"none\",\"amount\":\"1 fl oz\"}]}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/used/0/paint");
        CHECK(do_it("piece close", close) == OK);
    }
    CASE("cans that nobody logged count as planned unless that is said, and the shelf follows") {
        const char *stool = "{\"title\":\"Stool\",\"template\":\"stool\",\"width\":\"14 in\","
                            "\"depth\":\"14 in\",\"height\":\"18 in\",\"color\":\"#f4efe4\"}";
        const double was = 22 * 29.5735295625;
        CHECK(do_it("piece add", stool) == OK);
        CHECK(do_it("piece close", "{\"id\":\"stool\",\"hours\":\"3 h\"}") == OK);
        const char *can = strstr(answer, "\"paint\":\"warm-white\"");
        double planned = can ? said_real(&a, can, "planned_ml") : 0;
        CHECK(planned > 50);
        CHECK_NEAR(said_real(&a, can ? can : "{}", "actual_ml"), planned, 1e-6);
        CHECK(do_it("paint show", "{\"id\":\"warm-white\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "stock_ml"), was - planned, 1e-6);
        CHECK(do_it("undo", "{}") == OK);
        CHECK(do_it("paint show", "{\"id\":\"warm-white\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "stock_ml"), was, 1e-6);
        static const char *const none[] = {
            "{\"id\":\"stool\",\"hours\":\"3 h\",\"unlogged\":\"none\"}",
            "{\"id\":\"stool\",\"hours\":\"3 h\",\"used\":[{\"paint\":\"warm-white\","
            "\"amount\":\"0 ml\"}]}"};
        for (size_t i = 0; i < 2; i++) {
            CHECK(do_it("piece close", none[i]) == OK);
            CHECK_NEAR(said_real(&a, answer, "actual_material_cent"), 0, 1e-6);
            CHECK(do_it("undo", "{}") == OK);
        }
        CHECK(do_it("piece remove", "{\"id\":\"stool\"}") == OK);
    }
    CASE("seventy paints that were logged for a piece are all in what it took, and in the money") {
        enum { PAINTS = 70 };
        CHECK(do_it("piece add",
                    "{\"title\":\"Mosaic\",\"template\":\"stool\",\"width\":\"14 in\",\"depth\":"
                    "\"14 in\",\"height\":\"18 "
                    "in\",\"piece\":{\"wanted\":{\"product\":\"warm-white\"}}}") == OK);
        for (int i = 0; i < PAINTS; i++) {
            char args[200];
            snprintf(args, sizeof args,
                     "{\"name\":\"Tile %d\",\"paint\":{\"class\":\"wax\","
                     "\"size\":\"1 qt\",\"cost\":\"$32\",\"stock\":\"1 qt\"}}",
                     i);
            CHECK(do_it("paint add", args) == OK);
            snprintf(args, sizeof args,
                     "{\"id\":\"tile-%d\",\"kind\":\"used\",\"amount\":\"1 fl oz\",\"piece\":"
                     "\"mosaic\"}",
                     i);
            CHECK(do_it("paint stock", args) == OK);
        }
        CHECK(do_it("piece close", "{\"id\":\"mosaic\",\"hours\":\"3 h\",\"unlogged\":\"none\"}") ==
              OK);
        CHECK(count_of(answer, "\"paint\":\"tile-") == PAINTS);
        CHECK_NEAR(said_real(&a, answer, "actual_material_cent"), PAINTS * 100, 1e-6); /* $1 each */
        CHECK(do_it("undo", "{}") == OK && do_it("piece remove", "{\"id\":\"mosaic\"}") == OK);
        for (int i = 0; i < PAINTS; i++) {
            char args[60];
            snprintf(args, sizeof args, "{\"id\":\"tile-%d\"}", i);
            CHECK(do_it("paint remove", args) == OK);
        }
    }
    CASE("for sale: what it was bought for counts unless money says so, and how long it stood") {
        /* by hand: (320 - 60 - 0) / 5 h = $52; Sep 26 to Oct 12, 11 pm in New York: 16 days */
        CHECK(do_it("shop change", "{\"shop\":{\"zone\":\"America/New_York\"}}") == OK);
        CHECK(do_it("piece add",
                    "{\"title\":\"Flip\",\"template\":\"stool\",\"width\":\"14 in\",\"depth\":"
                    "\"14 in\",\"height\":\"18 in\",\"color\":\"#c89b3c\",\"piece\":{"
                    "\"agreement\":{\"purpose\":\"sale\",\"bought\":\"$60\",\"listed\":"
                    "\"2026-09-26\"}}}") == OK);
        CHECK(do_it("piece plan", "{\"id\":\"flip\"}") == OK);
        CHECK(do_it("piece close", "{\"id\":\"flip\",\"hours\":\"5 h\",\"price\":\"$320\","
                                   "\"unlogged\":\"none\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "hour_cent"), 5200, 1e-6);
        CHECK(said_int(&a, answer, "days_to_sell") == 16);
        /* what it came to is told, not what was planned: $320 in 5 h, and no day to come */
        CHECK(do_it("pieces", "{\"stage\":\"closed\",\"q\":\"flip\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "price_cent"), 32000, 1e-6);
        CHECK_NEAR(said_real(&a, answer, "hours"), 5, 1e-9);
        CHECK(said_int(&a, answer, "ready_utc_min") == INT64_MIN);
        CHECK(do_it("undo", "{}") == OK && do_it("piece remove", "{\"id\":\"flip\"}") == OK);
    }
}

static void records(void) {
    CASE("a record that is far off is kept and doubted") {
        CHECK(do_it("record add", "{\"kind\":\"spread\",\"class\":\"wb_enamel\",\"method\":"
                                  "\"brush\",\"spread\":\"350 ft2/gal\",\"planned\":9.3}") == OK);
        CHECK(strstr(answer, "\"doubted\":false") || !strstr(answer, "\"doubted\":true"));
        CHECK(
            do_it("record add",
                  "{\"kind\":\"hours\",\"operation\":\"sand\",\"took\":\"10 h\",\"planned\":30}") ==
                OK &&
            strstr(answer, "\"doubted\":true"));
        CHECK(do_it("record add", "{\"kind\":\"hours\",\"took\":\"10 h\"}") == E_MISSING);
        CHECK_TEXT(a.why.field, "/operation");
        CHECK(do_it("record add", "{\"kind\":\"loss\",\"class\":\"wb_enamel\"}") == E_MISSING);
        CHECK_TEXT(a.why.field, "/loss");
    }
    CASE("records teach: usual -> your shop; what was taken back teaches nothing") {
        CHECK(do_it("learned", "{}") == OK);
        const char *spread = strstr(answer, "\"kind\":\"spread\"");
        CHECK(spread && said_int(&a, spread, "used") == 1);
        CHECK(said_real(&a, spread, "factor") < 1 && said_real(&a, spread, "factor") > 8.59 / 9.3);
        CHECK(do_it("record add", "{\"kind\":\"spread\",\"class\":\"wb_enamel\",\"method\":"
                                  "\"brush\",\"spread\":\"100 ft2/gal\",\"planned\":9.3}") == OK);
        CHECK(do_it("undo", "{}") == OK && do_it("learned", "{}") == OK);
        spread = strstr(answer, "\"kind\":\"spread\"");
        CHECK(spread && said_int(&a, spread, "used") + said_int(&a, spread, "questioned") == 1);
    }
    CASE("the days as calendar and as CSV") {
        CHECK(do_it("piece change", "{\"id\":\"side-table\",\"stage\":\"in_work\"}") == OK);
        CHECK(do_it("calendar", "{}") == OK && !strncmp(answer, "BEGIN:VCALENDAR\r\n", 17) &&
              strstr(answer, "DTSTART:"));
        CHECK(do_it("days table", "{}") == OK && !strncmp(answer, "kind,id,piece,", 14) &&
              count_of(answer, "\r\n") > 5);
    }
    CASE("one piece that cannot be planned does not stop the shop, and is named") {
        CHECK(do_it("piece add", "{\"title\":\"Riddle\",\"template\":\"chest\"}") == OK);
        CHECK(do_it("piece plan", "{\"id\":\"riddle\"}") != OK &&
              !strncmp(a.why.field, "/pieces/0/width", 15));
        CHECK(do_it("today", "{}") == OK &&
              strstr(answer, "Cannot be planned: The width is missing") &&
              strstr(answer, "\"now\":[{"));
        CHECK(do_it("piece plan", "{\"id\":\"side-table\"}") == OK);
        CHECK(do_it("piece add", "{\"title\":\"Enigma\",\"template\":\"chest\"}") == OK);
        CHECK(do_it("days", "{}") == OK && count_of(answer, "Cannot be planned") == 1 &&
              strstr(answer, "; "));
        CHECK(do_it("piece remove", "{\"id\":\"enigma\"}") == OK);
        CHECK(do_it("piece remove", "{\"id\":\"riddle\"}") == OK);
    }
    CASE("a piece leaves the book as a job document that plans alone") {
        CHECK(do_it("piece document", "{\"id\":\"side-table\"}") == OK &&
              strstr(answer, "\"coatwright-job\""));
        struct text args = {0};
        text_print(&args, "{\"job\":%s}", answer);
        CHECK(do_it("plan", args.at) == OK && strstr(answer, "Side table"));
        text_free(&args);
    }
}

int main(void) {
    asker_open(&a);
    tasks();
    computing_outside();
    money();
    records();
    asker_close(&a);
    return check_done();
}
