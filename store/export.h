/* The whole book as text, and back: what a person can take elsewhere.
 *
 * The JSON form is {"format":"coatwright-book","version":N,"revision":N,"tables":{NAME:[ROWS]}}; a
 * row has the columns of store/schema.sql. Reals have 17 digits, so that a book that is read in
 * again is equal to the last bit. */
#ifndef STORE_EXPORT_H
#define STORE_EXPORT_H

#include "store/store.h"

/* Calls add() with piece after piece of the text. Errors: E_IO, E_DAMAGED. */
typedef void export_add(void *ctx, const char *text, size_t n);
enum status export_book(struct book *b, export_add *add, void *ctx, struct why *why);

/* Reads an export into a book that has no entries yet. Errors: E_CONFLICT (the book has entries),
 * E_SYNTAX, E_NEWER, E_REFERENCE. */
enum status export_read(struct book *b, const char *text, struct why *why);

/* One table, row by row: first the column names, then each row's values as texts (NULL: unsaid). */
typedef void export_row(void *ctx, const char *const *values, size_t n);
enum status export_table(struct book *b, const char *table, export_row *row, void *ctx,
                         struct why *why);

#endif
