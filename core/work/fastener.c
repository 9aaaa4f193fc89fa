#include "core/work/fastener.h"

#include "core/work/lookup.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

static const double POINT_MM = 1.5, SHEET_MOST_MM = 9.525, ENGAGE_MM = 4, HAIR_MM = 1e-6;
static const double GLASS_G_PER_MM3 = 2.5e-3;

double fastener_most_mm(double thickness_mm, double depth_mm) {
    double most = fmin(3 * thickness_mm, thickness_mm + .75 * depth_mm);
    return fmax(0, fmin(most, thickness_mm + depth_mm - POINT_MM));
}

double fastener_sheet_most_mm(double depth_mm) {
    return fmin(SHEET_MOST_MM, depth_mm / 3);
}

const struct fasteners_row *fastener_stock(const struct tables *t, const char *kind, double most_mm,
                                           double diameter_mm) {
    const double untold_mm = .05; /* no rule tells less: 19 mm are 3/4 in */
    const struct fasteners_row *best = NULL;
    for (size_t i = 0; i < t->fasteners_n; i++) {
        const struct fasteners_row *row = &t->fasteners[i];
        if (strcmp(row->kind, kind) || row->length_mm > most_mm + untold_mm) continue;
        if (diameter_mm > 0 && fabs(row->diameter_mm - diameter_mm) > .05) continue;
        if (!best || row->length_mm > best->length_mm) best = row;
    }
    return best;
}

const struct fasteners_row *fastener_pull_screw(const struct tables *t, bool metric,
                                                double wood_mm) {
    const char *kind = metric ? "machine_screw_m4" : "machine_screw";
    const struct fasteners_row *best = NULL;
    for (size_t i = 0; i < t->fasteners_n; i++) {
        const struct fasteners_row *row = &t->fasteners[i];
        if (strcmp(row->kind, kind) || row->length_mm < wood_mm + ENGAGE_MM - HAIR_MM) continue;
        if (!best || row->length_mm < best->length_mm) best = row;
    }
    return best;
}

struct pull_judged fastener_pull(double old_mm, double new_mm, double hole_mm, double screw_mm,
                                 double backplate_mm) {
    struct pull_judged j = {.off_mm = fabs(old_mm - new_mm), .slack_mm = hole_mm - screw_mm};
    const double limit = .02; /* closer to the edge than anybody drills */
    j.fit = j.off_mm < j.slack_mm - limit                  ? PULL_FITS
            : j.off_mm <= j.slack_mm + limit               ? PULL_LIMIT
            : backplate_mm >= j.off_mm + hole_mm - HAIR_MM ? PULL_COVERED
                                                           : PULL_DRILL;
    return j;
}

bool fastener_metric_spacing(double mm) {
    double eighths = mm / 3.175;
    return fabs(eighths - round(eighths)) > .02;
}

struct pull_judged fastener_pull_of(const struct tables *t, const struct fitting_pulls *p) {
    const double us_screw = 4.1656, m4 = 4, hole = figure(t, FIGURES_PULL_HOLE_MM);
    double usual = fastener_metric_spacing(p->new_spacing_mm) ? m4 : us_screw;
    return fastener_pull(p->old_spacing_mm, p->new_spacing_mm, p->hole_mm > 0 ? p->hole_mm : hole,
                         p->screw_gauge_mm > 0 ? p->screw_gauge_mm : usual,
                         p->backplate_mm > 0 ? p->backplate_mm : 0);
}

double fastener_glass_g(double width_mm, double height_mm, double thickness_mm) {
    return width_mm * height_mm * thickness_mm * GLASS_G_PER_MM3;
}
