/* What nobody has said, filled in with what is usual, and every such value listed. */
#ifndef CORE_WORK_COMPLETE_H
#define CORE_WORK_COMPLETE_H

#include "core/work/plan.h"

/* Copies of shop and piece with the general values filled in; what a template or a rule decides
 * (parts, thickness, products) is filled by its own room.
 *
 *   at   the piece's pointer in the document, "/pieces/0"
 *
 * Errors: E_MISSING (template or parts, a size, a wanted color or top), E_DOMAIN; field in why. */
enum status complete_shop(const struct tables *t, const struct shop *said, struct ledger *l,
                          struct shop *out, struct why *why);
enum status complete_piece(const struct tables *t, const struct piece *said, const char *at,
                           struct ledger *l, struct piece *out, struct why *why);

/* The smallest mark that is read well, where the shop does not say it: a quarter of a fluid ounce
 * or teaspoon, 5 ml, a gram of paint, a drop (common practice). */
double measure_usual_ml(enum measure m);

/* Why the smallest amount is not as the book has it (struct shop, smallest_was). */
const char *smallest_words(struct arena *a, const char *was);

#endif
