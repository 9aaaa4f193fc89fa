/* The job book: one SQLite file, opened once a process.
 *
 * One writer connection under a mutex and a few reader connections; any thread may call. Every
 * access is a transaction (struct book): a reader sees one state from beginning to end, a writer's
 * changes are durable when store_commit returns OK (WAL, synchronous=FULL) and leave no trace
 * otherwise.
 *
 * A file of another kind, a damaged one and one of a newer program are refused and never written
 * to; a damaged one gives way to a copy when that is asked for. An older one is copied aside and
 * brought up to date (store/migrate.h). */
#ifndef STORE_STORE_H
#define STORE_STORE_H

#include "core/base/arena.h"
#include "core/base/status.h"

#include <stdbool.h>
#include <stdint.h>

enum {
    BOOK_VERSION = 7,             /* of the schema: user_version */
    BOOK_APPLICATION = 0x436f6174 /* "Coat": application_id of the file */
};

struct store;
struct book;

struct store_options {
    bool create;  /* make the book (and its folder) when there is none */
    bool serve;   /* hold the book's lock: a second server is refused with E_BUSY */
    bool no_copy; /* do not put a copy aside when the last is over 24 h old; serve: later, by
                     copy_daily */
    bool mend;    /* open a damaged book too: its copies can be listed and brought back
                     (store/copy.h), nothing else */
    int64_t now_utc_min;
    int busy_ms; /* how long to wait for another process; 0: 5,000 */
};

/* Opens the book.
 *
 *   path       the file; its copies lie in the folder PATH-copies beside it
 *   out_store  yours; store_close
 *
 * Errors: E_NOT_FOUND (no such file and create is off), E_NEWER, E_DAMAGED (not a book, or
 * garbage), E_BUSY (another server has it), E_IO (read-only, no space, no such folder), E_MEMORY.
 */
enum status store_open(const char *path, const struct store_options *options,
                       struct store **out_store, struct why *why);
void store_close(struct store *s); /* NULL is fine; no transaction may be open */

/* $XDG_DATA_HOME/coatwright/shop.book, else ~/.local/share/coatwright/shop.book. False when
 * neither is known or it is longer than cap. */
bool store_default_path(char *out, size_t cap);
const char *store_path(const struct store *s);

/* Begins reading: the book as it is now. End with store_read_end. Errors: E_BUSY, E_IO, E_DAMAGED.
 */
enum status store_read(struct store *s, struct book **out_book, struct why *why);
void store_read_end(struct book *b);

/* Begins one change, named after its operation; its revision is one above the last. End with
 * store_commit or store_rollback. Errors: E_BUSY, E_IO, E_DAMAGED. */
enum status store_write(struct store *s, const char *operation, int64_t now_utc_min,
                        struct book **out_book, struct why *why);
/* Errors: E_IO (no space, read-only, file gone), E_REFERENCE (something refers to nothing),
 * E_BUSY. The change is then taken back as by store_rollback. */
enum status store_commit(struct book *b, struct why *why);
void store_rollback(struct book *b);

int64_t book_revision(const struct book *b); /* of the state read, or of the change under way */
int64_t book_now(const struct book *b);      /* as given to store_write */
bool book_writes(const struct book *b);      /* begun by store_write */
struct store *book_store(const struct book *b);

/* What the change did, in words for the history; may be called once a change. */
enum status book_says(struct book *b, struct why *why, const char *fmt, ...)
    __attribute__((format(printf, 3, 4)));

#endif
