/* A day worked through in the book: days, tasks, records, money, closing. The figures of the
 * closing were computed by hand, as each case says. */
#include "app/book.h"
#include "app/memory.h"
#include "app/op_days.h"
#include "core/base/limit.h"
#include "test/check.h"
#include "test/unit/ask_one.h"

#include <pthread.h>
#include <time.h>

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

/* A thread that asks what this one is finding out. */
static const struct recall_key shared_key = {7, 7};
struct second {
    const struct recall *recall;
    pthread_barrier_t at;
    const struct limit *limit;
    struct arena arena;
    uint64_t got; /* 0: it was told nothing */
};

static void *ask_too(void *arg) {
    struct second *s = arg;
    size_t n;
    pthread_barrier_wait(&s->at);
    const uint64_t *v = s->recall->find(s->recall->ctx, shared_key, s->limit, &s->arena, &n);
    s->got = v ? *v : 0;
    if (!v) s->recall->drop(s->recall->ctx, shared_key);
    return NULL;
}

static bool at_once(void *ctx) {
    return ctx == NULL;
}

/* What the second is told when the first keeps `value`, or drops (0). */
static uint64_t told_second(uint64_t value, const struct limit *limit) {
    struct memory *m = memory_make();
    struct second s = {.recall = memory_recall(m), .limit = limit};
    pthread_t thread;
    size_t n;
    arena_init(&s.arena, alloc_heap(), 0);
    pthread_barrier_init(&s.at, NULL, 2);
    CHECK(!s.recall->find(s.recall->ctx, shared_key, NULL, &a.arena, &n));
    CHECK(!pthread_create(&thread, NULL, ask_too, &s));
    pthread_barrier_wait(&s.at);
    if (limit) pthread_join(thread, NULL); /* it does not wait for us */
    nanosleep(&(struct timespec){.tv_nsec = 30000000}, NULL);
    if (value)
        s.recall->keep(s.recall->ctx, shared_key, &value, sizeof value);
    else
        s.recall->drop(s.recall->ctx, shared_key);
    if (!limit) pthread_join(thread, NULL);
    pthread_barrier_destroy(&s.at);
    arena_free(&s.arena);
    memory_free(m);
    return s.got;
}

/* Keys of one place: four stand in it together, the fifth takes that of the one asked for longest
 * ago. */
static void remembering(void) {
    CASE("what was found before is kept for several questions of one place") {
        struct memory *m = memory_make();
        const struct recall *r = memory_recall(m);
        size_t n;
        int found = 0;
        for (uint64_t i = 0; i < 4; i++)
            r->keep(r->ctx, (struct recall_key){i, i << 32}, &i, sizeof i);
        for (uint64_t i = 4; i-- > 0;) {
            const uint64_t *v =
                r->find(r->ctx, (struct recall_key){i, i << 32}, NULL, &a.arena, &n);
            found += v && n == sizeof i && *v == i;
        }
        CHECK(found == 4);
        uint64_t five = 5;
        r->keep(r->ctx, (struct recall_key){five, five << 32}, &five, sizeof five);
        CHECK(r->find(r->ctx, (struct recall_key){five, five << 32}, NULL, &a.arena, &n) != NULL);
        CHECK(r->find(r->ctx, (struct recall_key){0, 0}, NULL, &a.arena, &n) != NULL);
        CHECK(r->find(r->ctx, (struct recall_key){3, (uint64_t)3 << 32}, NULL, &a.arena, &n) ==
              NULL);
        memory_free(m);
    }
}

