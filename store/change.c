#include "store/change.h"
#include "store/change_sql.h"
#include "store/sql.h"

#include <string.h>

/* ---- history ---- */

#define UNDONE_BY                                                                                  \
    "(SELECT MAX(u.revision) FROM change u WHERE u.undoes = c.revision AND NOT EXISTS"             \
    " (SELECT 1 FROM change v WHERE v.undoes = u.revision))"

/* The rows of a change are numbered on end; a history needs no more than the first of an import. */
#define FIRST_ROWS                                                                                 \
    "r.number < 200 + (SELECT MIN(f.number) FROM change_row f WHERE f.revision = c.revision)"

static const char list_all[] =
    "SELECT c.revision, c.at_utc_min, c.operation, c.what, c.undoes, " UNDONE_BY
    ", r.subject, r.row_number, r.piece, r.before, r.after"
    " FROM (SELECT * FROM change WHERE ?1 IS NULL OR revision < ?1 ORDER BY revision DESC LIMIT "
    "?2) c"
    " LEFT JOIN change_row r ON r.revision = c.revision AND " FIRST_ROWS
    " ORDER BY c.revision DESC, r.number";

static const char list_piece[] =
    "SELECT c.revision, c.at_utc_min, c.operation, c.what, c.undoes, " UNDONE_BY
    ", r.subject, r.row_number, r.piece, r.before, r.after"
    " FROM (SELECT DISTINCT revision FROM change_row WHERE piece = ?3 AND (?1 IS NULL OR revision "
    "< ?1)"
    " ORDER BY revision DESC LIMIT ?2) k JOIN change c ON c.revision = k.revision"
    " JOIN change_row r ON r.revision = c.revision AND r.piece = ?3 ORDER BY c.revision DESC, "
    "r.number";

static void read_change(struct book *b, sqlite3_stmt *st, struct arena *a, struct change_row *r) {
    r->revision = sql_column_int(st, 0);
    r->at_utc_min = sql_column_int(st, 1);
    r->operation = sql_column_text(b, st, 2, a);
    r->what = sql_column_text(b, st, 3, a);
    r->undoes = sql_column_int(st, 4);
    r->undone_by = sql_column_int(st, 5);
    r->subject = sql_column_text(b, st, 6, a);
    r->row_number = sql_column_int(st, 7);
    r->piece = sql_column_text(b, st, 8, a);
    r->before = sql_column_text(b, st, 9, a);
    r->after = sql_column_text(b, st, 10, a);
}

enum status change_list(struct book *b, const char *piece, int64_t below, int64_t changes,
                        struct arena *arena, struct change_row **out_rows, size_t *out_n,
                        struct why *why) {
    sqlite3_stmt *st;
    enum status s = sql_prepare(b, piece ? list_piece : list_all, &st, why);
    if (s) return s;
    sql_bind(st, piece ? "iit" : "ii", below, changes, piece);
    struct change_row *rows = NULL;
    size_t n = 0, cap = 0;
    int rc;
    while ((rc = sql_step(st)) == SQLITE_ROW) {
        if (n == cap) {
            struct change_row *more = arena_array(arena, cap ? cap * 2 : 64, sizeof *rows);
            if (!more) {
                sqlite3_reset(st);
                return why_no_memory(why);
            }
            if (n) memcpy(more, rows, n * sizeof *rows);
            rows = more, cap = cap ? cap * 2 : 64;
        }
        read_change(b, st, arena, &rows[n++]);
    }
    if ((s = sql_end(b, rc, why))) return s;
    *out_rows = rows, *out_n = n;
    return OK;
}

enum status change_since(struct book *b, const char *table, int64_t row_number, int64_t revision,
                         struct arena *arena, const char **out_then, const char **out_now,
                         const char **out_operation, struct why *why) {
    sqlite3_stmt *st;
    enum status s =
        sql_prepare(b,
                    "SELECT r.before, r.after, c.operation FROM change_row r JOIN change c"
                    " ON c.revision = r.revision WHERE r.subject = ?1 AND r.row_number = ?2"
                    " AND r.revision > ?3 ORDER BY r.number",
                    &st, why);
    if (s) return s;
    sql_bind(st, "tii", table, row_number, revision);
    *out_then = *out_now = *out_operation = NULL;
    int rc;
    for (bool first = true; (rc = sql_step(st)) == SQLITE_ROW; first = false) {
        if (first) *out_then = sql_column_text(b, st, 0, arena);
        *out_now = sql_column_text(b, st, 1, arena);
        *out_operation = sql_column_text(b, st, 2, arena);
    }
    return sql_end(b, rc, why);
}

/* ---- taking back ---- */

enum status change_last(struct book *b, int64_t *out_revision, struct why *why) {
    return sql_int(
        b, why, out_revision,
        "SELECT MAX(c.revision) FROM change c WHERE c.undoes IS NULL AND c.revision <> ?1"
        " AND EXISTS (SELECT 1 FROM change_row r WHERE r.revision = c.revision) AND NOT EXISTS"
        " (SELECT 1 FROM change u WHERE u.undoes = c.revision AND NOT EXISTS"
        " (SELECT 1 FROM change v WHERE v.undoes = u.revision))",
        "i", b->writes ? b->revision : (int64_t)-1);
}

