/* The book's laws: what was committed is there, what was not is not; rows come back equal; every
 * change can be taken back. */
#include "store/answer.h"
#include "store/change.h"
#include "store/row.h"
#include "store/search.h"
#include "test/check.h"
#include "test/unit/store_room.h"

#include <sqlite3.h>
#include <stdint.h>
#include <sys/stat.h>

static struct stock_movement_row moved(const char *paint, double amount_ml) {
    struct stock_movement_row m;
    row_unsay(&table_stock_movement, &m);
    m.paint = paint, m.kind = "bought", m.amount_ml = amount_ml, m.at_utc_min = TEMP_NOW;
    return m;
}

static int64_t undo(struct store *s, int64_t revision, enum status want) {
    struct book *b = write_of(s, "undo");
    enum status got = change_undo(b, revision, &why);
    CHECK(got == want);
    if (got) {
        if (got != want) printf("undo: %s\n", why.text);
        store_rollback(b);
        return INT64_MIN;
    }
    return commit(b);
}

static void rows_and_transactions(void) {
    struct temp_book t = temp_book_make();
    struct store *s = temp_book_open(&t);
    CASE("a row comes back equal, to the last bit of a real") {
        struct book *b = write_of(s, "paint add");
        struct paint_row p = paint_named("ochre", 0.1 + 0.2);
        p.size_ml = 3785.411784 / 3, p.opened_day = -5, p.leftover = true;
        CHECK(row_add(b, &table_paint, &p, &why) == OK);
        CHECK(commit(b) == 1);
        struct paint_row back = paint_now(s, "ochre");
        CHECK_TEXT(back.name, "ochre");
        CHECK(back.cost_cent == 0.1 + 0.2 && back.size_ml == 3785.411784 / 3);
        CHECK(back.opened_day == -5 && back.leftover && !back.removed && back.revision == 1);
        CHECK(back.class == NULL && back.stock_ml == 0);
    }
    CASE("what was rolled back left no trace, not even a revision") {
        struct book *b = write_of(s, "paint add");
        struct paint_row p = paint_named("umber", 1);
        CHECK(row_add(b, &table_paint, &p, &why) == OK);
        store_rollback(b);
        CHECK(store_read(s, &b, &why) == OK);
        CHECK(book_revision(b) == 1);
        CHECK(row_get(b, &table_paint, "id", "umber", &arena, &p, &why) == E_NOT_FOUND);
        store_read_end(b);
    }
    CASE("a reader sees one state from beginning to end") {
        struct book *r, *b;
        CHECK(store_read(s, &r, &why) == OK);
        b = write_of(s, "paint add");
        struct paint_row p = paint_named("umber", 1), seen;
        CHECK(row_add(b, &table_paint, &p, &why) == OK);
        CHECK(commit(b) == 2);
        CHECK(row_get(r, &table_paint, "id", "umber", &arena, &seen, &why) == E_NOT_FOUND);
        store_read_end(r);
        CHECK_TEXT(paint_now(s, "umber").id, "umber");
    }
    CASE("broken references, doubled ids and unknown words are refused by the tables themselves") {
        struct book *b = write_of(s, "x");
        struct paint_row p = paint_named("ochre", 1);
        CHECK(row_add(b, &table_paint, &p, &why) == E_DUPLICATE);
        CHECK_TEXT(why.field, "/id"); /* in the words of the book, not of SQL */
        CHECK(strstr(why.text, "already a paint with this id") && !strstr(why.text, "constraint"));
        struct stock_movement_row m = moved("nothing", 1);
        CHECK(row_add(b, &table_stock_movement, &m, &why) == E_REFERENCE);
        m = moved("ochre", 1);
        m.kind = "borrowed";
        CHECK(row_add(b, &table_stock_movement, &m, &why) == E_DOMAIN);
        CHECK_TEXT(why.field, "/kind");
        CHECK(!strstr(why.text, "CHECK") && !strstr(why.text, "IN ("));
        store_rollback(b);
    }
    CASE("stock is the sum of its movements, and a movement cannot be changed") {
        struct book *b = write_of(s, "stock");
        struct stock_movement_row m = moved("ochre", 946.25);
        CHECK(row_add(b, &table_stock_movement, &m, &why) == OK);
        struct stock_movement_row used = moved("ochre", -100.125);
        CHECK(row_add(b, &table_stock_movement, &used, &why) == OK);
        m.amount_ml = 1;
        CHECK(row_change(b, &table_stock_movement, &m, &why) == E_CONFLICT);
        CHECK(commit(b) == 3);
        CHECK(paint_now(s, "ochre").stock_ml == 846.125);
    }
    CASE("pages follow the cursor without gap or repeat, in both directions") {
        struct book *b = write_of(s, "paints");
        for (int i = 0; i < 25; i++) {
            struct paint_row p = paint_named(arena_print(&arena, "p%02d", i), i);
            CHECK(row_add(b, &table_paint, &p, &why) == OK);
        }
        commit(b);
        for (int down = 0; down < 2; down++) {
            struct row_query q = {.where = "id LIKE ?1",
                                  .texts = {"p%"},
                                  .after = INT64_MIN,
                                  .limit = 10,
                                  .down = down};
            int seen = 0, pages = 0;
            CHECK(store_read(s, &b, &why) == OK);
            do {
                struct paint_row *rows;
                size_t n;
                CHECK(row_list(b, &table_paint, &q, &arena, (void **)&rows, &n, &q.after, &why) ==
                      OK);
                for (size_t i = 0; i < n; i++, seen++)
                    CHECK(rows[i].cost_cent == (down ? 24 - seen : seen));
            } while (q.after != INT64_MIN && ++pages < 10);
            store_read_end(b);
            CHECK(seen == 25 && pages == 2);
        }
    }
    CASE("a free id is made from any title") {
        struct book *b = write_of(s, "ids");
        const char *id = NULL;
        CHECK(row_free_id(b, &table_paint, "  Ochre, (Yellow) 2nd!  ", &arena, &id, &why) == OK);
        CHECK_TEXT(id, "ochre-yellow-2nd");
        CHECK(row_free_id(b, &table_paint, "Ochre", &arena, &id, &why) == OK);
        CHECK_TEXT(id, "ochre-2");
        CHECK(row_free_id(b, &table_paint, "\xc3\x9c\xe2\x82\xac", &arena, &id, &why) == OK);
        CHECK_TEXT(id, "paint");
        store_rollback(b);
    }
    store_close(s);
    temp_book_gone(&t);
}

