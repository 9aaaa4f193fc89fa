#include "store/sums.h"
#include "store/sql.h"

#include <math.h>

static enum status sum(struct book *b, const char *sql, const char *piece, double *out,
                       struct why *why) {
    sqlite3_stmt *st;
    enum status s = sql_prepare(b, sql, &st, why);
    if (s) return s;
    sql_bind(st, "t", piece);
    int rc = sql_step(st);
    if (rc != SQLITE_ROW) return sql_error(b->db, rc, why);
    *out = sqlite3_column_double(st, 0);
    sqlite3_reset(st);
    return OK;
}

enum status sums_of_piece(struct book *b, const char *piece, struct piece_sums *out,
                          struct why *why) {
    struct piece_sums s = {0};
    double used = 0, material = 0;
    enum status status =
        sum(b, "SELECT TOTAL(actual * weight) FROM record WHERE piece = ?1 AND kind = 'hours'",
            piece, &s.hours_min, why);
    if (!status)
        status = sum(b,
                     "SELECT TOTAL(amount_cent) FROM money WHERE piece = ?1 AND kind IN "
                     "('deposit', 'payment', 'sale', 'refund')",
                     piece, &s.income_cent, why);
    if (!status)
        status = sum(b, "SELECT -TOTAL(amount_cent) FROM money WHERE piece = ?1 AND kind = 'fee'",
                     piece, &s.fee_cent, why);
    if (!status)
        status =
            sum(b, "SELECT -TOTAL(amount_cent) FROM money WHERE piece = ?1 AND kind = 'purchase'",
                piece, &s.bought_cent, why);
    if (!status)
        status =
            sum(b, "SELECT -TOTAL(amount_cent) FROM money WHERE piece = ?1 AND kind = 'material'",
                piece, &material, why);
    if (!status)
        status = sum(b,
                     "SELECT -TOTAL(m.amount_ml * p.cost_cent / p.size_ml) FROM stock_movement m "
                     "JOIN paint p ON p.id = m.paint"
                     " WHERE m.piece = ?1 AND p.size_ml > 0",
                     piece, &used, why);
    s.material_cent = used + material;
    if (!status) *out = s;
    return status;
}

enum status sums_paint_use(struct book *b, const char *piece, struct arena *arena,
                           struct paint_use **out_rows, size_t *out_n, struct why *why) {
    int64_t most;
    enum status s = sql_int(b, why, &most, "SELECT COUNT(*) FROM paint", "");
    if (s) return s;
    struct paint_use *rows = arena_array(arena, (size_t)most + 1, sizeof *rows);
    sqlite3_stmt *st;
    if (!rows) return why_no_memory(why);
    s = sql_prepare(b,
                    "SELECT paint, -TOTAL(amount_ml) AS ml FROM stock_movement WHERE piece = ?1"
                    " GROUP BY paint HAVING ml > 0 ORDER BY MIN(number)",
                    &st, why);
    if (s) return s;
    sql_bind(st, "t", piece);
    int rc;
    size_t n = 0;
    for (; (rc = sql_step(st)) == SQLITE_ROW; n++)
        rows[n] = (struct paint_use){sql_column_text(b, st, 0, arena), sql_column_real(st, 1)};
    if ((s = sql_end(b, rc, why))) return s;
    *out_rows = rows, *out_n = n;
    return OK;
}

enum status sums_promised_hours(struct book *b, const char *piece, double *out, struct why *why) {
    sqlite3_stmt *st;
    enum status s = sql_prepare(b,
                                "SELECT json_extract(document, '$.hours') FROM accepted_now"
                                " WHERE piece = ?1 AND kind IN ('quote', 'agreement') AND NOT "
                                "withdrawn AND corrects IS NULL ORDER BY number DESC LIMIT 1",
                                &st, why);
    if (s) return s;
    sql_bind(st, "t", piece);
    int rc = sql_step(st);
    if (rc != SQLITE_ROW && rc != SQLITE_DONE) return sql_error(b->db, rc, why);
    *out = rc == SQLITE_ROW ? sql_column_real(st, 0) : (double)NAN;
    sqlite3_reset(st);
    return OK;
}

enum status sums_closing_number(struct book *b, const char *piece, int64_t *out, struct why *why) {
    return sql_int(b, why, out, "SELECT number FROM closing WHERE piece = ?1", "t", piece);
}

/* Contrary rows of a chain cancel: a record counts when the weights of it and of all that correct
 * it add up to more than 0. Chains are followed from the few rows that correct others; most records
 * stand alone. */
static const char records_sql[] =
    "WITH RECURSIVE fix AS MATERIALIZED"
    " (SELECT number, corrects, weight, doubted FROM record WHERE corrects IS NOT NULL),"
    " chain(root, number, weight, sure) AS (SELECT number, number, weight, weight * (1 - doubted)"
    " FROM record WHERE corrects IS NULL AND number IN (SELECT corrects FROM fix)"
    " UNION ALL SELECT c.root, f.number, f.weight, f.weight * (1 - f.doubted)"
    " FROM chain c JOIN fix f ON f.corrects = c.number)"
    " SELECT r.kind, r.class, r.method, r.operation, r.piece, r.planned, r.actual,"
    " r.doubted, r.doubted AND COALESCE(k.sure, 0) > 0 FROM record r"
    " LEFT JOIN (SELECT root, SUM(weight) AS n, SUM(sure) AS sure FROM chain GROUP BY root) k"
    " ON k.root = r.number"
    " WHERE r.corrects IS NULL AND COALESCE(k.n, r.weight) > 0"
    " AND r.kind IN ('spread', 'loss', 'hours', 'drying') AND r.planned > 0"
    " ORDER BY r.kind, r.class, r.method, r.operation, r.number";

enum status sums_records(struct book *b, struct arena *arena, struct record_pair **out_rows,
                         size_t *out_n, struct why *why) {
    int64_t most;
    enum status s =
        sql_int(b, why, &most, "SELECT COUNT(*) FROM record WHERE corrects IS NULL", "");
    if (s) return s;
    struct record_pair *rows = arena_array(arena, (size_t)most + 1, sizeof *rows);
    sqlite3_stmt *st;
    if (!rows) return why_no_memory(why);
    if ((s = sql_prepare(b, records_sql, &st, why))) return s;
    int rc;
    size_t n = 0;
    for (; (rc = sql_step(st)) == SQLITE_ROW; n++)
        rows[n] =
            (struct record_pair){sql_column_text(b, st, 0, arena), sql_column_text(b, st, 1, arena),
                                 sql_column_text(b, st, 2, arena), sql_column_text(b, st, 3, arena),
                                 sql_column_text(b, st, 4, arena), sql_column_real(st, 5),
                                 sql_column_real(st, 6),           sqlite3_column_int(st, 7) != 0,
                                 sqlite3_column_int(st, 8) != 0};
    if ((s = sql_end(b, rc, why))) return s;
    *out_rows = rows, *out_n = n;
    return OK;
}
