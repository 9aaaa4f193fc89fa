/* Parts of the work: what the price files its hours under, and what the hours on record are told
 * by. */
#ifndef CORE_WORK_WORK_PART_H
#define CORE_WORK_WORK_PART_H

#include "core/work/plan.h"
#include "tables.h"

enum work_part { /* in the order of the work */
                 WORK_TAKEDOWN,
                 WORK_REPAIRS,
                 WORK_SAMPLES, /* card, batch, test board */
                 WORK_PREPARE, /* all under the color */
                 WORK_COLOR,   /* effects too */
                 WORK_CLEAR,   /* wax too */
                 WORK_FINISH,
                 WORK_PARTS /* so many; of none of them */
};

const char *work_part_id(enum work_part p);   /* "takedown" */
const char *work_part_name(enum work_part p); /* "Inspection and take-down" */

enum work_part work_part_of_role(enum coat_role role);

/* Of an operation or repair by its row; WORK_PARTS: there is none of that id (NULL too). */
enum work_part work_part_of(const struct tables *t, const char *operation);

#endif
