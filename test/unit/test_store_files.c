/* The book as a file: a wrong, newer or damaged one is refused and not touched; copies and pictures
 * are complete, and come back. */
#include "store/change.h"
#include "store/copy.h"
#include "store/row.h"
#include "test/check.h"
#include "test/unit/store_room.h"

#include <sqlite3.h>
#include <stdint.h>
#include <sys/stat.h>

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
        CHECK(strstr(why.text, "is not a job book") && strstr(why.text, "coatwright backups"));
        CHECK(sum_of(t.path) == before);
        put_bytes(t.path, -1, "", 0); /* an empty file becomes a book */
        CHECK(open_status(t.path, true, true, &s) == OK && s);
        store_close(s);
        s = NULL;
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

static bool at_once(void *ctx) {
    (void)ctx;
    return true;
}

/* Somebody puts a file where the copy that is being made will go. */
static bool takes_the_name(void *ctx) {
    char line[300];
    snprintf(line, sizeof line,
             "cd '%s-copies' && for f in *.part; do if test -e \"$f\"; then echo mine > "
             "\"${f%%.part}\"; fi; done",
             (const char *)ctx);
    return system(line) != 0;
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
    CASE("a copy takes no name that another file was given meanwhile") {
        struct limit rival = {.stop = takes_the_name, .ctx = t.path};
        char line[200];
        CHECK(copy_daily(s, TEMP_NOW + 6000, &rival, &why) == E_CONFLICT);
        snprintf(line, sizeof line, "cd '%s-copies' && f=$(grep -lx mine *) && rm \"$f\"", t.path);
        CHECK(system(line) == 0);
        snprintf(line, sizeof line, "! ls '%s-copies'/*.part 2>/dev/null", t.path);
        CHECK(system(line) == 0);
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
    wrong_files();
    copies();
    pictures();
    arena_free(&arena);
    return check_done();
}
