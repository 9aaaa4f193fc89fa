/* Pulls, knobs and hinges. */
#include "core/base/units.h"
#include "core/work/fastener.h"
#include "core/work/fitting_build.h"
#include "core/work/lookup.h"
#include "core/work/wood.h"

#include <math.h>
#include <string.h>

/* A hinge screw goes three quarters into the door, after it has gone through the leaf. */
static const double LEAF_MM = 1.5;

static bool metric_spacing(const struct room *r, double mm) {
    for (size_t i = 0; i < r->t->pulls_n; i++)
        if (fabs(r->t->pulls[i].spacing_mm - mm) < .05)
            return !strcmp(r->t->pulls[i].system, "metric");
    return r->shop->units == UNITS_METRIC;
}

/* "old holes", and in a shop of inches their millimeters where they were made by those: an inch
 * that is rounded to its marks drills beside them. */
static const char *by_mm(const struct fits *f, const char *what, double mm) {
    bool whole = fabs(mm - round(mm)) < .01;
    if (!whole || f->r->shop->units == UNITS_METRIC || !metric_spacing(f->r, mm)) return what;
    return ROOM_TEXT(f->r, "%s (%.0f mm)", what, mm);
}

static void pulls_spacing(struct fits *f, const struct fitting_pulls *p) {
    struct pull_judged j = fastener_pull_of(f->r->t, p);
    static const char *const verdicts[] = {
        "New pulls fit the old holes", "At the limit of the old holes",
        "New holes behind a backplate that covers the old ones", "Fill the old holes, drill new"};
    const char *const details[] = {
        "The holes are wide enough for the difference.",
        "Try one before all are ordered; ease the hole inward with a round file.",
        "Drill from the face with a block behind; check that the plate covers every old hole.",
        ROOM_TEXT(f->r,
                  "Plug with dowel or epoxy, flush, before the primer; then drill by the template "
                  "from the face with a block behind. Measure the pull itself: it may miss its "
                  "nominal by %s.",
                  ledger_length(f->r->ledger, MM_PER_IN / 8))};
    double mm = p->new_spacing_mm;
    bool metric = fabs(mm - round(mm)) < 0.01 && f->r->shop->units != UNITS_METRIC;
    fit_line(f,
             (struct fitting_line){.id = "pull_spacing",
                                   .what = by_mm(f, "Pulls, center to center", p->new_spacing_mm),
                                   .verdict = verdicts[j.fit],
                                   .size_mm = p->new_spacing_mm,
                                   .other_mm = p->old_spacing_mm,
                                   .other = by_mm(f, "old holes", p->old_spacing_mm),
                                   .rank = j.fit == PULL_FITS ? RANK_NOTE : RANK_MIND,
                                   .detail = metric ? ROOM_TEXT(f->r, "%.0f mm: drill by that. %s",
                                                                mm, details[j.fit])
                                                    : details[j.fit],
                                   .source = "HARDWARE",
                                   .certainty = CERTAINTY_SECONDARY});
    struct basis *b = fit_explain(f, "fits when the difference is not more than hole less screw",
                                  "HARDWARE", CERTAINTY_EXACT);
    fit_input(f, b, "difference", j.off_mm);
    fit_input(f, b, "hole less screw", j.slack_mm);
    if (isnan(p->hole_mm))
        assume_number(f->r->ledger, ROOM_TEXT(f->r, "%s/fittings/pulls/hole", f->r->at),
                      figure(f->r->t, FIGURES_PULL_HOLE_MM), DIM_LENGTH,
                      "the usual drill for pulls", "CP");
}

/* Stocked spacings that sit in the old holes as they are: nothing to fill. */
static void pulls_alike(struct fits *f, const struct fitting_pulls *p) {
    const struct tables *t = f->r->t;
    const char *names = "";
    size_t n = 0;
    for (size_t i = 0; i < t->pulls_n; i++) {
        struct fitting_pulls other = *p;
        other.new_spacing_mm = t->pulls[i].spacing_mm;
        if (fastener_pull_of(f->r->t, &other).fit != PULL_FITS) continue;
        names = ROOM_TEXT(f->r, "%s%s%s", names, n++ ? ", " : "", t->pulls[i].name);
    }
    fit_line(f, (struct fitting_line){
                    .id = "pull_alike",
                    .what = "Pulls on the market that fit the old holes",
                    .verdict = n ? names : "None: fill and drill, or a backplate",
                    .size_mm = NAN,
                    .other_mm = p->old_spacing_mm,
                    .other = by_mm(f, "old holes", p->old_spacing_mm),
                    .rank = RANK_NOTE,
                    .detail = "Nothing to plug with these. Near misses are no fits: 3-3/4 in is "
                              "not 96 mm, 5 in is not 128 mm.",
                    .source = "HARDWARE",
                    .certainty = CERTAINTY_SECONDARY});
}

static void pulls_screw(struct fits *f, const struct fitting_pulls *p, bool metric) {
    double front = isnan(p->front_thickness_mm) ? f->r->piece->thickness_mm : p->front_thickness_mm;
    if (isnan(front)) return;
    const struct fasteners_row *screw = fastener_pull_screw(f->r->t, metric, front);
    if (isnan(p->front_thickness_mm))
        assume_number(f->r->ledger, ROOM_TEXT(f->r, "%s/fittings/pulls/front_thickness", f->r->at),
                      front, DIM_LENGTH, "as thick as the other boards", "CP");
    fit_line(f, (struct fitting_line){
                    .id = "pull_screw",
                    .what = p->holes == 1 ? "Screw of the knobs" : "Screws of the pulls",
                    .verdict = screw ? screw->name : "Longer than is stocked: cut from rod",
                    .size_mm = screw ? screw->length_mm : front + 6,
                    .other_mm = front,
                    .other = "what it goes through",
                    .rank = RANK_NOTE,
                    .detail = "8-32 and M4 do not interchange; the last turn by hand.",
                    .source = "HARDWARE",
                    .certainty = CERTAINTY_SECONDARY});
    struct basis *b = fit_explain(f, "shortest stocked length >= wood + 4 mm into the pull",
                                  "HARDWARE", CERTAINTY_SECONDARY);
    fit_input(f, b, "wood", front);
}

