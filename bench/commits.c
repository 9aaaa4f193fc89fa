/* Bare SQLite: how many commits a second one writer gets with WAL and synchronous=FULL, one small
 * row each.  commits FILE SECONDS */
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

int main(int argc, char **argv) {
    sqlite3 *db;
    sqlite3_stmt *add;
    long n = 0;
    double seconds = argc > 2 ? strtod(argv[2], NULL) : 2, begun;
    if (argc < 2 || sqlite3_open(argv[1], &db) != SQLITE_OK) return 1;
    if (sqlite3_exec(db,
                     "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;"
                     "CREATE TABLE t (id INTEGER PRIMARY KEY, text TEXT) STRICT;",
                     NULL, NULL, NULL) != SQLITE_OK ||
        sqlite3_prepare_v2(db, "INSERT INTO t (text) VALUES ('a piece of two hundred bytes')", -1,
                           &add, NULL) != SQLITE_OK)
        return 1;
    for (begun = now(); now() - begun < seconds; n++) {
        if (sqlite3_step(add) != SQLITE_DONE) return 1;
        sqlite3_reset(add);
    }
    printf("%.1f\n", (double)n / (now() - begun));
    sqlite3_finalize(add);
    sqlite3_close(db);
    return 0;
}
