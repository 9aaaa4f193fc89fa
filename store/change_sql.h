/* The SQL of the log, made from the columns that each table has (pragma table_info): triggers, a
 * row as JSON, a row from JSON, the contrary of a movement. Inside store/ only. */
#ifndef STORE_CHANGE_SQL_H
#define STORE_CHANGE_SQL_H

#include "store/store.h"

enum { CHANGE_TEXT_MAX = 16384 };
struct change_text {
    char at[CHANGE_TEXT_MAX];
    size_t n;
};
/* What does not fit is cut for good: a script that is cut does not parse, so it is not unseen. */
void change_text_add(struct change_text *s, const char *text);

/* Tables that are logged, NULL-terminated; an export has them in this order. */
extern const char *const change_tables[];
/* Is it one of those whose rows are never changed (BOOK_TABLES in store/rows.h)? */
bool change_adds_only(const char *table);

/* Adds json_object(...) over all columns of `row` (NEW, OLD, t). Reals keep all 17 digits. */
enum status change_row_json(struct book *b, const char *table, const char *row,
                            struct change_text *s, struct why *why);
/* Adds a condition: `row` is what the JSON text `json` says, apart from its revision and from
 * columns that only one of them has (the book was upgraded in between). */
enum status change_same_json(struct book *b, const char *table, const char *row, const char *json,
                             struct change_text *s, struct why *why);
/* Writes the row from its JSON; the revision is the present one. Columns that the JSON does not
 * name stay as they are. fresh: the row is not there; such columns get their default. */
enum status change_write_json(struct book *b, const char *table, int64_t number, const char *json,
                              bool fresh, struct why *why);
/* Adds an INSERT of all rows that the JSON text ?1 has under $.tables.TABLE. The shop's row is
 * replaced. */
enum status change_insert_from(struct book *b, const char *table, struct change_text *s,
                               struct why *why);
/* Hides the row (removed = 1), or deletes it where the table knows no such mark. */
enum status change_remove(struct book *b, const char *table, int64_t number, struct why *why);
/* Adds the row that takes a movement back. */
enum status change_contrary(struct book *b, const char *table, int64_t number, struct why *why);

#endif