static void undo_and_history(void) {
    struct temp_book t = temp_book_make();
    struct store *s = temp_book_open(&t);
    int64_t added = 0, changed = 0, taken = 0;
    CASE("a change is taken back to the bit, and the taking back too") {
        struct book *b = write_of(s, "paint add");
        struct paint_row p = paint_named("ochre", 1.0 / 3);
        CHECK(row_add(b, &table_paint, &p, &why) == OK);
        added = commit(b);
        b = write_of(s, "paint change");
        p.cost_cent = 2.0 / 3;
        CHECK(row_change(b, &table_paint, &p, &why) == OK);
        changed = commit(b);
        taken = undo(s, changed, OK);
        CHECK(paint_now(s, "ochre").cost_cent == 1.0 / 3);
        char already[64];
        snprintf(already, sizeof already, "taken back already (revision %lld)", (long long)taken);
        undo(s, changed, E_CONFLICT);
        CHECK(strstr(why.text, already));
        undo(s, taken + 1, E_NOT_FOUND); /* that would be this one itself */
        undo(s, taken, OK);
        CHECK(paint_now(s, "ochre").cost_cent == 2.0 / 3);
    }
    CASE("a change under a later one is not taken back blindly") {
        undo(s, added, E_CONFLICT);
        CHECK(strstr(why.text, "changed again"));
    }
    CASE("undo of a movement is a contrary movement") {
        struct book *b = write_of(s, "stock");
        struct stock_movement_row m = moved("ochre", 0.1);
        m.cost_cent = 450;
        CHECK(row_add(b, &table_stock_movement, &m, &why) == OK);
        int64_t revision = commit(b);
        int64_t back = undo(s, revision, OK);
        CHECK(paint_now(s, "ochre").stock_ml == 0);
        undo(s, back, OK);
        CHECK(paint_now(s, "ochre").stock_ml == 0.1);
        CHECK(store_read(s, &b, &why) == OK);
        struct stock_movement_row *rows;
        size_t n;
        struct row_query q = {.after = INT64_MIN};
        CHECK(row_list(b, &table_stock_movement, &q, &arena, (void **)&rows, &n, NULL, &why) == OK);
        CHECK(n == 3 && rows[1].corrects == rows[0].number && rows[1].amount_ml == -0.1 &&
              rows[1].cost_cent == -450);
        store_read_end(b);
    }
    CASE("a new row that is taken back is hidden, not lost") {
        struct book *b = write_of(s, "client add");
        struct client_row c;
        row_unsay(&table_client, &c);
        c.id = c.name = "lane";
        CHECK(row_add(b, &table_client, &c, &why) == OK);
        int64_t revision = commit(b);
        undo(s, revision, OK);
        CHECK(store_read(s, &b, &why) == OK);
        CHECK(row_get(b, &table_client, "id", "lane", &arena, &c, &why) == OK && c.removed);
        store_read_end(b);
    }
    CASE("a change from before an upgrade is taken back, and what came since stays") {
        sqlite3 *db = NULL;
        CHECK(!sqlite3_open(t.path, &db) &&
              !sqlite3_exec(db,
                            "ALTER TABLE paint ADD COLUMN shelf_row INTEGER NOT NULL DEFAULT 7;"
                            "UPDATE paint SET shelf_row = 3",
                            NULL, NULL, NULL));
        undo(s, changed, OK);
        sqlite3_stmt *st = NULL;
        CHECK(!sqlite3_prepare_v2(db, "SELECT cost_cent, shelf_row FROM paint WHERE id = 'ochre'",
                                  -1, &st, NULL) &&
              sqlite3_step(st) == SQLITE_ROW);
        CHECK(sqlite3_column_double(st, 0) == 1.0 / 3);
        CHECK(sqlite3_column_int(st, 1) == 3);
        sqlite3_finalize(st);
        sqlite3_close(db);
    }
    CASE("the last change is the newest that is in effect") {
        struct book *b = write_of(s, "client add");
        struct client_row c;
        row_unsay(&table_client, &c);
        c.id = c.name = "hill";
        CHECK(row_add(b, &table_client, &c, &why) == OK);
        int64_t revision = commit(b), last;
        CHECK(store_read(s, &b, &why) == OK);
        CHECK(change_last(b, &last, &why) == OK && last == revision);
        store_read_end(b);
        undo(s, revision, OK);
        CHECK(store_read(s, &b, &why) == OK);
        CHECK(change_last(b, &last, &why) == OK && last < revision);
        store_read_end(b);
    }
    CASE("the history has each row before and after") {
        struct book *b;
        struct change_row *rows;
        size_t n;
        CHECK(store_read(s, &b, &why) == OK);
        CHECK(change_list(b, NULL, INT64_MIN, 100, &arena, &rows, &n, &why) == OK);
        bool found = false;
        for (size_t i = 0; i < n; i++)
            if (rows[i].revision == changed)
                found = !strcmp(rows[i].subject, "paint") &&
                        strstr(rows[i].before, "0.333333333333333") &&
                        strstr(rows[i].after, "0.66666666666666");
        CHECK(found);
        store_read_end(b);
    }
    CASE("the history is whole or not there: no text is lost where memory ends") {
        struct book *b;
        CHECK(store_read(s, &b, &why) == OK);
        size_t whole = 0, short_of = 0;
        for (size_t most = 16; most < 1 << 20 && !whole; most += most / 8 + 16) {
            struct arena small;
            arena_init(&small, alloc_heap(), most);
            struct change_row *rows;
            size_t n;
            enum status got = change_list(b, NULL, INT64_MIN, 100, &small, &rows, &n, &why);
            CHECK(got == OK || got == E_MEMORY);
            for (size_t i = 0; got == OK && i < n; i++)
                CHECK(rows[i].operation && (!rows[i].subject || rows[i].before || rows[i].after));
            whole += got == OK, short_of += got != OK;
            arena_free(&small);
        }
        CHECK(whole && short_of > 10);
        store_read_end(b);
    }
    CASE("what the database lacks is said as it is: memory, not a broken file") {
        struct paint_row p;
        struct book *b;
        CHECK(store_read(s, &b, &why) == OK);
        sqlite3_hard_heap_limit64(sqlite3_memory_used());
        CHECK(row_get(b, &table_paint, "name", "nobody", &arena, &p, &why) == E_MEMORY);
        sqlite3_hard_heap_limit64(0);
        CHECK(row_get(b, &table_paint, "name", "nobody", &arena, &p, &why) == E_NOT_FOUND);
        store_read_end(b);
    }
    store_close(s);
    temp_book_gone(&t);
}

