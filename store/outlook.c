#include "store/outlook.h"
#include "store/sql.h"

/* ?11, enum outlook_part: the days' part keeps what hangs on recipes, but for a price that was
 * said; the money's part keeps the rest, and is nothing where no days were planned yet. */
static const char same_sql[] =
    "SELECT COUNT(*) FROM piece_outlook WHERE piece = ?1"
    " AND (?11 = 2 OR (next_step IS ?3 AND next_task IS ?4 AND ready_utc_min IS ?8"
    " AND blocked_by IS ?9))"
    " AND (price_cent IS ?5 OR (?11 = 1 AND ?5 IS NULL))"
    " AND (?11 = 1 OR (cost_cent IS ?6 AND hours IS ?7 AND color_hex IS ?10)) AND (?2 OR 1)";
static const char keep_sql[] =
    "INSERT OR REPLACE INTO piece_outlook(piece, revision, next_step, next_task, price_cent, "
    "cost_cent, hours, ready_utc_min, blocked_by, color_hex) SELECT p.id,"
    " iif(?11 = 2, o.revision, ?2), iif(?11 = 2, o.next_step, ?3), iif(?11 = 2, o.next_task, ?4),"
    " iif(?11 = 1 AND ?5 IS NULL, o.price_cent, ?5), iif(?11 = 1, o.cost_cent, ?6),"
    " iif(?11 = 1, o.hours, ?7), iif(?11 = 2, o.ready_utc_min, ?8),"
    " iif(?11 = 2, o.blocked_by, ?9), iif(?11 = 1, o.color_hex, ?10)"
    " FROM piece p LEFT JOIN piece_outlook o ON o.piece = p.id"
    " WHERE p.id = ?1 AND (?11 <> 2 OR o.piece IS NOT NULL)";

static enum status run(struct book *b, const char *sql, const struct outlook *o, int64_t revision,
                       int64_t *out, struct why *why) {
    return sql_int(b, why, out, sql, "tittrrritti", o->piece, revision, o->next_step, o->next_task,
                   o->price_cent, o->cost_cent, o->hours, o->ready_utc_min, o->blocked_by,
                   o->color_hex, (int64_t)o->part);
}

enum status outlook_keep(struct store *s, const struct outlook *rows, size_t n, int64_t revision,
                         struct why *why) {
    pthread_mutex_lock(&s->write_lock);
    struct book *b = &s->writer;
    int64_t same, ignored;
    enum status status = OK;
    bool begun = false;
    for (size_t i = 0; i < n && !status; i++) {
        status = run(b, same_sql, &rows[i], revision, &same, why);
        if (status || same) continue;
        if (!begun) status = sql_do(b, why, "BEGIN IMMEDIATE", "");
        begun = true;
        if (!status) status = run(b, keep_sql, &rows[i], revision, &ignored, why);
    }
    if (begun && !status) status = sql_do(b, why, "COMMIT", "");
    if (!sqlite3_get_autocommit(b->db)) sql_do(b, NULL, "ROLLBACK", "");
    pthread_mutex_unlock(&s->write_lock);
    return status;
}
