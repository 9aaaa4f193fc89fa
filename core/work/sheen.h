/* Gloss in units, not in names: what one maker calls satin reads as eggshell at the next. */
#ifndef CORE_WORK_SHEEN_H
#define CORE_WORK_SHEEN_H

#include "core/work/job.h"

/* Levels G1..G7 that a reading falls into, as bits 1 << 1 .. 1 << 7; 0: between the levels.
 *
 *   gloss_60   gloss units at 60 degrees, >= 0
 *   sheen_85   at 85 degrees; NAN: not read (levels that need it are then taken by gloss alone)
 *
 * Adjoining levels share an edge and overlap (G3 10-25, G4 20-35), so that more than one may fit.
 * Source: MPI levels, ASTM D523. */
unsigned gloss_levels(double gloss_60, double sheen_85);

/* Level of a sheen by name, 1..7; 0 when nothing was said. Flat is G1, high gloss G7. */
int sheen_level(enum sheen s);

/* "satin", "semi-gloss", ...; NULL when nothing was said. */
const char *sheen_name(enum sheen s);

#endif
