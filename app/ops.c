#include "app/op.h"

#include <string.h>

/* One line a subject. */
extern const struct ops ops_client, ops_piece; /* the job book */
extern const struct ops ops_color, ops_plan, ops_schema;

static const struct ops *const subjects[] = {
    &ops_client,
    &ops_piece,
    &ops_color,
    &ops_plan,
    &ops_schema,
};

enum { SUBJECTS = sizeof subjects / sizeof *subjects };

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
