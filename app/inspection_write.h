/* What a test of the inspection has shown, written into the piece's document. */
#ifndef APP_INSPECTION_WRITE_H
#define APP_INSPECTION_WRITE_H

#include "app/op.h"
#include "core/work/job.h"

struct test_args {
    const char *id, *test; /* piece, and row of data/tests.tsv */
    const char *answer;    /* row of data/test_answers.tsv, with or without the test in front; NULL:
                              the one that is typed */
    const char *value;     /* what is typed; NULL: nothing */
    bool skip, open;       /* not made; to be made again */
};

/* Changes *document (of the piece *p) by what was said; a new text in the arena.
 *
 * Errors: E_REFERENCE at /test or /answer, E_MISSING at /value (nothing is typed that must be),
 * E_MEMORY. What the piece takes for a value is not looked at here. */
enum status inspection_write(struct op_call *call, const struct test_args *a, const struct piece *p,
                             const char **document, struct why *why);

#endif
