/* What can go wrong with a coat: cause, cure and prevention, tied to the step at hand. */
#ifndef CORE_WORK_DEFECT_H
#define CORE_WORK_DEFECT_H

#include "core/work/plan.h"

/* Is the word one of those in the list (separated by spaces), or does the list say "any"? */
bool word_listed(const char *list, const char *word);

/* Word of a role as the tables write it: "clean", "spot_seal", "color", ... */
const char *role_word(enum coat_role role);

/* Rows of data/defects.tsv that concern a coat of this role and class (NULL: any class), in the
 * table's order. Writes at most cap borrowed rows to out; returns how many there are in all. */
size_t defects_of(const struct tables *t, enum coat_role role, const char *class,
                  const struct defects_row **out, size_t cap);

#endif
