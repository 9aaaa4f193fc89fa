/* Making the book's schema and bringing an older book up to date. */
#ifndef STORE_MIGRATE_H
#define STORE_MIGRATE_H

#include "store/store.h"

/* Makes the tables in an empty file, in one transaction. A second program that makes the same file
 * at the same moment finds it made. Errors: E_IO, E_BUSY. */
enum status migrate_create(struct book *b, int64_t now_utc_min, struct why *why);

/* Runs store/migrations/NNNN.sql above the book's version, each in its own transaction, after a
 * copy was put aside. Nothing to do on a book of this version. Errors: E_NEWER, E_DAMAGED (not a
 * book), E_IO. */
enum status migrate_forward(struct book *b, int64_t now_utc_min, struct why *why);

#endif
