/* What the parts of the learning search share among themselves. */
#ifndef CORE_TIMETABLE_LEARN_INSIDE_H
#define CORE_TIMETABLE_LEARN_INSIDE_H

#include "core/timetable/learn.h"

enum { CLAUSE_HEAD = 3, NOBODY_NEEDS = INT32_MIN };
/* A clause in e->clauses: length, depth (number of levels), activity (float bits), literals. */
static inline struct lit *clause_lits(struct learn *e, int32_t at) {
    return (struct lit *)(void *)&e->clauses[at + CLAUSE_HEAD];
}

/* Place in e->watches of what is false once "form s at least k" holds. */
static inline int32_t watches_of(const struct learn *e, struct lit l) {
    int x = l.s >> 1;
    return l.s & 1 ? 2 * (e->first_lit[x] - l.k - e->base[x]) + 1
                   : 2 * (e->first_lit[x] + l.k - e->base[x] - 1);
}

/* Makes a literal hold for this reason; false: it contradicts, e->conflict says what. */
bool learn_put(struct learn *e, struct lit l, struct reason why);
/* Runs all consequences; false on conflict. */
bool learn_propagate(struct learn *e);
void learn_back(struct learn *e, int level);

/* Appends to e->out-like array what `why` of event `at` (or of a conflict, at = trail_n) needs
 * for the literal; returns how many. room for vars + 2 literals. */
int32_t learn_explain(struct learn *e, struct reason why, struct lit l, int32_t at,
                      struct lit *out);

/* From e->conflict to a clause in e->out (negated, the asserting literal first); *out_level: where
 * to go back to. false: contradiction at the root. */
bool learn_analyze(struct learn *e, int *out_level, int32_t *out_depth);

/* Adds the clause that forbids e->out and asserts its first literal's negation. */
bool learn_add_clause(struct learn *e, int32_t depth);
/* Form s came from `was` to `now`: looks at what watches it; false on conflict or without memory.
 */
bool learn_run_watches(struct learn *e, int32_t s, int32_t was, int32_t now);
void learn_reduce(struct learn *e); /* at the root: forgets half of what helped least */

void heap_insert(struct learn *e, int32_t literal);
void learn_bump(struct learn *e, struct lit l);

#endif
