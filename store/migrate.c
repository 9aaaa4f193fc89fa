#include "store/migrate.h"
#include "store/change.h"
#include "store/copy.h"
#include "store/schema_text.h"
#include "store/sql.h"

#include <stdio.h>

static enum status mark_version(struct book *b, int version, struct why *why) {
    char text[96];
    snprintf(text, sizeof text, "PRAGMA application_id = %d; PRAGMA user_version = %d;",
             BOOK_APPLICATION, version);
    return sql_script(b, text, why);
}

static enum status make_tables(struct book *b, int64_t now_utc_min, struct why *why) {
    int64_t tables;
    enum status status = sql_int(b, why, &tables, "SELECT COUNT(*) FROM sqlite_schema", "");
    if (status || tables) return status; /* somebody else was faster */
    status = sql_script(b, schema_text, why);
    if (!status)
        status = sql_do(b, why, "INSERT INTO book(one, revision, made_utc_min) VALUES(1, 0, ?1)",
                        "i", now_utc_min);
    if (!status) /* before the log begins */
        status =
            sql_do(b, why, "INSERT INTO shop(number, revision, document) VALUES(1, 0, '{}')", "");
    if (!status) status = change_watch(b, why);
    if (!status) status = mark_version(b, BOOK_VERSION, why);
    return status;
}

/* The first bytes of the file must tell version and kind at once, so nothing stays in the log. */
static enum status settle(struct book *b, struct why *why) {
    return sql_script(b, "PRAGMA wal_checkpoint(TRUNCATE);", why);
}

enum status migrate_create(struct book *b, int64_t now_utc_min, struct why *why) {
    enum status status = sql_script(b, "PRAGMA journal_mode = WAL;", why);
    if (!status) status = sql_script(b, "BEGIN EXCLUSIVE;", why);
    if (status) return status;
    status = make_tables(b, now_utc_min, why);
    if (!status) status = sql_script(b, "COMMIT;", why);
    if (status) {
        sql_script(b, "ROLLBACK;", NULL);
        return status;
    }
    return settle(b, why);
}

static enum status check_references(struct book *b, struct why *why) {
    int64_t broken;
    enum status status =
        sql_int(b, why, &broken, "SELECT COUNT(*) FROM pragma_foreign_key_check", "");
    return status || !broken
               ? status
               : why_say(why, E_DAMAGED, "",
                         "%lld rows of the book refer to rows that are not there; it was not "
                         "brought up to date. Restore a copy.",
                         (long long)broken);
}

static enum status step_inside(struct book *b, int to, const char *script, struct why *why) {
    int64_t version;
    enum status status = sql_int(b, why, &version, "PRAGMA user_version", "");
    if (status || version >= to) return status; /* somebody else was faster */
    status = change_unwatch(b, why);
    if (!status) status = sql_script(b, script, why);
    if (!status) status = change_watch(b, why);
    if (!status) status = check_references(b, why);
    if (!status) status = mark_version(b, to, why);
    return status;
}

/* References are looked at once at the end: a table that is built anew is gone for a moment. */
static enum status step(struct book *b, int to, const char *script, struct why *why) {
    enum status status = sql_script(b, "PRAGMA foreign_keys = OFF; BEGIN EXCLUSIVE;", why);
    if (!status) status = step_inside(b, to, script, why);
    if (!status) status = sql_script(b, "COMMIT;", why);
    if (status && !sqlite3_get_autocommit(b->db)) sql_script(b, "ROLLBACK;", NULL);
    sql_script(b, "PRAGMA foreign_keys = ON;", NULL);
    return status;
}

enum status migrate_forward(struct book *b, int64_t now_utc_min, struct why *why) {
    int64_t version, application;
    enum status status = sql_int(b, why, &version, "PRAGMA user_version", "");
    if (!status) status = sql_int(b, why, &application, "PRAGMA application_id", "");
    if (status) return status;
    if (application != BOOK_APPLICATION || version < 1)
        return why_say(why, E_DAMAGED, "", "%.300s is not a job book.", store_path(book_store(b)));
    if (version > BOOK_VERSION)
        return why_say(why, E_NEWER, "",
                       "The book was written by a newer coatwright (book version %d); it was not "
                       "touched.",
                       (int)version);
    if (version == BOOK_VERSION) return OK;
    status = copy_aside(book_store(b), COPY_UPGRADE, now_utc_min, NULL, why);
    for (int to = (int)version + 1; !status && to <= BOOK_VERSION; to++)
        status = step(b, to, migration_texts[to], why);
    return status ? status : settle(b, why);
}
