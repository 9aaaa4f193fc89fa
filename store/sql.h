/* The only door to SQLite inside store/: connections, cached statements, errors as statuses. */
#ifndef STORE_SQL_H
#define STORE_SQL_H

#include "store/store.h"

#include <pthread.h>
#include <sqlite3.h>
#include <sys/types.h>

enum { SQL_CACHE = 256, STORE_READERS = 4 };

struct book {
    struct store *store;
    sqlite3 *db;
    sqlite3_stmt *cache[SQL_CACHE]; /* open addressing by text */
    size_t cached;
    bool writes, taken;
    bool no_room; /* a text of the statement at hand found no memory (sql_end) */
    int64_t revision, now_utc_min;
};

struct store {
    char *path;
    int lock_fd; /* -1: not held */
    int busy_ms;
    bool damaged; /* no connection is open: opened to be mended */
    dev_t device; /* of the file as opened, to notice that it was removed or replaced */
    ino_t inode;
    pthread_mutex_t write_lock, read_lock;
    pthread_cond_t read_free;
    struct book writer, readers[STORE_READERS];
};

/* Opens a connection with the book's settings. flags: SQLITE_OPEN_... Errors: E_IO, E_DAMAGED. */
enum status sql_open(struct book *b, const char *path, int flags, int busy_ms, struct why *why);
void sql_close(struct book *b);

/* Begins the file of a damaged store anew, as an empty book; no server may hold it. The caller has
 * kept what was there. Errors: E_BUSY, E_IO. */
enum status store_anew(struct store *s, int64_t now_utc_min, struct why *why);

/* The last error of the connection as status and sentence; rc is what SQLite returned. */
enum status sql_error(sqlite3 *db, int rc, struct why *why);

/* A statement, reset and without bindings; belongs to the connection. */
enum status sql_prepare(struct book *b, const char *text, sqlite3_stmt **out, struct why *why);

/* Binds from left to right: t const char * (NULL: NULL), i int64_t (INT64_MIN: NULL),
 * r double (NAN: NULL). Texts must live until the statement is reset. */
void sql_bind(sqlite3_stmt *st, const char *types, ...);

/* Prepares, binds, runs to the end. */
enum status sql_do(struct book *b, struct why *why, const char *text, const char *types, ...);
/* The first column of the first row; NULL or no row gives INT64_MIN. */
enum status sql_int(struct book *b, struct why *why, int64_t *out, const char *text,
                    const char *types, ...);
/* One row or none: SQLITE_ROW, SQLITE_DONE or an error code. */
int sql_step(sqlite3_stmt *st);
/* After the last step, rc: OK when that was all and there was memory for every text of it. */
enum status sql_end(struct book *b, int rc, struct why *why);

/* Several statements, for schema and pragmas. */
enum status sql_script(struct book *b, const char *script, struct why *why);

int64_t sql_column_int(sqlite3_stmt *st, int i); /* INT64_MIN for NULL */
double sql_column_real(sqlite3_stmt *st, int i); /* NAN for NULL */
/* NULL for NULL, and without memory: sql_end tells */
const char *sql_column_text(struct book *b, sqlite3_stmt *st, int i, struct arena *a);

#endif