/* Wide drawers want two pulls; where there are old holes they decide. */
static void pulls_places(struct fits *f, const struct fitting_pulls *p) {
    const double two_mm = figure(f->r->t, FIGURES_ONE_RACKS_MM),
                 in_mm = figure(f->r->t, FIGURES_PULL_END_MM);
    double width = 0;
    if (p->old_spacing_mm > 0) return;
    for (size_t i = 0; i < f->p->surfaces.rows_n; i++) {
        const struct part *part = &f->p->surfaces.rows[i].part;
        if (part->shape && !strcmp(part->shape, "drawer_front"))
            width = fmax(width, part->size_mm[0]);
    }
    if (width < two_mm - 1e-9) return;
    fit_line(f, (struct fitting_line){.id = "pull_places",
                                      .what = "Pulls on one drawer",
                                      .verdict = "Two, one toward each end",
                                      .size_mm = in_mm,
                                      .other_mm = width,
                                      .other = "width of the front",
                                      .rank = RANK_NOTE,
                                      .detail = "About so far in from each end, or at a quarter "
                                                "of the width; on one pull in the middle a wide "
                                                "drawer racks. Old holes decide where there are "
                                                "any.",
                                      .source = "FIELD",
                                      .certainty = CERTAINTY_SECONDARY});
    fit_input(f, fit_explain(f, "two from 36 in of front on", "FIELD", CERTAINTY_SECONDARY),
              "front", width);
}

/* New pulls, and nobody has said which holes are there. */
static void pulls_anew(struct fits *f, const struct fitting_pulls *p) {
    fit_line(f, (struct fitting_line){
                    .id = "pull_spacing",
                    .what = by_mm(f, "Pulls, center to center", p->new_spacing_mm),
                    .verdict = "Fill the old hole, drill new",
                    .size_mm = p->new_spacing_mm,
                    .rank = RANK_MIND,
                    .detail = "Old holes were not said: taken as one for each, of a knob. Where "
                              "pulls were, measure their holes; new ones may fit them.",
                    .source = "CP",
                    .certainty = CERTAINTY_ASSUMED});
}

void fit_pulls_make(struct fits *f) {
    const struct fitting_pulls *p = &f->r->piece->fittings.pulls;
    bool spaced = p->old_spacing_mm > 0 && p->new_spacing_mm > 0;
    if (!(p->count > 0) && !(p->old_spacing_mm > 0) && !(p->new_spacing_mm > 0)) return;
    bool metric = p->new_spacing_mm > 0 ? metric_spacing(f->r, p->new_spacing_mm)
                                        : f->r->shop->units == UNITS_METRIC;
    if (p->screw_gauge_mm > 0) metric = fabs(p->screw_gauge_mm - 4) < .1;
    if (spaced && p->holes != 1) pulls_spacing(f, p);
    if (p->new_spacing_mm > 0 && isnan(p->old_spacing_mm) && p->holes != 1) pulls_anew(f, p);
    if (p->old_spacing_mm > 0 && p->holes != 1) pulls_alike(f, p);
    pulls_screw(f, p, metric);
    if (p->new_spacing_mm > 0) pulls_places(f, p);
}

void fit_hinges_make(struct fits *f) {
    const struct piece *p = f->r->piece;
    if (!(p->doors > 0) || isnan(p->thickness_mm)) return;
    const double gauge_6 = .138 * MM_PER_IN;
    const struct fasteners_row *screw =
        fastener_stock(f->r->t, "wood_screw", .75 * p->thickness_mm + LEAF_MM, gauge_6);
    bool hard = !f->wood || f->wood->hard;
    double pilot = wood_pilot_mm(gauge_6, hard);
    fit_line(f, (struct fitting_line){
                    .id = "hinge_screw",
                    .what = "Hinge screws",
                    .verdict = screw ? screw->name : "Too thin for hinge screws: through bolts",
                    .size_mm = screw ? screw->length_mm : NAN,
                    .other_mm = pilot,
                    .other = hard ? "pilot hole, hard wood" : "pilot hole, soft wood",
                    .rank = RANK_NOTE,
                    .detail = "The old gauge if the holes hold; one size longer, or a hardwood "
                              "plug, where they are stripped. Harder wood takes the larger hole.",
                    .source = "WH8",
                    .certainty = CERTAINTY_PUBLISHED});
    struct basis *b = fit_explain(f,
                                  "not more than 3/4 into the stile, and through the leaf; pilot "
                                  "70 % (soft) or 90 % (hard) of the root",
                                  "WH8", CERTAINTY_PUBLISHED);
    fit_input(f, b, "stile", p->thickness_mm);
    if (f->wood && screw)
        basis_number(f->r->ledger, b, "holds, with safety",
                     wood_screw_allowed_n(
                         wood_screw_n(f->wood->gravity, gauge_6, screw->length_mm * 2 / 3, false)),
                     DIM_FORCE);
}
