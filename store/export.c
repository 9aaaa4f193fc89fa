#include "store/export.h"
#include "store/change_sql.h"
#include "store/sql.h"

#include <stdio.h>
#include <string.h>

static void add_text(export_add *add, void *ctx, const char *text) {
    add(ctx, text, strlen(text));
}

static enum status export_rows(struct book *b, const char *table, export_add *add, void *ctx,
                               struct why *why) {
    struct change_text sql = {.n = 0};
    change_text_add(&sql, "SELECT ");
    enum status s = change_row_json(b, table, "t", &sql, why);
    if (s) return s;
    change_text_add(&sql, " FROM "), change_text_add(&sql, table),
        change_text_add(&sql, " t ORDER BY number");
    sqlite3_stmt *st;
    if ((s = sql_prepare(b, sql.at, &st, why))) return s;
    int rc;
    for (const char *sep = "\n"; (rc = sql_step(st)) == SQLITE_ROW; sep = ",\n") {
        add_text(add, ctx, sep);
        add(ctx, (const char *)sqlite3_column_text(st, 0), (size_t)sqlite3_column_bytes(st, 0));
    }
    return rc == SQLITE_DONE ? OK : sql_error(b->db, rc, why);
}

enum status export_book(struct book *b, export_add *add, void *ctx, struct why *why) {
    char head[128];
    snprintf(head, sizeof head,
             "{\"format\":\"coatwright-book\",\"version\":%d,\"revision\":%lld,\"tables\":{",
             BOOK_VERSION, (long long)book_revision(b));
    add_text(add, ctx, head);
    for (size_t i = 0; change_tables[i]; i++) {
        snprintf(head, sizeof head, "%s\n\"%s\":[", i ? "," : "", change_tables[i]);
        add_text(add, ctx, head);
        enum status s = export_rows(b, change_tables[i], add, ctx, why);
        if (s) return s;
        add_text(add, ctx, "]");
    }
    add_text(add, ctx, "}}\n");
    return OK;
}

static enum status check_empty(struct book *b, struct why *why) {
    for (size_t i = 0; change_tables[i]; i++) {
        char sql[128];
        int64_t n;
        if (!strcmp(change_tables[i], "shop")) continue;
        snprintf(sql, sizeof sql, "SELECT COUNT(*) FROM %s", change_tables[i]);
        enum status s = sql_int(b, why, &n, sql, "");
        if (s) return s;
        if (n)
            return why_say(why, E_CONFLICT, "",
                           "The book has entries already. Read an export into a new book: "
                           "--book FILE with a file that is not there yet.");
    }
    return OK;
}

static enum status check_head(struct book *b, const char *text, struct why *why) {
    int64_t valid, version;
    enum status s = sql_int(b, why, &valid, "SELECT json_valid(?1)", "t", text);
    if (!s && valid != 1) s = why_say(why, E_SYNTAX, "/export", "This is not JSON.");
    if (!s)
        s = sql_int(b, why, &version,
                    "SELECT iif(json_extract(?1, '$.format') = 'coatwright-book', json_extract(?1, "
                    "'$.version'), NULL)",
                    "t", text);
    if (!s && version == INT64_MIN)
        s = why_say(why, E_SYNTAX, "/export/format",
                    "This is not the export of a job book (\"coatwright-book\").");
    if (!s && version < 1)
        s = why_say(why, E_DOMAIN, "/export/version",
                    "The version of an export is a whole number from 1 to %d.", BOOK_VERSION);
    if (!s && version > BOOK_VERSION)
        s = why_say(why, E_NEWER, "/export/version",
                    "This export was written by a newer coatwright.");
    return s;
}

/* Every table is one of a book's, and a list of rows. */
static enum status check_tables(struct book *b, const char *text, struct why *why) {
    sqlite3_stmt *st;
    char field[160];
    enum status s = sql_prepare(
        b,
        "SELECT t.key, t.type, (SELECT MIN(r.key) FROM json_each(iif(t.type = 'array', t.value, "
        "'[]')) r WHERE r.type <> 'object') FROM json_each(?1, '$.tables') t",
        &st, why);
    if (s) return s;
    sqlite3_bind_text(st, 1, text, -1, SQLITE_STATIC);
    int rc;
    while (!s && (rc = sql_step(st)) == SQLITE_ROW) {
        const char *table = (const char *)sqlite3_column_text(st, 0);
        size_t i = 0;
        while (table && change_tables[i] && strcmp(change_tables[i], table) != 0) i++;
        bool known = table && change_tables[i],
             list = !strcmp((const char *)sqlite3_column_text(st, 1), "array");
        if (!known) {
            s = why_say(why, E_UNKNOWN_KEY, "/export/tables",
                        "\"%.40s\" is no table of a job book. An export has them as \"coatwright "
                        "export\" writes them.",
                        table ? table : "");
        } else if (!list || sqlite3_column_type(st, 2) != SQLITE_NULL) {
            if (list)
                snprintf(field, sizeof field, "/export/tables/%s/%d", table,
                         sqlite3_column_int(st, 2));
            else
                snprintf(field, sizeof field, "/export/tables/%s", table);
            s = why_say(why, E_TYPE, field, "Write %s.",
                        list ? "each row as an object" : "the table as a list of rows");
        }
    }
    if (!s && rc != SQLITE_DONE) s = sql_error(b->db, rc, why);
    sqlite3_reset(st);
    sqlite3_clear_bindings(st); /* the text is not ours */
    return s;
}

