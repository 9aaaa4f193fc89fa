#include "store/answer.h"
#include "store/sql.h"

#include <string.h>

enum status answer_find(struct book *b, const char *key, const char *operation, const char *asked,
                        struct arena *arena, const char **out_result, int64_t *out_revision,
                        struct why *why) {
    sqlite3_stmt *st;
    enum status s = sql_prepare(
        b, "SELECT operation, asked, revision, result FROM answer WHERE key = ?1", &st, why);
    if (s) return s;
    sql_bind(st, "t", key);
    *out_result = NULL;
    int rc = sql_step(st);
    if (rc == SQLITE_DONE) return OK;
    if (rc != SQLITE_ROW) return sql_error(b->db, rc, why);
    bool same = !strcmp((const char *)sqlite3_column_text(st, 0), operation) &&
                !strcmp((const char *)sqlite3_column_text(st, 1), asked);
    *out_revision = sql_column_int(st, 2);
    *out_result = sql_column_text(b, st, 3, arena);
    sqlite3_reset(st);
    if (!same)
        return why_say(why, E_CONFLICT, "",
                       "This idempotency key was used for another request. Make a new key for "
                       "each thing that is to be done once.");
    return *out_result ? OK : why_no_memory(why);
}

enum status answer_keep(struct book *b, const char *key, const char *operation, const char *asked,
                        const char *result, struct why *why) {
    return sql_do(b, why,
                  "INSERT INTO answer(key, operation, asked, at_utc_min, revision, result)"
                  " VALUES(?1, ?2, ?3, ?4, ?5, ?6)",
                  "tttiit", key, operation, asked, book_now(b), book_revision(b), result);
}