/* The row as it is now must be what the change left, apart from its revision. */
static enum status check_unchanged(struct book *b, const char *table, int64_t number,
                                   const char *after, struct why *why) {
    struct change_text sql = {.n = 0};
    change_text_add(&sql, "SELECT ");
    enum status status = change_same_json(b, table, "t", "?2", &sql, why);
    change_text_add(&sql, " FROM ");
    change_text_add(&sql, table), change_text_add(&sql, " t WHERE number = ?1");
    int64_t same = INT64_MIN, later = INT64_MIN;
    if (!status) status = sql_int(b, why, &same, sql.at, "it", number, after);
    if (status) return status;
    if (after ? same == 1 : same == INT64_MIN) return OK;
    sql_int(b, NULL, &later,
            "SELECT MAX(revision) FROM change_row WHERE subject = ?1 AND row_number = ?2 AND "
            "revision < ?3",
            "tii", table, number, b->revision);
    return why_say(why, E_CONFLICT, "/revision",
                   "This %s was changed again since (revision %lld). Take that change "
                   "back first.",
                   table, (long long)later);
}

static enum status take_back_row(struct book *b, const char *table, int64_t number,
                                 const char *before, const char *after, struct why *why) {
    if (change_adds_only(table)) {
        int64_t corrected;
        struct change_text sql = {.n = 0};
        change_text_add(&sql, "SELECT COUNT(*) FROM "), change_text_add(&sql, table);
        change_text_add(&sql, " WHERE corrects = ?1");
        enum status status = sql_int(b, why, &corrected, sql.at, "i", number);
        if (!status && corrected)
            status = why_say(why, E_CONFLICT, "/revision",
                             "A correction of this %s was entered already.", table);
        return status ? status : change_contrary(b, table, number, why);
    }
    enum status status = check_unchanged(b, table, number, after, why);
    if (status) return status;
    if (!before) return change_remove(b, table, number, why);
    return change_write_json(b, table, number, before, after == NULL, why);
}

struct undo_row {
    const char *table, *before, *after;
    int64_t number;
};

enum { UNDO_ROWS_MAX = 100000 };

static enum status rows_of_change(struct book *b, int64_t revision, struct arena *arena,
                                  struct undo_row **out_rows, size_t *out_n, struct why *why) {
    int64_t n;
    enum status status =
        sql_int(b, why, &n, "SELECT COUNT(*) FROM change_row WHERE revision = ?1", "i", revision);
    if (status) return status;
    if (n > UNDO_ROWS_MAX)
        return why_say(why, E_TOO_LARGE, "/revision",
                       "That change wrote too much to be taken back.");
    struct undo_row *rows = arena_array(arena, (size_t)n + 1, sizeof *rows);
    sqlite3_stmt *st;
    if (!rows) return why_no_memory(why);
    status =
        sql_prepare(b,
                    "SELECT subject, row_number, before, after FROM change_row WHERE revision = ?1"
                    " ORDER BY number DESC",
                    &st, why);
    if (status) return status;
    sql_bind(st, "i", revision);
    int rc;
    size_t i = 0;
    for (; (rc = sql_step(st)) == SQLITE_ROW; i++)
        rows[i] =
            (struct undo_row){sql_column_text(b, st, 0, arena), sql_column_text(b, st, 2, arena),
                              sql_column_text(b, st, 3, arena), sql_column_int(st, 1)};
    if ((status = sql_end(b, rc, why))) return status;
    *out_rows = rows, *out_n = i;
    return OK;
}

static enum status check_can_undo(struct book *b, int64_t revision, struct why *why) {
    int64_t known, undone;
    enum status status =
        sql_int(b, why, &known, "SELECT 1 FROM change WHERE revision = ?1 AND revision < ?2", "ii",
                revision, b->revision);
    if (!status && known == INT64_MIN)
        status = why_say(why, E_NOT_FOUND, "/revision", "There was no change of revision %lld.",
                         (long long)revision);
    if (!status)
        status = sql_int(b, why, &undone,
                         "SELECT " UNDONE_BY " FROM change c WHERE c.revision = ?1", "i", revision);
    if (!status && undone != INT64_MIN)
        status = why_say(why, E_CONFLICT, "/revision",
                         "That change was taken back already (revision %lld).", (long long)undone);
    return status;
}

enum status change_undo(struct book *b, int64_t revision, struct why *why) {
    struct arena arena;
    struct undo_row *rows = NULL;
    size_t n = 0;
    arena_init(&arena, alloc_heap(), 0);
    enum status status = check_can_undo(b, revision, why);
    if (!status) status = rows_of_change(b, revision, &arena, &rows, &n, why);
    if (!status && !n)
        status = why_say(why, E_CONFLICT, "/revision", "That change left nothing to take back.");
    for (size_t i = 0; i < n && !status; i++)
        status =
            take_back_row(b, rows[i].table, rows[i].number, rows[i].before, rows[i].after, why);
    if (!status)
        status = sql_do(b, why, "UPDATE change SET undoes = ?1 WHERE revision = ?2", "ii", revision,
                        b->revision);
    arena_free(&arena);
    return status;
}
