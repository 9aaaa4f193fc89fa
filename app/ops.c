#include "app/op.h"

#include <string.h>

/* clang-format off */
/* One line a subject. */
#define SUBJECT_LIST(X) \
    X(accepted) \
    X(again) \
    X(batch) \
    X(batch_after) \
    X(books) \
    X(went) \
    X(calendar) \
    X(choices) \
    X(client) \
    X(color) \
    X(color_work) \
    X(copy) \
    X(days) \
    X(drill) \
    X(listing) \
    X(story) \
    X(help) \
    X(history) \
    X(import) \
    X(inspection) \
    X(job) \
    X(measure) \
    X(kept) \
    X(mixing) \
    X(money) \
    X(close) \
    X(owed) \
    X(picture) \
    X(part) \
    X(piece) \
    X(plan) \
    X(record) \
    X(replan) \
    X(sample) \
    X(schema) \
    X(shelf) \
    X(shelf_stock) \
    X(shelf_color) \
    X(shop) \
    X(sooner) \
    X(spectrum) \
    X(supply) \
    X(task) \
    X(today) \
    X(worth)
/* clang-format on */

#define DECLARE(name) extern const struct ops ops_##name;
SUBJECT_LIST(DECLARE)
#undef DECLARE

#define POINT(name) &ops_##name,
static const struct ops *const subjects[] = {SUBJECT_LIST(POINT)};
#undef POINT

enum { SUBJECTS = sizeof subjects / sizeof *subjects };

const char *op_method_name(enum op_method m) {
    static const char *const names[] = {[OP_GET] = "GET",
                                        [OP_POST] = "POST",
                                        [OP_PUT] = "PUT",
                                        [OP_PATCH] = "PATCH",
                                        [OP_DELETE] = "DELETE"};
    return names[m];
}

const struct ops *const *ops_all(size_t *out_n) {
    *out_n = SUBJECTS;
    return subjects;
}

const struct op *op_by_name(const char *words) {
    for (size_t i = 0; i < SUBJECTS; i++)
        for (size_t k = 0; k < subjects[i]->n; k++)
            if (!strcmp(subjects[i]->rows[k].name, words)) return &subjects[i]->rows[k];
    return NULL;
}
