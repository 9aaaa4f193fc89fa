/* The sizes of a usual piece as a maker of that shop would say them: 16 in, or 405 mm.
 *
 * data/piece_templates.tsv has each size once, in millimeters. A shop that works in inches would
 * read 15 31/32 in there, so what is offered and assumed is round in the shop's own units, and
 * computed with as it was shown. What somebody measured never comes here. */
#ifndef CORE_WORK_USUAL_H
#define CORE_WORK_USUAL_H

#include "core/work/room.h"

/* The round length next to `mm`, in mm: whole inches from 12 in on, halves from 3 in on, quarters
 * from 1 in on, eighths below; whole centimeters from 1 m on, half ones from 5 cm on, millimeters
 * below. NAN stays NAN; rounding twice changes nothing.
 * Source: common practice, how a rule is read for pieces, for boards. */
double usual_length(double mm, enum unit_system units);

/* Sets the sizes and counts of *out, and no other member; what the template has none of is unsaid.
 */
void usual_sizes(const struct piece_templates_row *row, enum unit_system units, struct piece *out);

#endif
