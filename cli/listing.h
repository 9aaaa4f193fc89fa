/* Any described result as people read it: lines of name and value, lists as tables. */
#ifndef CLI_LISTING_H
#define CLI_LISTING_H

#include "cli/paper.h"
#include "core/work/job.h"

void listing(struct paper *p, enum unit_system units, const struct desc *d, const void *in);

#endif
