#include "store/books.h"

#include "store/sql.h"

/* Rows of a bound statement into an array of the arena; `most` bounds their number. */
#define READ(rows, n, st, most, ...)                                                               \
    do {                                                                                           \
        int rc_;                                                                                   \
        for ((n) = 0; (rc_ = sql_step(st)) == SQLITE_ROW && (n) < (size_t)(most); (n)++)           \
            (rows)[n] = __VA_ARGS__;                                                               \
        if (rc_ == SQLITE_ROW) sqlite3_reset(st), rc_ = SQLITE_DONE;                               \
        if ((s = sql_end(b, rc_, why))) return s;                                                  \
    } while (0)

enum status books_sums(struct book *b, int64_t first_day, int64_t last_day, struct arena *arena,
                       struct books_sum **out_rows, size_t *out_n, struct why *why) {
    enum { KINDS = 32 };
    struct books_sum *rows = arena_array(arena, KINDS, sizeof *rows);
    sqlite3_stmt *st;
    size_t n;
    if (!rows) return why_no_memory(why);
    /* a contrary row takes from the side on which its kind stands */
    enum status s = sql_prepare(
        b,
        "SELECT kind, CASE WHEN kind IN ('deposit', 'payment', 'sale') THEN TOTAL(amount_cent) "
        "ELSE 0 END, CASE WHEN kind IN ('deposit', 'payment', 'sale') THEN 0 ELSE "
        "-TOTAL(amount_cent) END, TOTAL(distance_m), "
        "COUNT(*) FROM money WHERE day BETWEEN ?1 AND ?2 GROUP BY kind ORDER BY MIN(number)",
        &st, why);
    if (s) return s;
    sql_bind(st, "ii", first_day, last_day);
    READ(rows, n, st, KINDS,
         (struct books_sum){sql_column_text(b, st, 0, arena), sql_column_real(st, 1),
                            sql_column_real(st, 2), sql_column_real(st, 3), sql_column_int(st, 4)});
    *out_rows = rows, *out_n = n;
    return OK;
}

enum status books_lines(struct book *b, int64_t first_day, int64_t last_day, struct arena *arena,
                        struct books_line **out_rows, size_t *out_n, struct why *why) {
    int64_t most;
    enum status s = sql_int(b, why, &most, "SELECT COUNT(*) FROM money WHERE day BETWEEN ?1 AND ?2",
                            "ii", first_day, last_day);
    if (s) return s;
    struct books_line *rows = arena_array(arena, (size_t)most + 1, sizeof *rows);
    sqlite3_stmt *st;
    size_t n;
    if (!rows) return why_no_memory(why);
    s = sql_prepare(b,
                    "SELECT m.number, m.day, m.corrects, m.kind, p.title, c.name, m.note, "
                    "m.amount_cent, m.distance_m FROM money m LEFT JOIN piece p ON p.id = m.piece "
                    "LEFT JOIN client c ON c.id = m.client WHERE m.day BETWEEN ?1 AND ?2 "
                    "ORDER BY m.day, m.number",
                    &st, why);
    if (s) return s;
    sql_bind(st, "ii", first_day, last_day);
    READ(rows, n, st, most,
         (struct books_line){sql_column_int(st, 0), sql_column_int(st, 1), sql_column_int(st, 2),
                             sql_column_text(b, st, 3, arena), sql_column_text(b, st, 4, arena),
                             sql_column_text(b, st, 5, arena), sql_column_text(b, st, 6, arena),
                             sql_column_real(st, 7), sql_column_real(st, 8)});
    *out_rows = rows, *out_n = n;
    return OK;
}

enum status books_systems(struct book *b, struct arena *arena, struct books_system **out_rows,
                          size_t *out_n, struct why *why) {
    int64_t most;
    enum status s = sql_int(b, why, &most, "SELECT COUNT(*) FROM closing WHERE removed = 0", "");
    if (s) return s;
    struct books_system *rows = arena_array(arena, (size_t)most + 1, sizeof *rows);
    sqlite3_stmt *st;
    size_t n;
    if (!rows) return why_no_memory(why);
    s = sql_prepare(
        b,
        "SELECT system, COUNT(*), TOTAL(callbacks) AS back FROM (SELECT"
        " coalesce(p.finish, 'not said') || coalesce((SELECT group_concat(' + ' || class, '') FROM"
        " (SELECT class FROM closing_product WHERE piece = c.piece AND class IS NOT NULL"
        " GROUP BY class ORDER BY MIN(number))), '') AS system,"
        " (SELECT TOTAL(weight) FROM record r WHERE r.piece = c.piece AND r.kind = 'callback')"
        " AS callbacks FROM closing c JOIN piece p ON p.id = c.piece WHERE c.removed = 0)"
        " GROUP BY system ORDER BY back DESC, COUNT(*) DESC, system",
        &st, why);
    if (s) return s;
    READ(rows, n, st, most,
         (struct books_system){sql_column_text(b, st, 0, arena), sql_column_int(st, 1),
                               (int64_t)sql_column_real(st, 2)});
    *out_rows = rows, *out_n = n;
    return OK;
}

enum status books_hours(struct book *b, const char *piece, struct arena *arena,
                        struct books_hours **out_rows, size_t *out_n, struct why *why) {
    int64_t most;
    enum status s =
        sql_int(b, why, &most, "SELECT COUNT(*) FROM record WHERE piece = ?1", "t", piece);
    if (s) return s;
    struct books_hours *rows = arena_array(arena, (size_t)most + 1, sizeof *rows);
    sqlite3_stmt *st;
    size_t n;
    if (!rows) return why_no_memory(why);
    s = sql_prepare(b,
                    "SELECT operation, TOTAL(actual * weight) AS min FROM record"
                    " WHERE piece = ?1 AND kind = 'hours' GROUP BY operation"
                    " HAVING min > 0 ORDER BY MIN(number)",
                    &st, why);
    if (s) return s;
    sql_bind(st, "t", piece);
    READ(rows, n, st, most,
         (struct books_hours){sql_column_text(b, st, 0, arena), sql_column_real(st, 1)});
    *out_rows = rows, *out_n = n;
    return OK;
}