static void reals_in_json(void) {
    CASE("4,000 random reals survive the log and come back equal") {
        struct temp_book t = temp_book_make();
        struct store *s = temp_book_open(&t);
        uint64_t x = 88172645463325252u;
        int bad = 0;
        struct book *b = write_of(s, "x");
        double *want = arena_array(&arena, 4000, sizeof *want);
        for (int i = 0; i < 4000; i++) {
            x ^= x << 13, x ^= x >> 7, x ^= x << 17;
            want[i] = (double)(int64_t)x / 1e9 / (1 + (double)(x % 1000));
            struct paint_row p = paint_named(arena_print(&arena, "r%d", i), want[i]);
            if (row_add(b, &table_paint, &p, &why)) bad++;
        }
        commit(b);
        b = write_of(s, "y");
        for (int i = 0; i < 4000; i++) {
            struct paint_row p;
            if (row_get(b, &table_paint, "id", arena_print(&arena, "r%d", i), &arena, &p, &why))
                bad++;
            p.cost_cent = 0;
            if (row_change(b, &table_paint, &p, &why)) bad++;
        }
        int64_t revision = commit(b);
        undo(s, revision, OK);
        for (int i = 0; i < 4000; i++)
            if (paint_now(s, arena_print(&arena, "r%d", i)).cost_cent != want[i]) bad++;
        CHECK(bad == 0);
        store_close(s);
        temp_book_gone(&t);
    }
}

