/* Gloss in units, not in names: what one maker calls satin reads as eggshell at the next. */
#ifndef CORE_WORK_SHEEN_H
#define CORE_WORK_SHEEN_H

#include "core/work/job.h"

/* Level of a sheen by name, 1..7; 0 when nothing was said. Flat is G1, high gloss G7. */
int sheen_level(enum sheen s);

/* "satin", "semi-gloss", ...; NULL when nothing was said. */
const char *sheen_name(enum sheen s);

#endif