enum status export_each(struct book *b, const char *text, const char *table, const char *column,
                        export_value *value, void *ctx, struct why *why) {
    char sql[256], field[160];
    sqlite3_stmt *st;
    snprintf(sql, sizeof sql,
             "SELECT r.key, json_extract(r.value, '$.%s') FROM json_each(?1, '$.tables.%s') r",
             column, table);
    enum status s = sql_prepare(b, sql, &st, why);
    if (s) return s;
    sqlite3_bind_text(st, 1, text, -1, SQLITE_STATIC);
    int rc = SQLITE_DONE;
    while (!s && (rc = sql_step(st)) == SQLITE_ROW) {
        const char *v = (const char *)sqlite3_column_text(st, 1);
        snprintf(field, sizeof field, "/export/tables/%s/%d/%s", table, sqlite3_column_int(st, 0),
                 column);
        if (v && (s = value(ctx, v, why)) != OK) why_under(why, field);
    }
    if (!s && rc != SQLITE_DONE) s = sql_error(b->db, rc, why);
    sqlite3_reset(st);
    sqlite3_clear_bindings(st); /* the text is not ours */
    return s;
}

/* The table in front of what the book says of a row that it does not take. */
static enum status refused(enum status s, const char *table, struct why *why) {
    char field[64];
    snprintf(field, sizeof field, "/export/tables/%s", table);
    why_under(why, field);
    return s;
}

enum status export_check(struct book *b, const char *text, struct why *why) {
    enum status s = check_empty(b, why);
    if (!s) s = check_head(b, text, why);
    return s ? s : check_tables(b, text, why);
}

enum { REVISION_MAX = INT32_MAX };

/* The rows keep their revisions, so this book's goes on behind them. */
static enum status go_on_behind(struct book *b, const char *text, struct why *why) {
    int64_t then;
    enum status s = sql_int(b, why, &then, "SELECT json_extract(?1, '$.revision')", "t", text);
    if (s || then < b->revision) return s;
    if (then > REVISION_MAX)
        return why_say(why, E_DOMAIN, "/export/revision", "No book has had so many changes.");
    s = sql_do(b, why, "UPDATE change SET revision = ?1 WHERE revision = ?2", "ii", then + 1,
               b->revision);
    if (!s) s = sql_do(b, why, "UPDATE book SET revision = ?1", "i", then + 1);
    if (!s) b->revision = then + 1;
    return s;
}

/* Rows refer to each other across tables, so references are checked when all are in. */
enum status export_read(struct book *b, const char *text, struct why *why) {
    enum status s = go_on_behind(b, text, why);
    if (!s) s = sql_script(b, "PRAGMA defer_foreign_keys = ON;", why);
    for (size_t i = 0; !s && change_tables[i]; i++) {
        struct change_text sql = {.n = 0};
        s = change_insert_from(b, change_tables[i], &sql, why);
        if (!s && (s = sql_do(b, why, sql.at, "t", text)) != OK)
            s = refused(s, change_tables[i], why);
    }
    /* a beginning, not a change: taken back, the book would have no shop and no room for another */
    return s ? s : sql_do(b, why, "DELETE FROM change_row WHERE revision = ?1", "i", b->revision);
}

static enum status table_unknown(const char *table, struct why *why) {
    char all[512] = "";
    size_t n = 0;
    for (size_t i = 0; change_tables[i] && n < sizeof all; i++)
        n += (size_t)snprintf(all + n, sizeof all - n, "%s%s", i ? ", " : "", change_tables[i]);
    return why_say(why, E_NOT_FOUND, "/table",
                   "There is no table \"%.40s\" in the book. Write one of %s.", table, all);
}

enum status export_table(struct book *b, const char *table, export_row *row, void *ctx,
                         struct why *why) {
    enum { COLUMNS_MAX = 64 };
    char sql[160];
    const char *values[COLUMNS_MAX], *known = NULL;
    for (size_t i = 0; change_tables[i]; i++)
        if (!strcmp(change_tables[i], table)) known = change_tables[i];
    if (!known) return table_unknown(table, why);
    snprintf(sql, sizeof sql, "SELECT * FROM %s ORDER BY number", known);
    sqlite3_stmt *st;
    enum status s = sql_prepare(b, sql, &st, why);
    if (s) return s;
    size_t n = (size_t)sqlite3_column_count(st);
    if (n > COLUMNS_MAX) n = COLUMNS_MAX;
    for (size_t i = 0; i < n; i++) values[i] = sqlite3_column_name(st, (int)i);
    row(ctx, values, n);
    int rc;
    while ((rc = sql_step(st)) == SQLITE_ROW) {
        char real[COLUMNS_MAX][32];
        for (size_t i = 0; i < n; i++) {
            values[i] = (const char *)sqlite3_column_text(st, (int)i);
            if (sqlite3_column_type(st, (int)i) != SQLITE_FLOAT) continue;
            double v = sqlite3_column_double(st, (int)i), back = 0;
            for (int digits = 15; digits <= 17; digits++) {
                snprintf(real[i], sizeof real[i], "%.*g", digits, v);
                if (sscanf(real[i], "%lf", &back) == 1 && !(back < v) && !(back > v)) break;
            }
            values[i] = real[i];
        }
        row(ctx, values, n);
    }
    return rc == SQLITE_DONE ? OK : sql_error(b->db, rc, why);
}
