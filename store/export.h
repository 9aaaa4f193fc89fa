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

/* May this export be read into this book, and are its tables lists of rows? Errors: E_CONFLICT (the
 * book has entries), E_SYNTAX, E_TYPE, E_UNKNOWN_KEY, E_NEWER. */
enum status export_check(struct book *b, const char *text, struct why *why);

/* Calls value() with one column of each row of a table that has it; its first error ends it, with
 * the value's place in front of why's field. For texts that export_check has passed. */
typedef enum status export_value(void *ctx, const char *value, struct why *why);
enum status export_each(struct book *b, const char *text, const char *table, const char *column,
                        export_value *value, void *ctx, struct why *why);

/* Reads an export that export_check has passed. Errors: E_DOMAIN, E_DUPLICATE, E_MISSING, E_TYPE
 * and E_REFERENCE of a row that the book does not take; why's field is its table. */
enum status export_read(struct book *b, const char *text, struct why *why);

/* One table, row by row: first the column names, then each row's values as texts (NULL: unsaid). */
typedef void export_row(void *ctx, const char *const *values, size_t n);
enum status export_table(struct book *b, const char *table, export_row *row, void *ctx,
                         struct why *why);

#endif
