/* What an answer changed in the plan of a piece, in words: findings, gates, steps, hours, price,
 * day. */
#ifndef APP_CHANGE_WORDS_H
#define APP_CHANGE_WORDS_H

#include "app/op.h"
#include "app/op_plan.h"

struct plan_change {
    const char *what; /* "Old finish", "Price", "Barrier coat: Shellac stain block, white" */
    const char *before, *after; /* in words; NULL: was not there, is no longer there */
};
extern const struct desc desc_plan_change;

/* Compares the first piece of two plans; both may be NULL (it could not be planned). The rows are
 * in the arena, at most `cap` of them, the weightiest first. */
enum status change_words(const struct plan_answer *before, const struct plan_answer *after,
                         enum unit_system units, struct arena *arena, struct plan_change **out_rows,
                         size_t *out_n, struct why *why);

#endif