static void waiting(void) {
    CASE("who asks what another is finding out waits for it, unless it must stop or none comes") {
        const struct limit stopped = {.stop = at_once};
        CHECK(told_second(42, NULL) == 42);
        CHECK(told_second(0, NULL) == 0);
        CHECK(told_second(42, &stopped) == 0);
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
    CASE("for sale: what it was bought for counts unless money says so, and how long it stood") {
        /* by hand: (320 - 60 - 0) / 5 h = $52; Sep 26 to Oct 12, 11 pm in New York: 16 days */
        CHECK(do_it("shop change", "{\"shop\":{\"zone\":\"America/New_York\"}}") == OK);
        CHECK(do_it("piece add",
                    "{\"title\":\"Flip\",\"template\":\"stool\",\"width\":\"14 in\",\"depth\":"
                    "\"14 in\",\"height\":\"18 in\",\"color\":\"#c89b3c\",\"piece\":{"
                    "\"agreement\":{\"purpose\":\"sale\",\"bought\":\"$60\",\"listed\":"
                    "\"2026-09-26\"}}}") == OK);
        CHECK(do_it("piece close", "{\"id\":\"flip\",\"hours\":\"5 h\",\"price\":\"$320\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "hour_cent"), 5200, 1e-6);
        CHECK(said_int(&a, answer, "days_to_sell") == 16);
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
        CHECK(do_it("piece add", "{\"title\":\"Riddle\",\"template\":\"no_such_thing\"}") == OK);
        CHECK(do_it("piece plan", "{\"id\":\"riddle\"}") != OK &&
              !strncmp(a.why.field, "/pieces/0/width", 15));
        CHECK(do_it("today", "{}") == OK && strstr(answer, "Cannot be planned: width") &&
              strstr(answer, "\"now\":[{"));
        CHECK(do_it("piece plan", "{\"id\":\"side-table\"}") == OK);
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

static void mixing(void) {
    CASE("a batch takes from the shelf what was poured, by its parts") {
        CHECK(do_it("paint add", "{\"name\":\"Black\",\"paint\":{\"class\":\"wb_enamel\",\"color\":"
                                 "\"#222\",\"stock\":\"1 qt\"}}") == OK);
        CHECK(do_it("paint change", "{\"id\":\"warm-white\",\"stock\":\"1 qt\"}") == OK);
        CHECK(
            do_it("batch add",
                  "{\"name\":\"Gray\",\"target\":\"#808080\",\"items\":[{\"paint\":\"warm-white\","
                  "\"parts\":3},{\"paint\":\"black\",\"parts\":1}],\"amount\":\"400 ml\"}") == OK);
        CHECK_TEXT(said(&a, answer, "id"), "gray");
        CHECK(*said(&a, answer, "predicted_hex") == '#');
        CHECK(do_it("paint show", "{\"id\":\"warm-white\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "stock_ml"), 946.352946 - 300, 1e-9);
        CHECK(do_it("paint show", "{\"id\":\"black\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "stock_ml"), 946.352946 - 100, 1e-9);
        CHECK(do_it("batch add", "{\"name\":\"x\",\"items\":[{\"paint\":\"none\",\"parts\":1}],"
                                 "\"amount\":\"1 ml\"}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/items/0/paint");
    }
    CASE("a batch that dried to another color becomes a sample, and what to add is said") {
        CHECK(do_it("batch correct",
                    "{\"id\":\"gray\",\"dried\":\"#9a9a98\",\"read\":\"instrument\"}") == OK &&
              strstr(answer, "\"advice\":\"add\""));
        CHECK(said_real(&a, answer, "difference_now") > 5);
        CHECK_NEAR(said_real(&a, answer, "after_ml"), 400 + said_real(&a, answer, "amount_ml"),
                   1e-6);                                        /* one paint, black */
        CHECK(said_real(&a, answer, "fresh_amount_ml") >= 395 && /* a fresh one beside it */
              said_real(&a, answer, "fresh_expected_difference") > 0);
        CHECK(do_it("samples", "{\"paint\":\"black\"}") == OK &&
              count_of(answer, "\"document\"") == 1);
        CHECK(do_it("batch show", "{\"id\":\"gray\"}") == OK && strstr(answer, "#9a9a98"));
    }
    CASE("a fresh batch that is expected no nearer than this one dried is not offered") {
        CHECK(do_it("batch correct",
                    "{\"id\":\"gray\",\"dried\":\"#808080\",\"read\":\"instrument\"}") == OK &&
              strstr(answer, "\"advice\":\"leave\"") && !strstr(answer, "fresh_hex"));
        CHECK(do_it("undo", "{}") == OK);
    }
    CASE("what is poured into a batch is in it, and it has not dried again") {
        CHECK(do_it("batch pour", "{\"id\":\"gray\",\"items\":[{\"paint\":\"black\",\"amount\":"
                                  "\"100 ml\"}]}") == OK);
        CHECK_NEAR(said_real(&a, answer, "amount_ml"), 500, 1e-9);
        CHECK(!strstr(answer, "\"dried\"") && count_of(answer, "\"paint\"") == 2);
        CHECK(strstr(answer, "\"name\":\"Black\"") && strstr(answer, "\"parts\":2,"));
        CHECK(do_it("batch pour", "{\"id\":\"gray\",\"items\":[{\"paint\":\"none\",\"amount\":"
                                  "\"1 ml\"}]}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/items/0/paint");
        CHECK(do_it("batch pour", "{\"id\":\"gray\",\"items\":[{\"paint\":\"black\",\"amount\":"
                                  "\"-1 ml\"}]}") == E_DOMAIN);
    }
    CASE("what is left of a batch is a paint that knows what it was mixed of") {
        CHECK(do_it("batch left", "{\"id\":\"gray\",\"amount\":\"50 ml\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "left_ml"), 50, 1e-6);
        CHECK(do_it("paint show", "{\"id\":\"gray-left\"}") == OK &&
              strstr(answer, "\"leftover\":true") && strstr(answer, "leftover_of"));
        CHECK(do_it("batch left", "{\"id\":\"gray\",\"amount\":\"30 ml\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "left_ml"), 30, 1e-6);
        CHECK(do_it("batch left", "{\"id\":\"gray\",\"amount\":\"900 ml\"}") == E_DOMAIN);
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"paints_max\":2}") == OK &&
              strstr(answer, "gray-left"));
    }
    CASE("what is mixed for a piece is its recipe, and none of it is asked for again") {
        CHECK(do_it("piece add", "{\"title\":\"Gray table\",\"piece\":{\"template\":"
                                 "\"side_table\",\"width\":\"20 in\",\"height\":\"24 in\","
                                 "\"finish\":\"bare\",\"wanted\":{\"color\":\"#808080\"}}}") == OK);
        CHECK(do_it("batch add", "{\"piece\":\"gray-table\",\"target\":\"#808080\",\"items\":[{"
                                 "\"paint\":\"warm-white\",\"parts\":2},{\"paint\":\"black\","
                                 "\"parts\":2}],\"amount\":\"40 ml\"}") == OK);
        CHECK(do_it("piece plan", "{\"id\":\"gray-table\"}") == OK);
        CHECK_TEXT(said(&a, answer, "batch"), "gray-table");
        CHECK(strstr(answer, "\"parts\":50,\"volume_ml\":20") && strstr(answer, "In the batch"));
        CHECK(strstr(answer, "\"mixed_ml\":40") && /* far too little */
              strstr(answer, "more by the same recipe"));
        CHECK(do_it("batch correct",
                    "{\"id\":\"gray-table\",\"dried\":\"#707070\",\"read\":\"instrument\"}") == OK);
        CHECK(do_it("piece plan", "{\"id\":\"gray-table\"}") == OK &&
              strstr(answer, "The batch dried to another color than is wanted."));
        CHECK(do_it("piece change", "{\"id\":\"gray-table\",\"color\":\"#f0ead8\"}") == OK);
        CHECK(do_it("piece plan", "{\"id\":\"gray-table\"}") == OK &&
              !strstr(answer, "In the batch")); /* mixed for another color */
        for (int i = 0; i < 4; i++) CHECK(do_it("undo", "{}") == OK);
    }
    CASE(
        "a batch that is enough ticks its task, in the change that logs it; a small one does not") {
        CHECK(do_it("piece add", "{\"title\":\"Ash table\",\"piece\":{\"template\":"
                                 "\"side_table\",\"width\":\"20 in\",\"height\":\"24 in\","
                                 "\"finish\":\"bare\",\"wanted\":{\"color\":\"#808080\"}}}") == OK);
        static const char *const amounts[] = {"40 ml", "900 ml"};
        for (int i = 0; i < 2; i++) {
            char args[300];
            snprintf(args, sizeof args,
                     "{\"piece\":\"ash-table\",\"target\":\"#808080\",\"items\":[{\"paint\":"
                     "\"warm-white\",\"parts\":2},{\"paint\":\"black\",\"parts\":2}],"
                     "\"amount\":\"%s\"}",
                     amounts[i]);
            CHECK(do_it("batch add", args) == OK);
            CHECK_TEXT(said(&a, answer, "ticked"), i ? "Mix the batch" : "");
        }
        CHECK(do_it("batches", "{\"piece\":\"ash-table\"}") == OK);
        CHECK(count_of(answer, "\"piece\":\"ash-table\"") == 2 &&
              !strstr(answer, "\"id\":\"gray\""));
        CHECK_NEAR(said_real(&a, answer, "amount_ml"), 900, 1e-9); /* the newest first, */
        CHECK(count_of(answer, "\"paint\":\"black\"") == 2);       /* each with its paints */
        CHECK(do_it("task done", "{\"id\":\"ash-table-mix\"}") == E_CONFLICT);
        CHECK(do_it("piece show", "{\"id\":\"ash-table\"}") == OK);
        CHECK_TEXT(said(&a, answer, "stage"), "in_work");
        CHECK(do_it("undo", "{}") == OK && do_it("task undone", "{\"id\":\"ash-table-mix\"}") ==
                                               E_NOT_FOUND); /* batch and task as one */
        CHECK(do_it("undo", "{}") == OK && do_it("undo", "{}") == OK);
    }
    CASE("what is left of another batch of that name gets a number") {
        CHECK(do_it("batch add", "{\"name\":\"Gray\",\"items\":[{\"paint\":\"black\",\"parts\":1}],"
                                 "\"amount\":\"10 ml\"}") == OK);
        char args[80];
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"amount\":\"5 ml\"}", said(&a, answer, "id"));
        CHECK(do_it("batch left", args) == OK);
        CHECK(do_it("paints", "{}") == OK && strstr(answer, "\"Gray, left 2\""));
        CHECK(do_it("undo", "{}") == OK && do_it("undo", "{}") == OK);
    }
    CASE(
        "a kept recipe is found, mixed again, found anew when a paint has changed, and taken off") {
        CHECK(do_it("recipe keep", "{\"name\":\"Slate\",\"target\":\"#808080\",\"items\":[{"
                                   "\"paint\":\"warm-white\",\"parts\":3},{\"paint\":\"black\","
                                   "\"parts\":1}]}") == OK);
        CHECK(*said(&a, answer, "color_hex") == '#' && said_real(&a, answer, "difference") > 0);
        CHECK(do_it("search", "{\"q\":\"slate\"}") == OK && strstr(answer, "\"recipe\""));
        CHECK(do_it("recipe again", "{\"id\":\"slate\"}") == OK && strstr(answer, "\"same\":true"));
        CHECK(said_real(&a, answer, "difference") < 0.1);
        const char *target = said(&a, answer, "target");
        CHECK(do_it("paint change", "{\"id\":\"black\",\"color\":\"#5a2020\"}") == OK);
        CHECK(do_it("recipe again", "{\"id\":\"slate\"}") == OK);
        CHECK(strstr(answer, "\"same\":false") && strstr(answer, "#5a2020") &&
              said_real(&a, answer, "difference") > 1);
        CHECK_TEXT(said(&a, answer, "target"), target); /* the color stays what it was */
        CHECK(do_it("batch again", "{\"id\":\"gray\"}") == OK && strstr(answer, "#5a2020"));
        struct text ask_again = {0};
        text_print(&ask_again, "{\"target\":\"%s\",\"recipe\":\"slate\"}", target);
        CHECK(do_it("recipes", ask_again.at) == OK && strstr(answer, "\"recipes\":[{"));
        text_free(&ask_again);
        CHECK(do_it("recipe keep", "{\"name\":\" \",\"items\":[{\"paint\":\"black\","
                                   "\"parts\":1}]}") == E_MISSING);
        CHECK(do_it("recipe remove", "{\"id\":\"slate\"}") == OK);
        CHECK(do_it("recipes kept", "{}") == OK && !strstr(answer, "slate"));
        CHECK(do_it("undo", "{}") == OK && do_it("recipes kept", "{}") == OK &&
              strstr(answer, "slate"));
        CHECK(do_it("paint change", "{\"id\":\"black\",\"color\":\"#222\"}") == OK);
    }
    CASE("bad input of the shelf and of mixes is named where it is") {
        CHECK(do_it("paint add", "{\"name\":\"warm WHITE\",\"class\":\"wb_enamel\"}") ==
              E_DUPLICATE);
        CHECK_TEXT(a.why.field, "/paint/name");
        CHECK(do_it("paint change", "{\"id\":\"black\",\"name\":\"Warm white\"}") == E_DUPLICATE);
        CHECK(do_it("shelf mix", "{\"items\":\"warm-white=3,black=-1\"}") == E_DOMAIN);
        CHECK_TEXT(a.why.field, "/items/1");
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"amount\":\"100 gal\"}") == E_IMPOSSIBLE);
        CHECK(strstr(a.why.text, "may be bought"));
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"amount\":\"100 gal\",\"buy\":true}") ==
              OK);
        CHECK(do_it("recipes", "{\"target\":\"lab(50 120 0)\"}") == OK &&
              strstr(answer, "No paint at all can have this color"));
    }
    CASE("a book from before with two paints of one name: said of both, and an undo may still be") {
        struct book *old;
        struct paint_row row;
        CHECK(!store_write(a.app.store, "test", a.now_utc_min, &old, NULL));
        CHECK(!row_get(old, &table_paint, "id", "black", &a.arena, &row, NULL));
        const char *document = row.document;
        row.name = "Warm  white";
        row.document = "{\"id\":\"black\",\"name\":\"Warm  "
                       "white\",\"class\":\"wb_enamel\",\"color\":\"#222\"}";
        CHECK(!row_change(old, &table_paint, &row, NULL) && !store_commit(old, NULL));
        CHECK(do_it("shelf known", "{}") == OK);
        CHECK(count_of(answer, "has the same name: rename one") == 2);
        CHECK(do_it("paint add", "{\"name\":\"Lamp\",\"class\":\"wb_enamel\"}") == OK);
        CHECK(do_it("undo", "{}") == OK); /* it did not make them so */
        CHECK(do_it("paint change", "{\"id\":\"black\",\"name\":\"Black\"}") == OK);
        CHECK(do_it("shelf known", "{}") == OK && !strstr(answer, "same name"));
        CHECK(!store_write(a.app.store, "test", a.now_utc_min, &old, NULL));
        CHECK(!row_get(old, &table_paint, "id", "black", &a.arena, &row, NULL));
        row.document = document; /* with its stock and all */
        CHECK(!row_change(old, &table_paint, &row, NULL) && !store_commit(old, NULL));
    }
    CASE("how well colors are known, what is reached, how it hides") {
        CHECK(do_it("shelf known", "{}") == OK && strstr(answer, "\"id\":\"black\"") &&
              said_real(&a, answer, "expected_difference") > 0);
        CHECK(do_it("shelf reach", "{\"target\":\"lab(60 50 40)\"}") == OK &&
              strstr(answer, "\"inside\":false") && strstr(answer, "would bring it from"));
        CHECK(do_it("shelf reach", "{\"target\":\"#808080\"}") == OK);
        CHECK(do_it("hiding", "{\"items\":\"warm-white=3\",\"ground\":\"#000\"}") == OK);
        double off = said_real(&a, answer, "difference");
        CHECK(do_it("hiding", "{\"items\":\"warm-white=3\",\"ground\":\"#eee\"}") == OK);
        CHECK(said_real(&a, answer, "difference") < off); /* of the first coat */
        for (int dark = 0; dark < 2; dark++) { /* what hides half as well takes no fewer coats */
            CHECK(do_it("hiding", dark ? "{\"items\":\"warm-white=3\",\"ground\":\"#000\"}"
                                       : "{\"items\":\"black=1\",\"ground\":\"#fff\"}") == OK);
            const int64_t coats = said_int(&a, answer, "coats"),
                          weak = said_int(&a, answer, "coats_if_weak");
            CHECK(coats >= 1 && weak >= coats && weak <= 6);
            if (dark) CHECK(weak > coats && strstr(answer, "half as well"));
            CHECK(strstr(answer, "ISO 6504-3"));
        }
    }
    CASE("a mix as pours: marks add up, the strongest last and little by little") {
        CHECK(do_it("steps", "{\"items\":\"warm-white=3,black=1\",\"amount\":\"8 fl oz\"}") == OK);
        CHECK(strstr(answer, "\"text\":\"6 fl oz\"") && strstr(answer, "\"mark\":\"8 fl oz\"") &&
              strstr(answer, "\"check\":true"));
        CHECK(do_it("steps", "{\"items\":\"warm-white=3,black=-1\",\"amount\":\"8 fl oz\"}"));
        CHECK(strstr(a.why.field, "/items"));
    }
    CASE("with an amount, stock and the measure bind") {
        CHECK(do_it("recipes", "{\"target\":\"#222222\",\"amount\":\"1 gal\"}") == OK ||
              a.why.text[0]);
        CHECK(!strstr(answer, "\"black\",\"name\":\"Black\",\"parts\":64"));
        CHECK(do_it("recipes",
                    "{\"target\":\"#808080\",\"amount\":\"8 fl oz\",\"measure\":\"tsp\"}") == OK &&
              strstr(answer, "cup"));
    }
    CASE("on a scale the parts are as fine as it shows, as far as a proof goes; on spoons 64") {
        /* 200 g at 1.2 g/ml by .1 g: 2000 steps, four of them a part */
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"amount\":\"166.667 ml\",\"measure\":"
                               "\"gram\",\"step\":\"0.083333 ml\",\"paints_max\":2}") == OK);
        CHECK(said_int(&a, strstr(answer, "\"grid_points\"") ? strstr(answer, "\"cells\"") : "",
                       "parts") == 500);
        CHECK(strstr(answer, "\"kind\":\"optimal\"") && strstr(answer, " g\""));
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"amount\":\"166.667 ml\",\"measure\":"
                               "\"ml\",\"step\":\"0.083333 ml\",\"paints_max\":2}") == OK);
        CHECK(said_int(&a, strstr(answer, "\"cells\""), "parts") == 63); /* 2000 / 32 */
    }
    CASE("the label names what is in the jar and leads to it") {
        CHECK(do_it("batch label", "{\"id\":\"gray\",\"base\":\"http://127.0.0.1:7878\"}") == OK);
        CHECK(strstr(answer, "of Warm white (60.0 %)") && strstr(answer, "svg xmlns"));
    }
    CASE("the label says each pour to the mark at which it was poured, in quarts' sizes too") {
        CHECK(do_it("batch add",
                    "{\"name\":\"Big\",\"amount\":\"51 fl oz\",\"items\":[{\"paint\":"
                    "\"warm-white\",\"parts\":203},{\"paint\":\"black\",\"parts\":1}]}") == OK);
        CHECK(do_it("batch label", "{\"id\":\"big\"}") == OK);
        CHECK(strstr(answer, "50 3/4 fl oz of Warm white"));
        CHECK(do_it("undo", "{}") == OK);
    }
    CASE("recipes and mixes come from the book's own shelf") {
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"paints_max\":2}") == OK &&
              strstr(answer, "warm-white"));
        CHECK(do_it("shelf mix", "{\"items\":\"warm-white=3,black=1\"}") == OK &&
              strstr(answer, "\"lab\""));
        CHECK(do_it("shelf mix", "{\"items\":\"gold=3\"}") == E_REFERENCE);
    }
    CASE("a card read wet is learnt from once three pairs say how it dries, with their doubt") {
        static const char *const card =
            "{\"sample\":{\"id\":\"card\",\"items\":[{\"paint\":\"warm-white\",\"parts\":2},{"
            "\"paint\":\"black\",\"parts\":3}],\"color\":\"lab(%d 0 2)\",\"wet\":%s}}";
        static const char *const mix = "{\"items\":\"warm-white=2,black=3\"}";
        char args[300];
        CHECK(do_it("shelf mix", mix) == OK);
        const double nothing = said_real(&a, answer, "expected_difference");
        snprintf(args, sizeof args, card, 44, "true");
        CHECK(do_it("sample add", args) == OK);
        CHECK(do_it("shelf known", "{}") == OK &&
              strstr(answer, "until 3 mixes are read wet and dry, 0 are"));
        for (int pair = 0; pair < 3; pair++) {
            CHECK(do_it("shelf mix", mix) == OK); /* so far the card taught nothing */
            if (!pair) CHECK(said_real(&a, answer, "expected_difference") == nothing);
            for (int dry = 0; dry < 2; dry++) {
                snprintf(
                    args, sizeof args,
                    "{\"sample\":{\"items\":[{\"paint\":\"warm-white\",\"parts\":%d},"
                    "{\"paint\":\"black\",\"parts\":1}],\"color\":\"lab(%d 0 %d)\",\"wet\":%s}}",
                    pair + 2, 60 + 6 * pair - 4 * dry, pair, dry ? "false" : "true");
                CHECK(do_it("sample add", args) == OK);
            }
            CHECK(do_it("shelf known", "{}") == OK);
            CHECK(!!strstr(answer, "\"learnt\":true") == (pair == 2));
        }
        CHECK(strstr(answer, "darker") && strstr(answer, "3 pairs"));
        CHECK(count_of(answer, "one of 3 pairs") == 3);
        CHECK(count_of(answer, "\"residual\"") == 4 + 1); /* and what the batch dried to */
        CHECK(do_it("shelf mix", mix) == OK);
        const double wet = said_real(&a, answer, "expected_difference");
        CHECK(do_it("sample remove", "{\"id\":\"card\"}") == OK);
        CHECK(do_it("shelf mix", mix) == OK);
        const double without = said_real(&a, answer, "expected_difference");
        snprintf(args, sizeof args, card, 40, "false");
        CHECK(do_it("sample add", args) == E_DUPLICATE);
        CHECK(do_it("undo", "{}") == OK); /* the wet card is there again */
        CHECK(do_it("shelf mix", mix) == OK);
        CHECK(said_real(&a, answer, "expected_difference") == wet && wet < without);
        CHECK(do_it("sample remove", "{\"id\":\"card\"}") == OK);
        memcpy(strstr(args, "\"card\""), "\"dry1\"", 6);
        CHECK(do_it("sample add", args) == OK);
        CHECK(do_it("shelf mix", mix) == OK);
        CHECK(said_real(&a, answer, "expected_difference") < wet); /* a dry reading says more */
        for (int i = 0; i < 9; i++) CHECK(do_it("undo", "{}") == OK);
    }
    CASE("what a wet mix dries to is told from three own pairs, and refused before") {
        static const char *const colors[3][2] = {{"lab(60 10 10)", "lab(56 11 11)"},
                                                 {"lab(70 -8 5)", "lab(66 -8.8 5.5)"},
                                                 {"lab(40 0 20)", "lab(36 0 22)"}};
        char args[240];
        CHECK(do_it("shelf wet", "{\"color\":\"lab(50 0 0)\",\"class\":\"wb_enamel\"}") ==
              E_MISSING);
        CHECK(strstr(a.why.text, "0 mixes were"));
        for (int i = 0; i < 3; i++)
            for (int dry = 0; dry < 2; dry++) {
                snprintf(args, sizeof args,
                         "{\"sample\":{\"items\":[{\"paint\":\"warm-white\",\"parts\":%d},"
                         "{\"paint\":\"black\",\"parts\":%d}],\"color\":\"%s\",\"wet\":%s}}",
                         (i + 2) * (dry + 1), dry + 1, colors[i][dry], dry ? "false" : "true");
                CHECK(do_it("sample add", args) == OK);
            }
        CHECK(do_it("shelf wet",
                    "{\"color\":\"lab(50 0 0)\",\"items\":\"warm-white=1,black=1\"}") == OK);
        CHECK(said_int(&a, answer, "pairs") == 3);
        CHECK_NEAR(said_real(&a, answer, "lightness"), -4 * 3 / 3.0576, 1e-6);
        CHECK(strstr(answer, "lab(46.07"));
        CHECK(do_it("shelf wet", "{}") == OK && strstr(answer, "\"ready\":true"));
        for (int i = 0; i < 6; i++) CHECK(do_it("undo", "{}") == OK);
    }
    CASE("the next sample is a small mix in spoons that makes the recipe surer") {
        CHECK(do_it("sample next", "{\"target\":\"#505050\"}") == OK);
        CHECK(strstr(answer, "tsp") && said_real(&a, answer, "gain") > 0);
        CHECK_NEAR(said_real(&a, answer, "before") - said_real(&a, answer, "after"),
                   said_real(&a, answer, "gain"), 1e-9);
        double gain = said_real(&a, answer, "gain");
        CHECK(do_it("sample next", "{\"target\":\"#505050\",\"read\":\"eye\"}") == OK);
        CHECK(said_real(&a, answer, "gain") < gain); /* the eye sees less */
        CHECK(do_it("sample next", "{\"target\":\"#505050\",\"items\":[{\"paint\":\"warm-white\","
                                   "\"parts\":3},{\"paint\":\"black\",\"parts\":1}]}") == OK &&
              strstr(answer, "\"recipe\":[{"));
        CHECK(do_it("sample next", "{\"target\":\"#505050\",\"items\":[{\"paint\":\"gold\","
                                   "\"parts\":3}]}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/items/0/paint");
        CHECK(do_it("sample next", "{}") == E_MISSING);
    }
}

int main(void) {
    asker_open(&a);
    tasks();
    computing_outside();
    remembering();
    waiting();
    money();
    records();
    mixing();
    asker_close(&a);
    return check_done();
}
