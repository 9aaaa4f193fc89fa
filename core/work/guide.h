/* The guided inspection: every test of data/tests.tsv that concerns a piece, with its state, what
 * was answered and what may be answered (data/test_answers.tsv).
 *
 * The core never sees a document; what was said of a member is asked of the caller, as it was
 * typed. */
#ifndef CORE_WORK_GUIDE_H
#define CORE_WORK_GUIDE_H

#include "core/work/room.h"

enum test_state {
    TEST_UNSAID,
    TEST_NEXT,      /* the one worth making now */
    TEST_OPEN,      /* to be made after it */
    TEST_DONE,      /* answered */
    TEST_SKIPPED,   /* not made: what it would tell stays unknown and is planned for safely */
    TEST_WAITS,     /* hangs on an open test, or on somebody's answer (waits_for) */
    TEST_NOT_NEEDED /* what is known makes it superfluous */
};

struct guide_answer {
    const char *id, *name, *means, *source;
    const char *member; /* it is typed into this member ("tests.moisture"); NULL: a tap */
    bool chosen;        /* the document says it */
};

struct guide_test {
    const char *id, *name, *what, *see, *means, *source;
    const char *waits_for; /* "the laboratory", or NULL */
    enum rank rank;
    enum test_state state;
    const char *answer; /* what was answered, in words; NULL: nothing */
    const char *told;   /* what that answer means */
    struct guide_answer *answers;
    size_t answers_n;
};

/* What a document says of a member ("tests.rag"), as JSON text; NULL: nothing. */
struct guide_said {
    const char *(*of)(void *ctx, const char *member);
    void *ctx;
};

/* A piece as it can be judged before size, color and the rest are known: the template's usual size,
 * waterborne enamel where no color is wanted. *out borrows from *said. */
void piece_outline(const struct tables *t, enum unit_system units, const struct piece *said,
                   struct piece *out);

/* Lists the tests, in the order in which they are made, those that do not concern the piece left
 * out. A refused piece has none that is next or open: nothing is started on it.
 *
 *   room       with a completed piece (room->piece)
 *   in         its inspection
 *   out_tests  [*out_n] in the ledger's arena
 *
 * Errors: E_MEMORY. */
enum status guide_tests(const struct room *room, const struct inspection *in,
                        const struct guide_said *said, struct guide_test **out_tests,
                        size_t *out_n);

/* One part of a row's `sets`: "tests.rag=red". Walks the list; false at its end. value "?": typed,
 * "": taken out. */
struct guide_set {
    const char *member, *value;
    size_t member_n, value_n;
};
bool guide_set_next(const char **at, struct guide_set *out);

#endif
