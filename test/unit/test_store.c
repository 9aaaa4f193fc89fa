/* The book's laws: what was committed is there, what was not is not; rows come back equal; every
 * change can be taken back; a wrong, newer or damaged file is refused and not touched. */
#include "store/answer.h"
#include "store/change.h"
#include "store/copy.h"
#include "store/row.h"
#include "store/search.h"
#include "test/check.h"
#include "test/unit/temp_book.h"

#include <sqlite3.h>
#include <stdint.h>
#include <sys/stat.h>

static struct why why;
static struct arena arena;

static struct book *write_of(struct store *s, const char *operation) {
    struct book *b = NULL;
    if (store_write(s, operation, TEMP_NOW, &b, &why)) printf("write: %s\n", why.text);
    return b;
}

static struct paint_row paint_named(const char *id, double cost_cent) {
    struct paint_row p;
    row_unsay(&table_paint, &p);
    p.id = id, p.name = id, p.cost_cent = cost_cent, p.document = "{}";
    return p;
}

static struct stock_movement_row moved(const char *paint, double amount_ml) {
    struct stock_movement_row m;
    row_unsay(&table_stock_movement, &m);
    m.paint = paint, m.kind = "bought", m.amount_ml = amount_ml, m.at_utc_min = TEMP_NOW;
    return m;
}

static struct paint_row paint_now(struct store *s, const char *id) {
    struct paint_row p;
    struct book *b;
    row_unsay(&table_paint, &p);
    if (store_read(s, &b, &why)) return p;
    if (row_get(b, &table_paint, "id", id, &arena, &p, &why)) printf("%s\n", why.text);
    store_read_end(b);
    return p;
}

