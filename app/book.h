/* What the operations on the job book share: lists, freshness, ids, documents as typed. */
#ifndef APP_BOOK_H
#define APP_BOOK_H

#include "app/op.h"
#include "store/row.h"

/* ---- lists ---- */

enum { LIST_DEFAULT = 200, LIST_MAX = 1000 };

struct list_args { /* each list describes the members that it knows */
    const char *after;
    int64_t limit;
    const char *stage, *client, *piece, *paint, *person, *kind, *q;
    bool documents;
    const char *id;
};
#define F_LIST_AFTER F_TEXT(struct list_args, after, "where the last page ended: its \"next\"")
#define F_LIST_LIMIT F_INT(struct list_args, limit, 1, LIST_MAX, "rows a page; 200 when not said")

struct list_answer {
    void *rows;
    size_t rows_n;
    const char *next; /* cursor; NULL: that was all */
};
#define F_ROWS(desc_of_row)                                                                        \
    F_LIST(struct list_answer, rows, desc_of_row, LIST_MAX, "the rows"),                           \
        F_TEXT(struct list_answer, next, "where the next page begins; missing: that was all")
#define F_REVISION(S) F_INT(S, revision, 0, 9e15, "the book's revision when it was last written")

/* Where a list goes on, as the "next" of the page before said it; NULL: from its beginning. */
enum status book_cursor(const char *text, int64_t *out, struct why *why);
/* Reads a page; q->after and q->limit come from the arguments. call->result is a list_answer. */
enum status book_list(struct op_call *call, const struct book_table *t, struct row_query *q,
                      const struct list_args *args, struct why *why);

/* Rows of a table, newest first, as views. where: as in row_query, ?1 being the piece that
 * call->args (struct list_args) name, or NULL. A view is view_size bytes and begins with its row;
 * `fill` does the rest. */
enum status book_views(struct op_call *call, const struct book_table *t, const char *where,
                       size_t view_size,
                       enum status (*fill)(struct op_call *call, void *view, struct why *why),
                       struct why *why);

/* ---- one row ---- */

struct id_args {
    const char *id;
};
extern const struct desc desc_id_args;
extern const char *const positional_id[];

struct done_answer { /* of an operation that has nothing else to tell */
    const char *id;
    int64_t revision;
};
extern const struct desc desc_done;

/* The row of that id which was not removed. Errors: E_NOT_FOUND. */
enum status book_get(struct op_call *call, const struct book_table *t, const char *id,
                     void *out_row, struct why *why);

/* E_STALE, saying what was changed, when the row was written after call->if_revision;
 * call->out_body is then the list of changes as JSON. */
enum status book_fresh(struct op_call *call, const struct book_table *t, const void *row,
                       struct why *why);

enum status book_fresh_row(struct op_call *call, const char *table, int64_t number,
                           int64_t revision, struct why *why);

/* What differs between two rows of a table, for people: pointers into the document where the row
 * has one ("/width", "/wanted/color"), else columns ("/stage"). Without what every change writes.
 */
struct difference_row;
enum status book_differences(struct op_call *call, const char *then, const char *now,
                             struct difference_row **out_rows, size_t *out_n, struct why *why);

/* Says in the history what this change did to a row: "title: width, finish". */
enum status book_says_changes(struct op_call *call, const char *table, int64_t number,
                              const char *title, struct why *why);

/* Writes a changed row: fresh, then row_change, then the history's words ("title: width, finish").
 */
enum status book_change(struct op_call *call, const struct book_table *t, void *row,
                        const char *title, struct why *why);

/* Marks a row as removed. call->result is a done_answer. */
enum status book_remove(struct op_call *call, const struct book_table *t, const char *id,
                        void *scratch_row, struct why *why);

/* ---- documents as typed ---- */

/* The id for a new row: the one its document says (must be free), else one made of its title. */
enum status book_new_id(struct op_call *call, const struct book_table *t, const char *said,
                        const char *title, const char **out_id, struct why *why);

/* base changed by patch (RFC 7396), checked against its description, read into *out (unsaid
 * before). `member` is the argument that holds it, for the pointer of errors: "/piece". */
enum status book_merge(struct op_call *call, const struct desc *d, const char *base,
                       const char *patch, const char *member, const char **out_document, void *out,
                       struct why *why);

/* Two patches in one, the second winning; `member` as above. */
enum status book_merge_patches(struct op_call *call, const char *first, const char *second,
                               const char **out_patch, const char *member, struct why *why);

/* A JSON object of texts as they were typed: name, value pairs, NULL values left out; a name with a
 * dot goes one level down ("wanted.color"). End with NULL. */
const char *book_typed(struct op_call *call, const char *name, ...);

/* "#rrggbb" of a color that was said; NULL when none was. */
struct color_said;
const char *book_hex(struct op_call *call, const struct color_said *c);

int64_t book_call_now(const struct op_call *call);

#endif
