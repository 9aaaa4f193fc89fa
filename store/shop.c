#include "store/shop.h"
#include "store/sql.h"

enum status shop_document(struct book *b, struct arena *arena, const char **out_document,
                          int64_t *out_revision, struct why *why) {
    sqlite3_stmt *st;
    enum status s =
        sql_prepare(b, "SELECT document, revision FROM shop WHERE number = 1", &st, why);
    if (s) return s;
    int rc = sql_step(st);
    if (rc == SQLITE_DONE)
        return why_say(why, E_DAMAGED, "", "The book has no shop. Restore a copy.");
    if (rc != SQLITE_ROW) return sql_error(b->db, rc, why);
    *out_document = sql_column_text(b, st, 0, arena);
    *out_revision = sql_column_int(st, 1);
    sqlite3_reset(st);
    return *out_document ? OK : why_no_memory(why);
}

enum status shop_write(struct book *b, const char *document, struct why *why) {
    return sql_do(b, why, "UPDATE shop SET document = ?1, revision = ?2 WHERE number = 1", "ti",
                  document, book_revision(b));
}
