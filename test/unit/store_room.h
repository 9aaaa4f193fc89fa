/* What the tests of the store begin with: rows written, read and committed in a book of their own.
 */
#ifndef TEST_UNIT_STORE_ROOM_H
#define TEST_UNIT_STORE_ROOM_H

#include "store/row.h"
#include "test/check.h"
#include "test/unit/temp_book.h"

static struct why why;
static struct arena arena;

static inline struct book *write_of(struct store *s, const char *operation) {
    struct book *b = NULL;
    if (store_write(s, operation, TEMP_NOW, &b, &why)) printf("write: %s\n", why.text);
    return b;
}

static inline struct paint_row paint_named(const char *id, double cost_cent) {
    struct paint_row p;
    row_unsay(&table_paint, &p);
    p.id = id, p.name = id, p.cost_cent = cost_cent, p.document = "{}";
    return p;
}

static inline struct paint_row paint_now(struct store *s, const char *id) {
    struct paint_row p;
    struct book *b;
    row_unsay(&table_paint, &p);
    if (store_read(s, &b, &why)) return p;
    if (row_get(b, &table_paint, "id", id, &arena, &p, &why)) printf("%s\n", why.text);
    store_read_end(b);
    return p;
}

static inline int64_t commit(struct book *b) {
    int64_t revision = book_revision(b);
    enum status status = store_commit(b, &why);
    if (status) printf("commit: %s\n", why.text);
    return status ? INT64_MIN : revision;
}

#endif