static int64_t commit(struct book *b) {
    int64_t revision = book_revision(b);
    enum status status = store_commit(b, &why);
    if (status) printf("commit: %s\n", why.text);
    return status ? INT64_MIN : revision;
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
        struct stock_movement_row m = moved("nothing", 1);
        CHECK(row_add(b, &table_stock_movement, &m, &why) == E_REFERENCE);
        m = moved("ochre", 1);
        m.kind = "borrowed";
        CHECK(row_add(b, &table_stock_movement, &m, &why) == E_DOMAIN);
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

static bool at_once(void *ctx) {
    (void)ctx;
    return true;
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
        undo(s, changed, E_CONFLICT); /* already */
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

static void put_bytes(const char *path, long at, const void *bytes, size_t n) {
    FILE *f = fopen(path, at < 0 ? "wb" : "r+b");
    if (!f) return;
    if (at >= 0) fseek(f, at, SEEK_SET);
    if (fwrite(bytes, 1, n, f) != n) puts("short write");
    fclose(f);
}

static uint64_t sum_of(const char *path) {
    FILE *f = fopen(path, "rb");
    uint64_t h = 14695981039346656037u;
    if (!f) return 0;
    for (int c; (c = getc(f)) != EOF;) h = (h ^ (uint64_t)c) * 1099511628211u;
    fclose(f);
    return h;
}

static enum status open_status(const char *path, bool create, bool serve, struct store **s) {
    struct store_options o = {
        .create = create, .serve = serve, .now_utc_min = TEMP_NOW, .busy_ms = 100};
    return store_open(path, &o, s, &why);
}

static void wrong_files(void) {
    struct temp_book t = temp_book_make();
    struct store *s = NULL, *other = NULL;
    CASE("no book, and none is to be made") {
        CHECK(open_status(t.path, false, false, &s) == E_NOT_FOUND && !s);
    }
    CASE("a book of a newer program is refused and not touched") {
        s = temp_book_open(&t);
        store_close(s);
        unsigned char newer[4] = {0, 0, 0, BOOK_VERSION + 1};
        put_bytes(t.path, 60, newer, 4);
        uint64_t before = sum_of(t.path);
        s = NULL;
        CHECK(open_status(t.path, true, true, &s) == E_NEWER && !s);
        CHECK(strstr(why.text, "newer"));
        CHECK(sum_of(t.path) == before);
    }
    CASE("garbage and a database of another program are refused and not touched") {
        char text[300];
        memset(text, 'x', sizeof text);
        put_bytes(t.path, -1, text, sizeof text);
        uint64_t before = sum_of(t.path);
        CHECK(open_status(t.path, true, true, &s) == E_DAMAGED);
        CHECK(sum_of(t.path) == before);
        put_bytes(t.path, -1, "short", 5);
        CHECK(open_status(t.path, true, true, &s) == E_DAMAGED);
        unlink(t.path);
        char line[200];
        snprintf(line, sizeof line, "sqlite3 '%s' 'create table x(y)' 2>/dev/null", t.path);
        if (!system(line)) CHECK(open_status(t.path, true, false, &s) == E_DAMAGED);
    }
    CASE("a second server is refused by name, a second reader is not") {
        unlink(t.path);
        CHECK(open_status(t.path, true, true, &s) == OK);
        CHECK(open_status(t.path, true, true, &other) == E_BUSY && !other);
        CHECK(strstr(why.text, "Another server"));
        CHECK(open_status(t.path, true, false, &other) == OK);
        store_close(other);
        store_close(s);
        other = NULL;
    }
    CASE("a truncated book is reported as damaged") {
        s = temp_book_open(&t);
        struct book *b = write_of(s, "x");
        for (int i = 0; i < 500; i++) {
            struct paint_row p = paint_named(arena_print(&arena, "p%d", i), i);
            CHECK(row_add(b, &table_paint, &p, &why) == OK);
        }
        commit(b);
        store_close(s);
        struct stat st;
        CHECK(stat(t.path, &st) == 0 && truncate(t.path, st.st_size / 2 / 4096 * 4096) == 0);
        s = NULL;
        enum status status = open_status(t.path, false, false, &s);
        if (!status) {
            struct book *r;
            status = store_read(s, &r, &why);
            if (!status) {
                status = copy_check(r, &why);
                store_read_end(r);
            }
        }
        CHECK(status == E_DAMAGED);
        store_close(s);
        s = NULL;
    }
    CASE("a file that was removed under the program takes no more writes") {
        unlink(t.path);
        s = temp_book_open(&t);
        unlink(t.path);
        struct book *b;
        CHECK(store_write(s, "x", TEMP_NOW, &b, &why) == E_IO);
        CHECK(strstr(why.text, "removed"));
        store_close(s);
    }
    temp_book_gone(&t);
}

/* A picture of the book with its file. */
static void picture_add(struct store *s, const char *id, const char *bytes) {
    struct picture_row p;
    row_unsay(&table_picture, &p);
    p.id = id, p.kind = "other", p.type = "image/jpeg", p.bytes = (int64_t)strlen(bytes);
    p.at_utc_min = TEMP_NOW;
    struct book *b = write_of(s, "picture");
    CHECK(picture_file_keep(s, bytes, strlen(bytes), "jpg", &arena, &p.file, &p.sha256, &why) ==
          OK);
    CHECK(row_add(b, &table_picture, &p, &why) == OK);
    commit(b);
}

static void pictures(void) {
    struct temp_book t = temp_book_make(), other = temp_book_make();
    struct store *s = temp_book_open(&t), *o = temp_book_open(&other);
    struct picture_files seen;
    struct picture_row row;
    const void *bytes;
    size_t n;
    const char *to = arena_print(&arena, "%s-taken", t.path);
    picture_add(s, "one", "the first picture");
    picture_add(s, "two", "the second picture");
    CASE("a copy into a file has its pictures beside it") {
        CHECK(copy_to(s, to, &arena, &seen, &why) == OK);
        CHECK(seen.brought == 2 && !seen.there && !seen.missing_n);
    }
    CASE("brought back elsewhere, the pictures come along") {
        CHECK(copy_restore(o, to, TEMP_NOW, &arena, &seen, &why) == OK);
        CHECK(seen.brought == 2 && !seen.missing_n);
        struct book *b;
        CHECK(store_read(o, &b, &why) == OK);
        CHECK(row_get(b, &table_picture, "id", "two", &arena, &row, &why) == OK);
        CHECK(picture_file_load(o, row.file, row.sha256, 100, &arena, &bytes, &n, &why) == OK);
        CHECK(n == 18 && !memcmp(bytes, "the second picture", n));
        store_read_end(b);
    }
    CASE("a file that is gone and one that is damaged are named; a copy that has them heals the "
         "book") {
        struct book *b;
        CHECK(unlink(arena_print(&arena, "%s-pictures/%s", t.path, row.file)) == 0);
        CHECK(store_read(s, &b, &why) == OK);
        CHECK(picture_files_bring(b, t.path, t.path, &arena, &seen, &why) == OK);
        CHECK(seen.there == 1 && seen.missing_n == 1 && !strcmp(seen.missing[0], row.file));
        put_bytes(arena_print(&arena, "%s-pictures/%s", t.path, row.file), -1,
                  "not the second pict", 18);
        CHECK(picture_files_bring(b, t.path, t.path, &arena, &seen, &why) == OK);
        CHECK(seen.missing_n == 1);
        store_read_end(b);
        CHECK(copy_restore(s, to, TEMP_NOW, &arena, &seen, &why) == OK);
        CHECK(seen.there == 1 && seen.brought == 1 && !seen.missing_n);
    }
    store_close(s);
    store_close(o);
    temp_book_gone(&t);
    temp_book_gone(&other);
}

static void copies(void) {
    struct temp_book t = temp_book_make();
    struct store *s = temp_book_open(&t);
    struct copy_row *rows;
    struct picture_files seen;
    size_t n;
    CASE("a restored copy is the book as it was, and the present one was put aside first") {
        struct book *b = write_of(s, "x");
        struct paint_row p = paint_named("ochre", 7);
        CHECK(row_add(b, &table_paint, &p, &why) == OK);
        commit(b);
        char *path = NULL;
        CHECK(copy_aside(s, COPY_ASKED, TEMP_NOW, &path, &why) == OK);
        b = write_of(s, "y");
        p.cost_cent = 8;
        CHECK(row_change(b, &table_paint, &p, &why) == OK);
        commit(b);
        CHECK(copy_restore(s, path, TEMP_NOW + 1, &arena, &seen, &why) == OK);
        CHECK(paint_now(s, "ochre").cost_cent == 7);
        CHECK(store_read(s, &b, &why) == OK);
        CHECK(book_revision(b) == 3 && copy_check(b, &why) == OK);
        store_read_end(b);
        CHECK(copy_list(s, &arena, &rows, &n, &why) == OK && n == 2);
        free(path);
    }
    CASE("a copy of the day that is stopped leaves nothing behind; the next one is whole") {
        struct limit stop = {.stop = at_once};
        size_t before, after;
        CHECK(copy_list(s, &arena, &rows, &before, &why) == OK);
        CHECK(copy_daily(s, TEMP_NOW + 3000, &stop, &why) == E_IO && strstr(why.text, "ending"));
        CHECK(copy_list(s, &arena, &rows, &after, &why) == OK && after == before);
        CHECK(copy_daily(s, TEMP_NOW + 3000, NULL, &why) == OK);
        CHECK(copy_daily(s, TEMP_NOW + 3001, NULL, &why) == OK); /* not due again */
        CHECK(copy_list(s, &arena, &rows, &after, &why) == OK && after == before + 1);
        CHECK(!strncmp(rows[0].name, "daily", 5));
    }
    CASE("daily copies are made when the last is a day old or the clock went back, and rotated") {
        store_close(s);
        for (int day = 0; day < 15; day++) {
            struct store_options o = {.now_utc_min = TEMP_NOW + 1441 * (day + 1)};
            CHECK(store_open(t.path, &o, &s, &why) == OK);
            struct book *b = write_of(s, "x");
            commit(b);
            store_close(s);
            CHECK(store_open(t.path, &o, &s, &why) == OK); /* not again the same day */
            store_close(s);
        }
        struct store_options back = {.now_utc_min = TEMP_NOW};
        CHECK(store_open(t.path, &back, &s, &why) == OK);
        CHECK(copy_list(s, &arena, &rows, &n, &why) == OK);
        size_t daily = 0;
        for (size_t i = 0; i < n; i++) daily += !strncmp(rows[i].name, "daily", 5);
        CHECK(daily == COPIES_KEPT);
        CHECK(n == COPIES_KEPT + 2);
    }
    CASE("a damaged book lets its copies be listed and brought back, and its file is kept") {
        static const struct {
            const char *how;
            bool opens; /* as if nothing were wrong */
        } kinds[] = {{"cut short", false}, {"no head", false}, {"a page of rubbish", true}};
        char *path = NULL;
        CHECK(copy_aside(s, COPY_ASKED, TEMP_NOW, &path, &why) == OK);
        for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
            struct book *b = write_of(s, "x");
            for (int k = 0; k < 300; k++) {
                struct paint_row p = paint_named(arena_print(&arena, "q%d", k), k);
                CHECK(row_add(b, &table_paint, &p, &why) == OK);
            }
            commit(b);
            store_close(s);
            s = NULL;
            struct stat st;
            char rubbish[4096];
            memset(rubbish, 'x', sizeof rubbish);
            CHECK(stat(t.path, &st) == 0);
            if (i == 0) CHECK(truncate(t.path, 4096 * 3) == 0);
            if (i == 1) put_bytes(t.path, 0, rubbish, 40);
            if (i == 2) put_bytes(t.path, st.st_size / 4096 / 2 * 4096, rubbish, sizeof rubbish);
            struct store_options o = {.now_utc_min = TEMP_NOW, .mend = true, .no_copy = true};
            struct store_options plain = {.now_utc_min = TEMP_NOW, .no_copy = true};
            struct store *other = NULL;
            enum status opened = store_open(t.path, &plain, &other, &why);
            if (!opened) store_close(other);
            if ((opened == OK) != kinds[i].opens) printf("%s: %d\n", kinds[i].how, opened);
            CHECK((opened == OK) == kinds[i].opens && (!opened || opened == E_DAMAGED));
            CHECK(store_open(t.path, &o, &s, &why) == OK);
            CHECK(copy_list(s, &arena, &rows, &n, &why) == OK && n > 0);
            enum status mended =
                copy_restore(s, path, TEMP_NOW + 1 + (int64_t)i, &arena, &seen, &why);
            if (mended) printf("%s: %s\n", kinds[i].how, why.text);
            CHECK(mended == OK && paint_now(s, "ochre").cost_cent == 7);
            store_close(s);
            CHECK(store_open(t.path, &plain, &s, &why) == OK);
            CHECK(store_read(s, &b, &why) == OK && copy_check(b, &why) == OK);
            store_read_end(b);
        }
        char line[200];
        snprintf(line, sizeof line, "test $(ls '%s-copies' | grep -c '^damaged-.*book$') = 3",
                 t.path);
        CHECK(system(line) == 0);
        free(path);
        CHECK(copy_list(s, &arena, &rows, &n, &why) == OK);
    }
    CASE("a damaged copy is not brought back") {
        put_bytes(rows[0].path, 4096 * 3, "garbage garbage garbage garbage garbage", 40);
        enum status status = copy_restore(s, rows[0].path, TEMP_NOW, &arena, &seen, &why);
        CHECK(status == E_DAMAGED);
        CHECK(paint_now(s, "ochre").cost_cent == 7);
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
    wrong_files();
    copies();
    pictures();
    arena_free(&arena);
    return check_done();
}
