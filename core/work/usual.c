#include "core/work/usual.h"

#include "core/base/units.h"

#include <limits.h>
#include <math.h>

static double step_mm(double mm, enum unit_system units) {
    if (units == UNITS_METRIC) return mm < 50 ? 1 : mm < 1000 ? 5 : 10;
    double in = mm / MM_PER_IN;
    return MM_PER_IN * (in < 1 ? .125 : in < 3 ? .25 : in < 12 ? .5 : 1);
}

double usual_length(double mm, enum unit_system units) {
    double step = step_mm(mm, units);
    return round(mm / step) * step;
}

static int64_t usual_count(int n) {
    return n == INT_MIN ? INT64_MIN : n;
}

void usual_sizes(const struct piece_templates_row *row, enum unit_system units, struct piece *out) {
    out->width_mm = usual_length(row->width_mm, units);
    out->depth_mm = usual_length(row->depth_mm, units);
    out->height_mm = usual_length(row->height_mm, units);
    out->thickness_mm = usual_length(row->thickness_mm, units);
    out->leg_mm = usual_length(row->leg_mm, units);
    out->opening_mm = usual_length(row->opening_mm, units);
    out->bow_mm = usual_length(row->bow_mm, units);
    out->drawers = usual_count(row->drawers);
    out->doors = usual_count(row->doors);
    out->shelves = usual_count(row->shelves);
    out->slats = usual_count(row->slats);
    out->legs = usual_count(row->legs);
}
