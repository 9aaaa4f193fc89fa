/* Fasteners by the wood that is free, and pulls against old holes. Lengths mm. */
#ifndef CORE_WORK_FASTENER_H
#define CORE_WORK_FASTENER_H

#include "core/work/job.h"
#include "tables.h"

#include <stdbool.h>

/* Longest fastener that holds a board of that thickness on wood of that depth: min(3 t, t + 0.75
 * d), and its point stays 1.5 mm short of the show face. Source: CP. */
double fastener_most_mm(double thickness_mm, double depth_mm);
/* For sheets (cane, fabric, thin panel): a third of the free wood, at most 3/8 in: 1/4 in where
 * 3/4 in is free. Source: CP. */
double fastener_sheet_most_mm(double depth_mm);
/* Longest stocked fastener of a kind that is not longer than `most`; NULL: none is short enough.
 * diameter_mm: of one gauge only; 0: any. */
const struct fasteners_row *fastener_stock(const struct tables *t, const char *kind, double most_mm,
                                           double diameter_mm);

/* Shortest stocked machine screw that goes through the wood and 4 mm into the pull; NULL: none. */
const struct fasteners_row *fastener_pull_screw(const struct tables *t, bool metric,
                                                double wood_mm);

enum pull_fit { PULL_FITS, PULL_LIMIT, PULL_COVERED, PULL_DRILL };

struct pull_judged {
    enum pull_fit fit;
    double off_mm;   /* difference of the spacings */
    double slack_mm; /* what the holes allow: hole - screw */
};

/* Do new pulls fit old holes? hole, screw: diameters; backplate: what a plate covers, 0: none. */
struct pull_judged fastener_pull(double old_mm, double new_mm, double hole_mm, double screw_mm,
                                 double backplate_mm);

/* The same for pulls as they were said: the usual hole and the usual screw of the spacing's system
 * where nothing was said, no plate. */
struct pull_judged fastener_pull_of(const struct tables *t, const struct fitting_pulls *p);
/* Spacings in eighths of an inch are American, the others metric. */
bool fastener_metric_spacing(double mm);

/* Glass of that size: weight at 2.5 kg/m2 for each mm. Source: EN572. */
double fastener_glass_g(double width_mm, double height_mm, double thickness_mm);

#endif
