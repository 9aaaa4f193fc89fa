/* What can be used only so long once it is mixed: powder and water, paint and hardener. */
#ifndef CORE_WORK_POT_H
#define CORE_WORK_POT_H

#include "core/work/fact.h"
#include "core/work/plan.h"

/* The can that a coat is made of alone; NULL: a mix of several, or none is named. */
const char *pot_product(const struct piece_plan *p, const struct coat *k);

/* Minutes for which what a coat is made of can be used once it is mixed: of several paints the one
 * that spoils first counts. NAN: as long as the can. */
double pot_life_min(const struct tables *t, const struct shelf *s, const struct piece_plan *p,
                    const struct coat *k);

/* Is a hardener in it, so that it sets in the cup, the roller and the gun as well? */
bool pot_hardens(const struct shelf *s, const struct piece_plan *p, const struct coat *k);

/* Pots that one coat of the row takes: more than 1 where the mix dies before the coat is on. */
double pot_portions(const struct tables *t, const struct shelf *s, const struct piece_plan *p,
                    const struct coat *k);

/* How often pots are mixed for the piece at least, beyond the batches of its colors: for each coat
 * anew where its film takes longer to dry than the mix lives (in portions, where it dies before the
 * coat is on), else once. The groups of a piece share one. */
double pot_mixings(const struct tables *t, const struct shelf *s, const struct piece_plan *p);

#endif
