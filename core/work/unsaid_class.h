/* What kind of paint a jar holds of which only the color was said.
 *
 * A jar without a class could go on nothing and into no mix, without a word; a painter who writes
 * down colors alone means the paints that are painted with. */
#ifndef CORE_WORK_UNSAID_CLASS_H
#define CORE_WORK_UNSAID_CLASS_H

#include "core/work/basis.h"
#include "core/work/job.h"
#include "tables.h"

/* A leftover is of the class of the first paint in it; any other jar with a color of the class of
 * which most color paints on the shelf are, waterborne enamel where there is none. What has neither
 * class nor color stays as it is. Cost: O(paints^2). */
void unsaid_classes(const struct tables *t, struct shelf *shelf);

/* Lists what was taken so, as assumptions at /shelf/paints/N/class. */
void unsaid_classes_list(const struct tables *t, const struct shelf *shelf, struct ledger *l);

#endif
