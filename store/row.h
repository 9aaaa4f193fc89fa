/* Reading and writing rows of the book, driven by the tables of store/rows.h. */
#ifndef STORE_ROW_H
#define STORE_ROW_H

#include "store/rows.h"
#include "store/store.h"

void row_unsay(const struct book_table *t, void *out_row);

/* A new row; `number` and `revision` are set in *row. Errors: E_DUPLICATE (id), E_REFERENCE,
 * E_DOMAIN (a word or value that the table does not take), E_IO. */
enum status row_add(struct book *b, const struct book_table *t, void *row, struct why *why);

/* Writes all kept columns of the row with row->number; revision is set. Errors as row_add. */
enum status row_change(struct book *b, const struct book_table *t, void *row, struct why *why);

/* The row whose `column` (id, piece, number ...) is key. Errors: E_NOT_FOUND. */
enum status row_get(struct book *b, const struct book_table *t, const char *column, const char *key,
                    struct arena *arena, void *out_row, struct why *why);

/* A page of rows in order of entry.
 *
 *   where   SQL condition over the table's view, its ?1 ?2 ... bound to texts; "" for all. Always a
 *           literal of the program, never made from input.
 *   after   only rows behind this number; INT64_MIN: from the start
 *   limit   rows at most, 1..1000; 0: all
 *   down    newest first
 *   out_next  number to continue after; INT64_MIN: that was all */
struct row_query {
    const char *where;
    const char *texts[6];
    int64_t after, limit;
    bool down;
};
enum status row_list(struct book *b, const struct book_table *t, const struct row_query *q,
                     struct arena *arena, void **out_rows, size_t *out_n, int64_t *out_next,
                     struct why *why);

/* An id that is free in the table, made of a title: "Bow-front chest" -> bow-front-chest,
 * bow-front-chest-2. Errors: E_MEMORY, E_IO. */
enum status row_free_id(struct book *b, const struct book_table *t, const char *title,
                        struct arena *arena, const char **out_id, struct why *why);

#endif
