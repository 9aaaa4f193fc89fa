/* Any described result as people read it: lines of name and value, lists as tables; the rows of a
 * list that is the answer itself stand without a heading. False: there was nothing to list. */
#ifndef CLI_LISTING_H
#define CLI_LISTING_H

#include "app/zone.h"
#include "cli/paper.h"
#include "core/work/job.h"

/* zone_n 0: the clock is not known, instants stand in UTC. */
struct listing_as {
    const struct tables *tables; /* ids of its rows are said by their names */
    enum unit_system units;      /* unsaid: nobody asked, and what was typed stands as typed */
    const struct zone_span *zone;
    size_t zone_n;
};
bool listing(struct paper *p, const struct listing_as *as, const struct desc *d, const void *in);

#endif
