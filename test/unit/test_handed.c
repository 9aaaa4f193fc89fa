/* A piece that is handed over: words for its listing, and its story. */
#include "store/row.h"
#include "test/check.h"
#include "test/unit/ask_one.h"

/* A row as "picture add" keeps it, without a file. */
static void picture_put(const char *kind, int count) {
    struct book *b;
    if (store_write(a.app.store, "picture add", TEMP_NOW, &b, &a.why)) return;
    for (int i = 0; i < count; i++) {
        char id[32];
        struct picture_row row;
        row_unsay(&table_picture, &row);
        snprintf(id, sizeof id, "%s-%d", kind, i);
        row.id = id, row.piece = "bench", row.kind = kind, row.file = "none.jpg";
        row.type = "image/jpeg", row.sha256 = "0", row.bytes = 1, row.at_utc_min = TEMP_NOW;
        CHECK(row_add(b, &table_picture, &row, &a.why) == OK);
    }
    CHECK(store_commit(b, &a.why) == OK);
}

static void handed(void) {
    CHECK(
        do_it(
            "piece add",
            "{\"title\":\"Bench\",\"template\":\"outdoor_bench\",\"width\":\"60 in\",\"depth\":"
            "\"24 in\",\"height\":\"35 in\",\"piece\":{\"wood\":\"western_redcedar\",\"finish\":"
            "\"bare\",\"year\":2008,\"place\":\"outdoor\",\"wanted\":{\"color\":\"#2c4a63\"}}}") ==
        OK);
    CASE("where nobody ticked a step off, the words are of the plan, and say so") {
        CHECK(do_it("piece listing", "{\"id\":\"bench\"}") == OK);
        CHECK_TEXT(said(&a, answer, "unsaid"), "No step was ticked off: the work is as planned.");
    }
    CASE("all that nobody ticked off is named, also where one name holds another") {
        CHECK(do_it("task done", "{\"id\":\"bench-photo_before\",\"took\":\"10 min\"}") == OK);
        CHECK(do_it("piece listing", "{\"id\":\"bench\"}") == OK);
        const char *unsaid = said(&a, answer, "unsaid");
        CHECK(strstr(unsaid, "; Prime the end grain; ") && strstr(unsaid, "; Prime; "));
    }
    CASE("many pictures of before do not hide those of after") {
        CHECK(do_it("piece story", "{\"id\":\"bench\"}") == OK);
        CHECK(strstr(answer, "No picture was taken before.") &&
              strstr(answer, "No picture was taken after."));
        picture_put("before", 120);
        picture_put("after", 1);
        CHECK(do_it("piece story", "{\"id\":\"bench\"}") == OK);
        CHECK(strstr(answer, "\"after\":[\"after-0\"]"));
        CHECK(strstr(answer, "\"before-99\"") && !strstr(answer, "\"before-100\""));
        CHECK(!strstr(answer, "No picture was taken"));
    }
}

int main(void) {
    asker_open(&a);
    handed();
    asker_close(&a);
    return check_done();
}
