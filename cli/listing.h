/* Any described result as people read it: lines of name and value, lists as tables; the rows of a
 * list that is the answer itself stand without a heading. False: there was nothing to list. */
#ifndef CLI_LISTING_H
#define CLI_LISTING_H

#include "cli/paper.h"
#include "core/work/job.h"

bool listing(struct paper *p, enum unit_system units, const struct desc *d, const void *in);

#endif
