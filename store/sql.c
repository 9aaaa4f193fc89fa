#include "store/sql.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static const char settings[] = "PRAGMA foreign_keys = ON;"
                               "PRAGMA synchronous = FULL;"
                               "PRAGMA cell_size_check = ON;"
                               "PRAGMA temp_store = MEMORY;"
                               "PRAGMA cache_size = -16000;"
                               "PRAGMA journal_size_limit = 16777216;";

enum status sql_open(struct book *b, const char *path, int flags, int busy_ms, struct why *why) {
    int rc =
        sqlite3_open_v2(path, &b->db, flags | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE, NULL);
    if (rc) {
        enum status s = sql_error(b->db, rc, why);
        sqlite3_close(b->db);
        b->db = NULL;
        return s;
    }
    sqlite3_busy_timeout(b->db, busy_ms > 0 ? busy_ms : 5000);
    sqlite3_db_config(b->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    enum status s = sql_script(b, settings, why);
    if (s) sql_close(b);
    return s;
}

void sql_close(struct book *b) {
    for (size_t i = 0; i < SQL_CACHE; i++) {
        sqlite3_finalize(b->cache[i]);
        b->cache[i] = NULL;
    }
    b->cached = 0;
    sqlite3_close(b->db);
    b->db = NULL;
}

/* SQLite names "client.id" behind a colon, or an expression that begins with the column. */
struct place {
    char table[32], field[40]; /* words, "" unknown; a pointer, "" unknown */
};

static struct place place_of(const char *text) {
    struct place p = {"", ""};
    const char *at = strstr(text, "failed: ");
    char word[32], column[32];
    int n = at ? sscanf(at + strlen("failed: "), "%31[a-z_].%31[a-z_]", word, column) : 0;
    if (n == 2) {
        for (char *c = word; *c; c++)
            if (*c == '_') *c = ' ';
        snprintf(p.table, sizeof p.table, "%s", word);
    }
    if (n >= 1) snprintf(p.field, sizeof p.field, "/%s", n == 2 ? column : word);
    return p;
}

static enum status constraint_error(sqlite3 *db, int rc, struct why *why) {
    const char *text = db ? sqlite3_errmsg(db) : "";
    const struct place p = place_of(text);
    const char *column = p.field[0] ? p.field + 1 : "name";
    switch (rc) {
    case SQLITE_CONSTRAINT_UNIQUE:
    case SQLITE_CONSTRAINT_PRIMARYKEY:
        return why_say(why, E_DUPLICATE, p.field,
                       "There is already a %s with this %s in the book, maybe a removed one. Take "
                       "another.",
                       p.table[0] ? p.table : "row", column);
    case SQLITE_CONSTRAINT_FOREIGNKEY:
        return why_say(why, E_REFERENCE, "", "It refers to something that is not in the book.");
    case SQLITE_CONSTRAINT_NOTNULL:
        return why_say(why, E_MISSING, p.field, "The %s needs a %s.", p.table[0] ? p.table : "row",
                       column);
    case SQLITE_CONSTRAINT_TRIGGER:
        return why_say(why, E_CONFLICT, "", "That is kept as it is: %s.", text);
    default:
        return why_say(why, E_DOMAIN, p.field, "This is not a value that the book takes here.");
    }
}

enum status sql_error(sqlite3 *db, int rc, struct why *why) {
    switch (rc & 0xff) {
    case SQLITE_CONSTRAINT: return constraint_error(db, rc, why);
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return why_say(why, E_BUSY, "",
                       "Another program is writing to the book; try again in a moment.");
    case SQLITE_FULL:
        return why_say(why, E_IO, "",
                       "There is no space left for the book; nothing was written. Free some "
                       "space on the disk and try again.");
    case SQLITE_READONLY:
        return why_say(why, E_IO, "",
                       "The book's file may only be read; nothing was written. Make the file "
                       "and its folder writable.");
    case SQLITE_CANTOPEN:
        return why_say(why, E_IO, "",
                       "The book's file could not be opened. Check that its folder exists and "
                       "may be written to.");
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
        return why_say(why, E_DAMAGED, "",
                       "The book's file is damaged (%s). Bring the last copy back: coatwright "
                       "backups lists them, coatwright restore NAME brings one back (with --book "
                       "FILE where it is not the usual book).",
                       db ? sqlite3_errmsg(db) : "");
    case SQLITE_NOMEM: return why_no_memory(why);
    case SQLITE_TOOBIG: return why_say(why, E_TOO_LARGE, "", "That is too large for the book.");
    case SQLITE_MISMATCH:
        return why_say(why, E_TYPE, "", "A value is not of the kind that the book keeps there.");
    case SQLITE_INTERRUPT: return why_say(why, E_LIMIT, "", "The work was stopped.");
    default:
        return why_say(why, E_IO, "",
                       "The book's file could not be read or written (%s); nothing was changed.",
                       db ? sqlite3_errmsg(db) : sqlite3_errstr(rc));
    }
}

static size_t slot_of(const char *text) {
    size_t h = 1469598103934665603u;
    for (; *text; text++) h = (h ^ (unsigned char)*text) * 1099511628211u;
    return h;
}

static void cache_drop(struct book *b) {
    for (size_t i = 0; i < SQL_CACHE; i++) {
        if (!b->cache[i] || sqlite3_stmt_busy(b->cache[i])) continue;
        sqlite3_finalize(b->cache[i]);
        b->cache[i] = NULL;
        b->cached--;
    }
}

enum status sql_prepare(struct book *b, const char *text, sqlite3_stmt **out, struct why *why) {
    b->no_room = false;
    if (b->cached > SQL_CACHE * 3 / 4) cache_drop(b);
    size_t at = slot_of(text) % SQL_CACHE, free_at = SQL_CACHE;
    for (size_t tries = 0; tries < SQL_CACHE; tries++, at = (at + 1) % SQL_CACHE) {
        sqlite3_stmt *st = b->cache[at];
        if (!st) {
            free_at = at;
            break;
        }
        if (!sqlite3_stmt_busy(st) && !strcmp(sqlite3_sql(st), text)) {
            sqlite3_clear_bindings(st);
            *out = st;
            return OK;
        }
    }
    sqlite3_stmt *st = NULL;
    int rc = sqlite3_prepare_v3(b->db, text, -1, SQLITE_PREPARE_PERSISTENT, &st, NULL);
    if (rc || free_at == SQL_CACHE) {
        sqlite3_finalize(st);
        return sql_error(b->db, rc ? rc : SQLITE_NOMEM, why);
    }
    b->cache[free_at] = st;
    b->cached++;
    *out = st;
    return OK;
}

static void bind_list(sqlite3_stmt *st, const char *types, va_list ap) {
    for (int i = 1; types && *types; types++, i++) {
        if (*types == 't') {
            const char *s = va_arg(ap, const char *);
            sqlite3_bind_text(st, i, s, -1, SQLITE_STATIC);
        } else if (*types == 'i') {
            int64_t v = va_arg(ap, int64_t);
            if (v != INT64_MIN) sqlite3_bind_int64(st, i, v);
        } else {
            double v = va_arg(ap, double);
            if (!isnan(v)) sqlite3_bind_double(st, i, v);
        }
    }
}

void sql_bind(sqlite3_stmt *st, const char *types, ...) {
    va_list ap;
    va_start(ap, types);
    bind_list(st, types, ap);
    va_end(ap);
}

int sql_step(sqlite3_stmt *st) {
    int rc = sqlite3_step(st);
    if (rc != SQLITE_ROW) {
        int reset = sqlite3_reset(st);
        if (rc != SQLITE_DONE && reset) rc = reset;
    }
    return rc;
}

enum status sql_end(struct book *b, int rc, struct why *why) {
    if (rc != SQLITE_DONE) return sql_error(b->db, rc, why);
    return b->no_room ? why_no_memory(why) : OK;
}

enum status sql_do(struct book *b, struct why *why, const char *text, const char *types, ...) {
    sqlite3_stmt *st;
    enum status s = sql_prepare(b, text, &st, why);
    if (s) return s;
    va_list ap;
    va_start(ap, types);
    bind_list(st, types, ap);
    va_end(ap);
    int rc;
    while ((rc = sql_step(st)) == SQLITE_ROW) {
    }
    return rc == SQLITE_DONE ? OK : sql_error(b->db, rc, why);
}

enum status sql_int(struct book *b, struct why *why, int64_t *out, const char *text,
                    const char *types, ...) {
    sqlite3_stmt *st;
    enum status s = sql_prepare(b, text, &st, why);
    if (s) return s;
    va_list ap;
    va_start(ap, types);
    bind_list(st, types, ap);
    va_end(ap);
    int rc = sql_step(st);
    if (rc != SQLITE_ROW && rc != SQLITE_DONE) return sql_error(b->db, rc, why);
    *out = rc == SQLITE_ROW ? sql_column_int(st, 0) : INT64_MIN;
    sqlite3_reset(st);
    return OK;
}

enum status sql_script(struct book *b, const char *script, struct why *why) {
    int rc = sqlite3_exec(b->db, script, NULL, NULL, NULL);
    return rc ? sql_error(b->db, rc, why) : OK;
}

int64_t sql_column_int(sqlite3_stmt *st, int i) {
    return sqlite3_column_type(st, i) == SQLITE_NULL ? INT64_MIN : sqlite3_column_int64(st, i);
}

double sql_column_real(sqlite3_stmt *st, int i) {
    return sqlite3_column_type(st, i) == SQLITE_NULL ? (double)NAN : sqlite3_column_double(st, i);
}

const char *sql_column_text(struct book *b, sqlite3_stmt *st, int i, struct arena *a) {
    if (sqlite3_column_type(st, i) == SQLITE_NULL) return NULL;
    const char *text = arena_text(a, (const char *)sqlite3_column_text(st, i));
    if (!text) b->no_room = true;
    return text;
}
