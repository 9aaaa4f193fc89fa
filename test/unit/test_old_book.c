/* Books of every version that there was open in this program, with all that is in them, and have
 * the schema of a new one afterwards. test/books/ keeps one of each version.
 *   old_book FOLDER_OF_BOOKS */
#include "test/check.h"
#include "test/unit/ask.h"

#include <sqlite3.h>

/* A column that was added later stands last, without its comment, and a table that was built anew
 * has its name in quotation marks: neither makes it another table. */
static void add_plain(struct text *t, const char *sql) {
    for (; *sql; sql++) {
        if (sql[0] == '-' && sql[1] == '-')
            sql += strcspn(sql, "\n") - 1;
        else if (!strchr(" \t\n\"", *sql))
            text_add(t, sql, 1);
    }
    text_add(t, ";\n", 2);
}

/* All CREATE statements of a book, sorted by name. */
static const char *schema_of(struct asker *a) {
    sqlite3 *db;
    sqlite3_stmt *st;
    struct text t = {0};
    if (sqlite3_open_v2(a->temp.path, &db, SQLITE_OPEN_READONLY, NULL)) return "";
    if (!sqlite3_prepare_v2(
            db, "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY type, name", -1, &st,
            NULL))
        while (sqlite3_step(st) == SQLITE_ROW)
            add_plain(&t, (const char *)sqlite3_column_text(st, 0));
    sqlite3_finalize(st);
    sqlite3_close(db);
    const char *copy = t.at ? arena_text(&a->arena, t.at) : "";
    text_free(&t);
    return copy;
}

static bool copy_file(const char *from, const char *to) {
    FILE *f = fopen(from, "rb"), *g = f ? fopen(to, "wb") : NULL;
    char block[65536];
    size_t n;
    while (g && (n = fread(block, 1, sizeof block, f)) > 0)
        if (fwrite(block, 1, n, g) != n) return false;
    if (f) fclose(f);
    return g && fclose(g) == 0;
}

static void old_book(const char *folder, int version) {
    struct asker fresh, old;
    const char *answer;
    char path[512];
    snprintf(path, sizeof path, "%s/version-%d.sqlite", folder, version);
    asker_open(&fresh);
    asker_open(&old);
    store_close(old.app.store);
    old.app.store = NULL;
    char gone[128];
    for (int i = 0; i < 3; i++) {
        static const char *const ends[] = {"", "-wal", "-shm"};
        snprintf(gone, sizeof gone, "%s%s", old.temp.path, ends[i]);
        unlink(gone);
    }
    CHECK(copy_file(path, old.temp.path));
    struct store_options o = {.now_utc_min = TEMP_NOW};
    CHECK(store_open(old.temp.path, &o, &old.app.store, &old.why) == OK);
    if (old.app.store) {
        CHECK(ask(&old, "check", "{}", &answer) == OK);
        CHECK(ask(&old, "piece show", "{\"id\":\"oak-desk\"}", &answer) == OK &&
              strstr(answer, "\"width\":\"43 in\""));
        CHECK(ask(&old, "paint show", "{\"id\":\"yellow-ochre\"}", &answer) == OK);
        CHECK_NEAR(said_real(&old, answer, "stock_ml"), 13 * 29.5735295625, 1e-9);
        CHECK(ask(&old, "money", "{}", &answer) == OK &&
              said_int(&old, answer, "amount_cent") == 12000);
        CHECK(ask(&old, "backups", "{}", &answer) == OK &&
              count_of(answer, "\"name\":\"upgrade-") == (version < BOOK_VERSION ? 1 : 0));
        CHECK(ask(&old, "undo", "{}", &answer) == OK);
        CHECK(ask(&old, "piece show", "{\"id\":\"oak-desk\"}", &answer) == OK &&
              strstr(answer, "\"width\":\"42 in\""));
        CHECK(ask(&old, "search", "{\"q\":\"oak\"}", &answer) == OK &&
              count_of(answer, "\"id\"") == 1);
        if (version >= 2) { /* it had a closed piece with what was used of each product */
            CHECK(ask(&old, "money pieces", "{}", &answer) == OK);
            CHECK_NEAR(said_real(&old, answer, "actual_ml"), 2.5 * 29.5735295625, 1e-9);
            CHECK(count_of(answer, "\"planned_ml\"") == 3);
        }
        if (version >= 3) { /* and a recipe that was kept, with the reflectance of its mix */
            CHECK(ask(&old, "recipe again", "{\"id\":\"plain-ochre\"}", &answer) == OK);
            CHECK(strstr(answer, "\"same\":true") && strstr(answer, "\"target\":\"lab("));
        }
        CHECK(ask(&old, "history", "{\"limit\":1000}", &answer) == OK);
        CHECK(count_of(answer, "\"operation\":\"piece add\"") == (version >= 2 ? 2 : 1));
        CHECK_TEXT(schema_of(&old), schema_of(&fresh));
    }
    asker_close(&old);
    asker_close(&fresh);
}

int main(int argc, char **argv) {
    for (int version = 1; version <= BOOK_VERSION; version++)
        CASE("a book of each version opens, complete, with the schema of a new one") {
            if (argc > 1)
                old_book(argv[1], version);
            else
                SKIP("no folder of books was named");
        }
    return check_done();
}
