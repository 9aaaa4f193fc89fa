/* Cans of one paint: what the next can of a known paint takes from it.
 *
 * A painter buys the next can of a paint that they know. It is a jar of its own, with its own
 * stock, since another lot may differ a little; `can_of` names the paint that it is another can of.
 */
#ifndef CORE_WORK_CANS_H
#define CORE_WORK_CANS_H

#include "core/base/arena.h"
#include "core/base/status.h"
#include "core/work/job.h"

/* The first can of a paint: along `can_of` as far as the shelf knows it, p itself where it is none.
 * Cost: O(paints) a step. */
const struct paint *cans_first(const struct shelf *shelf, const struct paint *p);

/* What was not said of a can is said of the paint that it is a can of: class, color, sheen,
 * density, what a can holds and costs, its label, how it hides. Stock, day opened and note are its
 * own. */
void cans_fill(struct shelf *shelf);

/* Can it be another can of that? `of` NULL: there is no such paint.
 *
 *   at   pointer of the paint in the document
 *
 * Errors: E_REFERENCE, E_DOMAIN at AT/can_of: itself or in a circle, a leftover, of another class.
 */
enum status cans_check(const struct shelf *shelf, const struct paint *p, const char *at,
                       struct why *why);

#endif
