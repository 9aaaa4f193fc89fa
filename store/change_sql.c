#include "store/change_sql.h"
#include "store/change.h"
#include "store/rows.h"
#include "store/schema_text.h"
#include "store/sql.h"

#include <stdio.h>
#include <string.h>

const char *const change_tables[] = {
    "shop",   "client", "paint",    "stock_movement", "supply",          "supply_movement",
    "sample", "piece",  "accepted", "recipe",         "batch",           "batch_item",
    "task",   "record", "money",    "closing",        "closing_product", "picture",
    NULL};

void change_text_add(struct change_text *s, const char *text) {
    size_t n = strlen(text);
    if (s->n + n >= CHANGE_TEXT_MAX) {
        s->n = CHANGE_TEXT_MAX;
        return;
    }
    memcpy(s->at + s->n, text, n + 1);
    s->n += n;
}

static void add2(struct change_text *s, const char *a, const char *b) {
    change_text_add(s, a), change_text_add(s, b);
}

bool change_adds_only(const char *table) {
#define ONE(UP, low, view, adds)                                                                   \
    if (adds && !strcmp(table, #low)) return true;
    BOOK_TABLES(ONE)
#undef ONE
    return false;
}

/* ---- columns ---- */

enum { COLUMNS_MAX = 40, COLUMN_NAME_MAX = 32 };
struct column_list {
    char name[COLUMNS_MAX][COLUMN_NAME_MAX];
    char usual[COLUMNS_MAX][COLUMN_NAME_MAX]; /* its DEFAULT, else NULL */
    bool real[COLUMNS_MAX];
    int n;
};

static bool has(const struct column_list *l, const char *name) {
    for (int i = 0; i < l->n; i++)
        if (!strcmp(l->name[i], name)) return true;
    return false;
}

/* The columns that the table has in this book, which an earlier program may have made.
 * Errors: E_TOO_LARGE (over COLUMNS_MAX), E_IO. */
static enum status columns_of(struct book *b, const char *table, struct column_list *out,
                              struct why *why) {
    sqlite3_stmt *st;
    enum status s = sql_prepare(
        b,
        "SELECT name, type, COALESCE(dflt_value, 'NULL') FROM pragma_table_info(?1) ORDER BY cid",
        &st, why);
    if (s) return s;
    sql_bind(st, "t", table);
    out->n = 0;
    int rc;
    while ((rc = sql_step(st)) == SQLITE_ROW && out->n < COLUMNS_MAX) {
        snprintf(out->name[out->n], COLUMN_NAME_MAX, "%s",
                 (const char *)sqlite3_column_text(st, 0));
        snprintf(out->usual[out->n], COLUMN_NAME_MAX, "%s",
                 (const char *)sqlite3_column_text(st, 2));
        out->real[out->n++] = !strcmp((const char *)sqlite3_column_text(st, 1), "REAL");
    }
    if (rc == SQLITE_ROW) sqlite3_reset(st);
    return rc == SQLITE_DONE ? OK : rc == SQLITE_ROW ? E_TOO_LARGE : sql_error(b->db, rc, why);
}

/* json_object writes reals with 15 digits, which is not enough to come back equal. */
static void add_row_json(const struct column_list *l, const char *row, struct change_text *s) {
    const char *sep = "json_object(";
    for (int i = 0; i < l->n; i++, sep = ", ") {
        add2(s, sep, "'"), add2(s, l->name[i], "', ");
        if (l->real[i]) {
            change_text_add(s, "json(iif("), add2(s, row, "."),
                add2(s, l->name[i], " IS NULL, 'null', printf('%!.17g', ");
            add2(s, row, "."), add2(s, l->name[i], ")))");
        } else {
            add2(s, row, "."), change_text_add(s, l->name[i]);
        }
    }
    change_text_add(s, ")");
}

enum status change_row_json(struct book *b, const char *table, const char *row,
                            struct change_text *s, struct why *why) {
    struct column_list columns;
    enum status status = columns_of(b, table, &columns, why);
    if (!status) add_row_json(&columns, row, s);
    return status;
}

/* ---- triggers ---- */

static void add_log_trigger(const char *table, const struct column_list *l, const char *event,
                            const char *before, const char *after, struct change_text *s) {
    const char *row = after ? after : before;
    add2(s, "CREATE TRIGGER log_", table), add2(s, "_", event), add2(s, " AFTER ", event),
        add2(s, " ON ", table);
    change_text_add(
        s,
        " BEGIN INSERT INTO change_row(revision, subject, row_number, piece, before, after) VALUES("
        "(SELECT revision FROM book), '");
    add2(s, table, "', "), add2(s, row, ".number, ");
    if (!strcmp(table, "piece"))
        add2(s, row, ".id, ");
    else if (has(l, "piece"))
        add2(s, row, ".piece, ");
    else
        change_text_add(s, "NULL, ");
    if (before)
        add_row_json(l, before, s);
    else
        change_text_add(s, "NULL");
    change_text_add(s, ", ");
    if (after)
        add_row_json(l, after, s);
    else
        change_text_add(s, "NULL");
    change_text_add(s, "); END;\n");
}

/* Rows that can be searched, and what is searched in them. A row of `words` is numbered by the
 * row's number and its table's place here. */
struct worded {
    const char *table, *title, *body;
};
#define TEXTS_OF(column)                                                                           \
    "(SELECT group_concat(j.atom, ' ') FROM json_tree(NEW." column ") j WHERE j.type = 'text')"
static const struct worded worded[] = {
    {"piece", "NEW.title", TEXTS_OF("document")}, {"client", "NEW.name", "concat_ws"},
    {"paint", "NEW.name", TEXTS_OF("document")},  {"recipe", "NEW.name", TEXTS_OF("items")},
    {"batch", "NEW.name", "concat_ws"},           {"supply", "NEW.name", "concat_ws"},
};
enum { WORDED = sizeof worded / sizeof *worded, WORDED_STEP = 8 };

/* All text columns of the row in one text, for tables without a document. */
static void add_all_texts(const struct column_list *l, struct change_text *s) {
    static const char *const plain[] = {"phone", "email",  "address", "waits_for", "note",
                                        "kind",  "target", "dried",   NULL};
    const char *sep = "";
    for (int i = 0; plain[i]; i++) {
        if (!has(l, plain[i])) continue;
        add2(s, sep, "COALESCE(NEW."), add2(s, plain[i], ", '')");
        sep = " || ' ' || ";
    }
}

static void add_word_triggers(size_t at, const struct column_list *l, struct change_text *s) {
    static const char *const events[] = {"INSERT", "UPDATE"};
    const struct worded *w = &worded[at];
    char rowid[64];
    snprintf(rowid, sizeof rowid, "NEW.number * %d + %zu", WORDED_STEP, at);
    for (int i = 0; i < 2; i++) {
        add2(s, "CREATE TRIGGER words_", w->table), add2(s, "_", events[i]),
            add2(s, " AFTER ", events[i]);
        add2(s, " ON ", w->table), add2(s, " BEGIN DELETE FROM words WHERE rowid = ", rowid);
        add2(s, "; INSERT INTO words(rowid, subject, id, title, body) SELECT ", rowid),
            add2(s, ", '", w->table);
        add2(s, "', NEW.id, ", w->title), change_text_add(s, ", ");
        if (!strcmp(w->body, "concat_ws"))
            add_all_texts(l, s);
        else
            change_text_add(s, w->body);
        change_text_add(s, " WHERE NEW.removed = 0; END;\n");
    }
}

enum status change_watch(struct book *b, struct why *why) {
    for (size_t i = 0; change_tables[i]; i++) {
        const char *table = change_tables[i];
        struct column_list columns;
        struct change_text s = {.n = 0};
        enum status status = columns_of(b, table, &columns, why);
        if (status) return status;
        add_log_trigger(table, &columns, "INSERT", NULL, "NEW", &s);
        if (!change_adds_only(table)) {
            add_log_trigger(table, &columns, "UPDATE", "OLD", "NEW", &s);
            add_log_trigger(table, &columns, "DELETE", "OLD", NULL, &s);
        }
        for (size_t w = 0; w < WORDED; w++)
            if (!strcmp(worded[w].table, table)) add_word_triggers(w, &columns, &s);
        status = sql_script(b, s.at, why);
        if (status) return status;
    }
    return sql_script(b, views_text, why);
}

/* All triggers and views are made by change_watch, so all of them go. */
enum status change_unwatch(struct book *b, struct why *why) {
    for (;;) {
        char text[160];
        sqlite3_stmt *st;
        enum status status = sql_prepare(
            b, "SELECT type, name FROM sqlite_schema WHERE type IN ('trigger', 'view') LIMIT 1",
            &st, why);
        if (status) return status;
        int rc = sql_step(st);
        if (rc != SQLITE_ROW) return rc == SQLITE_DONE ? OK : sql_error(b->db, rc, why);
        snprintf(text, sizeof text, "DROP %s \"%s\";", (const char *)sqlite3_column_text(st, 0),
                 (const char *)sqlite3_column_text(st, 1));
        sqlite3_reset(st);
        if ((status = sql_script(b, text, why))) return status;
    }
}

/* ---- rows from JSON ---- */

/* The column's value in a JSON row; `otherwise` where the row was written before there was such a
 * column. */
static void add_json_value(const char *json, const char *name, const char *otherwise,
                           struct change_text *s) {
    add2(s, "iif(json_type(", json), add2(s, ", '$.", name), add2(s, "') IS NULL, ", otherwise);
    add2(s, ", json_extract(", json), add2(s, ", '$.", name), change_text_add(s, "'))");
}

enum status change_same_json(struct book *b, const char *table, const char *row, const char *json,
                             struct change_text *s, struct why *why) {
    change_text_add(s, "NOT EXISTS (SELECT 1 FROM json_each(");
    enum status status = change_row_json(b, table, row, s, why);
    add2(s, ") n JOIN json_each(", json);
    change_text_add(s, ") o ON o.key = n.key WHERE n.key <> 'revision' AND n.atom IS NOT o.atom)");
    return status;
}

enum status change_write_json(struct book *b, const char *table, int64_t number, const char *json,
                              bool fresh, struct why *why) {
    struct column_list l;
    struct change_text s = {.n = 0};
    enum status status = columns_of(b, table, &l, why);
    if (status) return status;
    if (fresh) {
        add2(&s, "INSERT INTO ", table), change_text_add(&s, "(");
        for (int i = 0; i < l.n; i++) add2(&s, i ? ", " : "", l.name[i]);
        change_text_add(&s, ") SELECT ");
    } else {
        add2(&s, "UPDATE ", table), change_text_add(&s, " SET ");
    }
    for (int i = 0; i < l.n; i++) {
        change_text_add(&s, i ? ", " : "");
        if (!fresh) add2(&s, l.name[i], " = ");
        if (!strcmp(l.name[i], "revision"))
            change_text_add(&s, "?3");
        else
            add_json_value("?2", l.name[i], fresh ? l.usual[i] : l.name[i], &s);
    }
    change_text_add(&s, fresh ? " WHERE ?1 IS NOT NULL" : " WHERE number = ?1");
    return sql_do(b, why, s.at, "iti", number, json, b->revision);
}

enum status change_insert_from(struct book *b, const char *table, struct change_text *s,
                               struct why *why) {
    struct column_list l;
    enum status status = columns_of(b, table, &l, why);
    if (status) return status;
    add2(s, "INSERT OR REPLACE INTO ", table), change_text_add(s, "(");
    for (int i = 0; i < l.n; i++) add2(s, i ? ", " : "", l.name[i]);
    change_text_add(s, ") SELECT ");
    for (int i = 0; i < l.n; i++) {
        change_text_add(s, i ? ", " : "");
        add_json_value("r.value", l.name[i], l.usual[i], s);
    }
    add2(s, " FROM json_each(?1, '$.tables.", table), change_text_add(s, "') r");
    return OK;
}

enum status change_remove(struct book *b, const char *table, int64_t number, struct why *why) {
    struct column_list l;
    struct change_text s = {.n = 0};
    enum status status = columns_of(b, table, &l, why);
    if (status) return status;
    if (has(&l, "removed")) {
        add2(&s, "UPDATE ", table),
            change_text_add(&s, " SET removed = 1, revision = ?2 WHERE number = ?1");
        return sql_do(b, why, s.at, "ii", number, b->revision);
    }
    add2(&s, "DELETE FROM ", table), change_text_add(&s, " WHERE number = ?1");
    return sql_do(b, why, s.at, "i", number);
}

enum status change_contrary(struct book *b, const char *table, int64_t number, struct why *why) {
    static const char *const amounts[] = {"amount_ml", "count", "amount_cent", "distance_m",
                                          "weight"};
    struct column_list l;
    struct change_text s = {.n = 0};
    enum status status = columns_of(b, table, &l, why);
    if (status) return status;
    add2(&s, "INSERT INTO ", table), change_text_add(&s, "(");
    for (int i = 1; i < l.n; i++) add2(&s, i > 1 ? ", " : "", l.name[i]); /* all but number */
    change_text_add(&s, ") SELECT ");
    bool stock = has(&l, "amount_ml") || has(&l, "count");
    for (int i = 1; i < l.n; i++) {
        const char *name = l.name[i];
        change_text_add(&s, i > 1 ? ", " : "");
        bool amount = stock && !strcmp(name, "cost_cent");
        for (size_t k = 0; k < sizeof amounts / sizeof *amounts; k++)
            amount |= !strcmp(name, amounts[k]);
        if (!strcmp(name, "revision"))
            change_text_add(&s, "?2");
        else if (!strcmp(name, "corrects"))
            change_text_add(&s, "number");
        else if (!strcmp(name, "at_utc_min"))
            change_text_add(&s, "?3");
        else if (stock && !strcmp(name, "kind"))
            change_text_add(&s, "'corrected'");
        else
            add2(&s, amount ? "-" : "", name);
    }
    add2(&s, " FROM ", table), change_text_add(&s, " WHERE number = ?1");
    return sql_do(b, why, s.at, "iii", number, b->revision, b->now_utc_min);
}
