#include "store/row.h"
#include "store/sql.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* The SQL of a table is short and made in a fixed buffer; the widest table takes half of it. */
enum { SQL_MAX = 2048 };

struct sql_text {
    char at[SQL_MAX];
    size_t n;
};

static void add(struct sql_text *s, const char *text) {
    size_t n = strlen(text);
    if (s->n + n >= SQL_MAX) { /* cut for good: the prepare that follows fails and says so */
        s->n = SQL_MAX;
        return;
    }
    memcpy(s->at + s->n, text, n + 1);
    s->n += n;
}

static void *member(const struct column *c, void *row) {
    return (char *)row + c->offset;
}

static const struct column *column_named(const struct book_table *t, const char *name) {
    for (size_t i = 0; i < t->columns_n; i++)
        if (!strcmp(t->columns[i].name, name)) return &t->columns[i];
    return NULL;
}

void row_unsay(const struct book_table *t, void *out_row) {
    memset(out_row, 0, t->size);
    for (size_t i = 0; i < t->columns_n; i++) {
        const struct column *c = &t->columns[i];
        if (c->type == COLUMN_INT) *(int64_t *)member(c, out_row) = INT64_MIN;
        if (c->type == COLUMN_REAL) *(double *)member(c, out_row) = (double)NAN;
    }
}

static void bind_member(sqlite3_stmt *st, int at, const struct column *c, const void *row) {
    const void *m = (const char *)row + c->offset;
    switch (c->type) {
    case COLUMN_TEXT: sqlite3_bind_text(st, at, *(const char *const *)m, -1, SQLITE_STATIC); break;
    case COLUMN_BOOL: sqlite3_bind_int(st, at, *(const bool *)m); break;
    case COLUMN_INT:
        if (*(const int64_t *)m != INT64_MIN) sqlite3_bind_int64(st, at, *(const int64_t *)m);
        break;
    case COLUMN_REAL:
        if (!isnan(*(const double *)m)) sqlite3_bind_double(st, at, *(const double *)m);
        break;
    }
}

static void read_member(struct book *b, sqlite3_stmt *st, int at, const struct column *c, void *row,
                        struct arena *arena) {
    void *m = member(c, row);
    switch (c->type) {
    case COLUMN_TEXT: *(const char **)m = sql_column_text(b, st, at, arena); break;
    case COLUMN_BOOL: *(bool *)m = sqlite3_column_int(st, at) != 0; break;
    case COLUMN_INT: *(int64_t *)m = sql_column_int(st, at); break;
    case COLUMN_REAL: *(double *)m = sql_column_real(st, at); break;
    }
}

static enum status read_row(struct book *b, sqlite3_stmt *st, const struct book_table *t,
                            struct arena *arena, void *out_row, struct why *why) {
    for (size_t i = 0; i < t->columns_n; i++)
        read_member(b, st, (int)i, &t->columns[i], out_row, arena);
    return b->no_room ? why_no_memory(why) : OK;
}

static enum status finish(struct book *b, sqlite3_stmt *st, struct why *why) {
    int rc;
    while ((rc = sql_step(st)) == SQLITE_ROW) {
    }
    return rc == SQLITE_DONE ? OK : sql_error(b->db, rc, why);
}

/* What is stored, in the order of the columns, as of this change; the number of the next one. */
static int bind_kept(sqlite3_stmt *st, struct book *b, const struct book_table *t, void *row) {
    int at = 1;
    *(int64_t *)member(column_named(t, "revision"), row) = b->revision;
    for (size_t i = 0; i < t->columns_n; i++) {
        const struct column *c = &t->columns[i];
        if (!c->seen && strcmp(c->name, "number")) bind_member(st, at++, c, row);
    }
    return at;
}

enum status row_add(struct book *b, const struct book_table *t, void *row, struct why *why) {
    struct sql_text s = {.n = 0}, marks = {.n = 0};
    add(&s, "INSERT INTO ");
    add(&s, t->name);
    const char *sep = "(";
    for (size_t i = 0; i < t->columns_n; i++) {
        const struct column *c = &t->columns[i];
        if (c->seen || !strcmp(c->name, "number")) continue;
        add(&s, sep), add(&marks, sep), sep = ",";
        add(&s, c->name), add(&marks, "?");
    }
    add(&s, ") VALUES"), add(&s, marks.at), add(&s, ")");
    sqlite3_stmt *st;
    enum status status = sql_prepare(b, s.at, &st, why);
    if (status) return status;
    bind_kept(st, b, t, row);
    status = finish(b, st, why);
    if (status == OK)
        *(int64_t *)member(column_named(t, "number"), row) = sqlite3_last_insert_rowid(b->db);
    return status;
}

enum status row_change(struct book *b, const struct book_table *t, void *row, struct why *why) {
    struct sql_text s = {.n = 0};
    add(&s, "UPDATE "), add(&s, t->name);
    const char *sep = " SET ";
    for (size_t i = 0; i < t->columns_n; i++) {
        const struct column *c = &t->columns[i];
        if (c->seen || !strcmp(c->name, "number")) continue;
        add(&s, sep), add(&s, c->name), add(&s, " = ?"), sep = ", ";
    }
    add(&s, " WHERE number = ?");
    sqlite3_stmt *st;
    enum status status = sql_prepare(b, s.at, &st, why);
    if (status) return status;
    int at = bind_kept(st, b, t, row);
    bind_member(st, at, column_named(t, "number"), row);
    status = finish(b, st, why);
    if (status == OK && sqlite3_changes(b->db) != 1)
        return why_say(why, E_NOT_FOUND, "", "There is no such row of %s in the book.", t->name);
    return status;
}

