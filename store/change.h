/* What was changed: the log that triggers write, its history, and taking changes back. */
#ifndef STORE_CHANGE_H
#define STORE_CHANGE_H

#include "store/store.h"

/* Makes the triggers that log every table and keep the words for searching, and what
 * store/views.sql has; drops all triggers and views. */
enum status change_watch(struct book *b, struct why *why);
enum status change_unwatch(struct book *b, struct why *why);

struct change_row {
    int64_t revision, at_utc_min;
    const char *operation, *what;
    int64_t undoes, undone_by; /* revisions; INT64_MIN none */
    const char *subject;       /* table; NULL when the change wrote no row */
    int64_t row_number;
    const char *piece;
    const char *before, *after; /* JSON of the row; NULL: was or is not there */
};

/* Rows written, newest change first, in order of writing within a change; of the whole book's
 * changes the first 200 rows each.
 *   piece   only what belongs to this piece; NULL all
 *   below   only revisions under this one; INT64_MIN: from the newest
 *   changes at most so many changes */
enum status change_list(struct book *b, const char *piece, int64_t below, int64_t changes,
                        struct arena *arena, struct change_row **out_rows, size_t *out_n,
                        struct why *why);

/* What happened to one row after a revision: the row as it was then and as it is. NULL texts when
 * the log does not reach back. */
enum status change_since(struct book *b, const char *table, int64_t row_number, int64_t revision,
                         struct arena *arena, const char **out_then, const char **out_now,
                         const char **out_operation, struct why *why);

/* The newest change that is in effect and not an undo itself; INT64_MIN: there is none. */
enum status change_last(struct book *b, int64_t *out_revision, struct why *why);

/* Takes one change back within the change under way: rows get their former content, new rows are
 * removed, movements get a contrary row. Errors: E_NOT_FOUND (no such revision), E_CONFLICT (it was
 * taken back already, or a row was changed again since; why names it). */
enum status change_undo(struct book *b, int64_t revision, struct why *why);

#endif
