/* One book asked from the first line of a test to its last; the answer stays until the next. */
#ifndef TEST_UNIT_ASK_ONE_H
#define TEST_UNIT_ASK_ONE_H

#include "test/unit/ask.h"

static struct asker a;
static const char *answer; /* "" after a failure */

static inline enum status do_it(const char *name, const char *args) {
    enum status s = ask(&a, name, args, &answer);
    if (s) answer = "";
    return s;
}

/* The answer from there on; "" when it is not in it. */
static inline const char *from(const char *part) {
    const char *at = strstr(answer, part);
    return at ? at : "";
}

#endif
