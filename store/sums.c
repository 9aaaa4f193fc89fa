#include "store/sums.h"
#include "store/sql.h"

static enum status sum(struct book *b, const char *sql, const char *piece, double *out,
                       struct why *why) {
    sqlite3_stmt *st = sql_prepare(b, sql, why);
    if (!st) return E_IO;
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

enum status sums_closing_number(struct book *b, const char *piece, int64_t *out, struct why *why) {
    return sql_int(b, why, out, "SELECT number FROM closing WHERE piece = ?1", "t", piece);
}
