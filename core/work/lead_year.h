/* From which year on a coating counts as free of lead, by where the shop is.
 *
 * A place is known by its time zone; where no place is said, that of the United States is taken,
 * whose rules the cautions cite. Where nobody knows the year here, no age clears a piece. */
#ifndef CORE_WORK_LEAD_YEAR_H
#define CORE_WORK_LEAD_YEAR_H

#include "core/work/job.h"
#include "tables.h"

#include <stdint.h>

/* The first year (about), or INT64_MAX where none is known. out_source: id of data/sources.tsv, or
 * NULL if nobody asks. Source: data/lead_years.tsv. */
int64_t lead_year_of(const struct tables *t, const struct shop *s, const char **out_source);

#endif