static void add_columns(struct sql_text *s, const struct book_table *t) {
    const char *sep = "SELECT ";
    for (size_t i = 0; i < t->columns_n; i++) {
        add(s, sep), add(s, t->columns[i].name);
        sep = ", ";
    }
    add(s, " FROM "), add(s, t->from);
}

enum status row_get(struct book *b, const struct book_table *t, const char *column, const char *key,
                    struct arena *arena, void *out_row, struct why *why) {
    struct sql_text s = {.n = 0};
    add_columns(&s, t);
    add(&s, " WHERE "), add(&s, column), add(&s, " = ?1");
    sqlite3_stmt *st;
    enum status status = sql_prepare(b, s.at, &st, why);
    if (status) return status;
    sql_bind(st, "t", key);
    int rc = sql_step(st);
    if (rc == SQLITE_DONE)
        return why_say(why, E_NOT_FOUND, "/id", "There is no %s \"%.64s\" in the book.", t->name,
                       key);
    if (rc != SQLITE_ROW) return sql_error(b->db, rc, why);
    status = read_row(b, st, t, arena, out_row, why);
    sqlite3_reset(st);
    return status;
}

struct row_page {
    char *rows;
    size_t n, cap;
};

static void *page_next(struct row_page *p, size_t size, struct arena *arena) {
    if (p->n == p->cap) {
        size_t cap = p->cap ? p->cap * 2 : 64;
        char *rows = arena_array(arena, cap, size);
        if (!rows) return NULL;
        if (p->n) memcpy(rows, p->rows, p->n * size);
        p->rows = rows, p->cap = cap;
    }
    return p->rows + p->n * size;
}

static enum status list_statement(struct book *b, const struct book_table *t,
                                  const struct row_query *q, sqlite3_stmt **out, struct why *why) {
    struct sql_text s = {.n = 0};
    add_columns(&s, t);
    add(&s, q->down ? " WHERE (?7 IS NULL OR number < ?7)" : " WHERE (?7 IS NULL OR number > ?7)");
    if (q->where && *q->where) add(&s, " AND ("), add(&s, q->where), add(&s, ")");
    add(&s, q->down ? " ORDER BY number DESC LIMIT ?8" : " ORDER BY number LIMIT ?8");
    enum status status = sql_prepare(b, s.at, out, why);
    if (status) return status;
    sqlite3_stmt *st = *out;
    for (int i = 0; i < 6; i++) sqlite3_bind_text(st, i + 1, q->texts[i], -1, SQLITE_STATIC);
    if (q->after != INT64_MIN) sqlite3_bind_int64(st, 7, q->after);
    sqlite3_bind_int64(st, 8, q->limit > 0 ? q->limit + 1 : -1); /* one more tells if more follow */
    return OK;
}

enum status row_list(struct book *b, const struct book_table *t, const struct row_query *q,
                     struct arena *arena, void **out_rows, size_t *out_n, int64_t *out_next,
                     struct why *why) {
    sqlite3_stmt *st;
    struct row_page page = {0};
    enum status status = list_statement(b, t, q, &st, why);
    if (status) return status;
    bool more = false;
    int rc;
    while ((rc = sql_step(st)) == SQLITE_ROW) {
        if (q->limit > 0 && page.n == (size_t)q->limit) {
            more = true;
            break;
        }
        void *row = page_next(&page, t->size, arena);
        status = row ? read_row(b, st, t, arena, row, why) : why_no_memory(why);
        if (status) break;
        page.n++;
    }
    if (rc != SQLITE_ROW && rc != SQLITE_DONE) return sql_error(b->db, rc, why);
    sqlite3_reset(st);
    if (status) return status;
    *out_rows = page.rows, *out_n = page.n;
    if (out_next)
        *out_next =
            more ? *(int64_t *)member(column_named(t, "number"), page.rows + (page.n - 1) * t->size)
                 : INT64_MIN;
    return OK;
}

enum status row_free_id(struct book *b, const struct book_table *t, const char *title,
                        struct arena *arena, const char **out_id, struct why *why) {
    char stem[48];
    size_t n = 0;
    for (; *title && n < sizeof stem - 1; title++) {
        unsigned char c = (unsigned char)*title;
        if (c < 128 && isalnum(c))
            stem[n++] = (char)tolower(c);
        else if (n && stem[n - 1] != '-')
            stem[n++] = '-';
    }
    while (n && stem[n - 1] == '-') n--;
    stem[n] = 0;
    if (!n) snprintf(stem, sizeof stem, "%.40s", t->name);
    struct sql_text s = {.n = 0};
    add(&s, "SELECT 1 FROM "), add(&s, t->name), add(&s, " WHERE id = ?1");
    int64_t past = 0; /* after a few tries, a number that nobody has yet */
    for (int64_t i = 1; i < 40; i++) {
        if (i == 20) {
            struct sql_text most = {.n = 0};
            add(&most, "SELECT COALESCE(MAX(number), 0) FROM "), add(&most, t->name);
            enum status status = sql_int(b, why, &past, most.at, "");
            if (status) return status;
        }
        char *id = i == 1 ? arena_text(arena, stem)
                          : arena_print(arena, "%s-%lld", stem, (long long)(past + i));
        if (!id) return why_no_memory(why);
        int64_t there;
        enum status status = sql_int(b, why, &there, s.at, "t", id);
        if (status) return status;
        if (there == INT64_MIN) {
            *out_id = id;
            return OK;
        }
    }
    return why_say(why, E_TOO_LARGE, "", "There are too many of that name.");
}
