/* The inspection of a piece as people read it in a terminal. */
#ifndef APP_INSPECTION_TEXT_H
#define APP_INSPECTION_TEXT_H

#include "app/change_words.h"
#include "codec/document.h"
#include "core/work/guide.h"

extern const char *const words_test_state[]; /* of enum test_state */

struct guide_piece { /* the tests of one piece, and what the last answer changed */
    const char *piece, *title, *next, *refusal;
    int64_t revision;
    struct guide_test *tests;
    size_t tests_n;
    struct plan_change *changed;
    size_t changed_n;
};

/* Every test with its state and answer; of the next one what to do, and what may be answered. */
void inspection_print(struct text *t, const struct guide_piece *g, struct arena *arena);
/* What the answer changed in the plan. */
void inspection_changes_print(struct text *t, const struct guide_piece *g, struct arena *arena);

#endif