static void answers_and_search(void) {
    struct temp_book t = temp_book_make();
    struct store *s = temp_book_open(&t);
    CASE("an answer is found under its key, and the key serves one request") {
        struct book *b = write_of(s, "x");
        CHECK(answer_keep(b, "k1", "piece add", "h1", "{\"id\":\"a\"}", &why) == OK);
        commit(b);
        b = write_of(s, "x");
        const char *result;
        int64_t revision;
        CHECK(answer_find(b, "k1", "piece add", "h1", &arena, &result, &revision, &why) == OK);
        CHECK_TEXT(result, "{\"id\":\"a\"}");
        CHECK(revision == 1);
        CHECK(answer_find(b, "k2", "piece add", "h1", &arena, &result, &revision, &why) == OK &&
              !result);
        CHECK(answer_find(b, "k1", "piece add", "h2", &arena, &result, &revision, &why) ==
              E_CONFLICT);
        store_rollback(b);
    }
    CASE("words are found by their beginnings, in any order and with anything between") {
        struct book *b = write_of(s, "x");
        struct client_row c;
        row_unsay(&table_client, &c);
        c.id = "c1", c.name = "Lane & Daughter",
        c.note = "wants the deep blue-green of a glazed bowl";
        CHECK(row_add(b, &table_client, &c, &why) == OK);
        struct paint_row p = paint_named("g", 1);
        p.document = "{\"name\":\"Green\",\"note\":\"glazed\"}";
        CHECK(row_add(b, &table_paint, &p, &why) == OK);
        commit(b);
        CHECK(store_read(s, &b, &why) == OK);
        struct found_row *rows;
        size_t n;
        CHECK(search_words(b, "GLAZ blue", 10, &arena, &rows, &n, &why) == OK && n == 1);
        CHECK_TEXT(n ? rows[0].id : "", "c1");
        CHECK_TEXT(n ? rows[0].subject : "", "client");
        CHECK_TEXT(n ? rows[0].title : "", "Lane & Daughter");
        CHECK(search_words(b, "glazed", 10, &arena, &rows, &n, &why) == OK && n == 2);
        CHECK(search_words(b, "\" OR NEAR( * -x ) AND \"", 10, &arena, &rows, &n, &why) == OK &&
              n == 0);
        CHECK(search_words(b, "\"'*", 10, &arena, &rows, &n, &why) == OK && n == 0);
        store_read_end(b);
        b = write_of(s, "x");
        c.removed = true;
        CHECK(row_change(b, &table_client, &c, &why) == OK);
        commit(b);
        CHECK(store_read(s, &b, &why) == OK);
        CHECK(search_words(b, "glazed", 10, &arena, &rows, &n, &why) == OK && n == 1);
        store_read_end(b);
    }
    store_close(s);
    temp_book_gone(&t);
}

int main(void) {
    arena_init(&arena, alloc_heap(), 0);
    rows_and_transactions();
    undo_and_history();
    reals_in_json();
    answers_and_search();
    arena_free(&arena);
    return check_done();
}
