/* What is screwed, nailed, stapled, glazed and slid when the coats are dry. */
#include "core/base/units.h"
#include "core/work/cane.h"
#include "core/work/fact.h"
#include "core/work/fastener.h"
#include "core/work/room.h"
#include "core/work/wood.h"

#include <math.h>
#include <string.h>

static const double BUILD_UM = 165;                     /* primer, two colors, two clears */
static const double HUMID_RH = .80, HUMID_DEGC = 21.1;  /* a damp summer month indoors */
static const double ROLLS_MM[] = {457.2, 609.6, 914.4}; /* 18, 24, 36 in */

struct fits {
    const struct room *r;
    const struct piece_plan *p;
    struct fitting_plan *out;
    const struct species_row *wood;
};

static void line_add(struct fits *f, struct fitting_line line) {
    void *rows =
        ledger_grow(f->r->ledger, f->out->rows, f->out->n, &f->out->cap, sizeof *f->out->rows);
    if (!rows) return;
    f->out->rows = rows;
    f->out->rows[f->out->n++] = line;
}

/* Basis of the line that was added last. */
static struct basis *explain(struct fits *f, const char *rule, const char *source,
                             enum certainty certainty) {
    return ledger_basis(f->r->ledger,
                        ROOM_TEXT(f->r, "%s/fittings/%zu/size_mm", f->r->at, f->out->n - 1), rule,
                        source, certainty);
}

static void input(struct fits *f, struct basis *b, const char *name, double mm) {
    basis_number(f->r->ledger, b, name, mm, DIM_LENGTH);
}

/* ---- pulls and hinges ---- */

static bool metric_spacing(const struct room *r, double mm) {
    for (size_t i = 0; i < r->t->pulls_n; i++)
        if (fabs(r->t->pulls[i].spacing_mm - mm) < .05)
            return !strcmp(r->t->pulls[i].system, "metric");
    return r->shop->units == UNITS_METRIC;
}

static void pulls_spacing(struct fits *f, const struct fitting_pulls *p) {
    struct pull_judged j = fastener_pull_of(p);
    static const char *const verdicts[] = {
        "New pulls fit the old holes", "At the limit of the old holes",
        "New holes behind a backplate that covers the old ones", "Fill the old holes, drill new"};
    static const char *const details[] = {
        "The holes are wide enough for the difference.",
        "Try one before all are ordered; ease the hole inward with a round file.",
        "Drill from the face with a block behind; check that the plate covers every old hole.",
        "Plug with dowel or epoxy, flush, before the primer; then drill by the template from the "
        "face with a block behind. Measure the pull itself: it may miss its nominal by 1/8 in."};
    double mm = p->new_spacing_mm;
    bool metric = fabs(mm - round(mm)) < 0.01 && f->r->shop->units != UNITS_METRIC;
    line_add(f,
             (struct fitting_line){.id = "pull_spacing",
                                   .what = "Pulls, center to center",
                                   .verdict = verdicts[j.fit],
                                   .size_mm = p->new_spacing_mm,
                                   .other_mm = p->old_spacing_mm,
                                   .other = "old holes",
                                   .rank = j.fit == PULL_FITS ? RANK_NOTE : RANK_MIND,
                                   .detail = metric ? ROOM_TEXT(f->r, "%.0f mm: drill by that. %s",
                                                                mm, details[j.fit])
                                                    : details[j.fit],
                                   .source = "HARDWARE",
                                   .certainty = CERTAINTY_SECONDARY});
    struct basis *b = explain(f, "fits when the difference is not more than hole less screw",
                              "HARDWARE", CERTAINTY_EXACT);
    input(f, b, "difference", j.off_mm);
    input(f, b, "hole less screw", j.slack_mm);
    if (isnan(p->hole_mm))
        assume_number(f->r->ledger, ROOM_TEXT(f->r, "%s/fittings/pulls/hole", f->r->at), 4.7625,
                      DIM_LENGTH, "3/16 in, the usual drill for pulls", "CP");
}

/* Stocked spacings that sit in the old holes as they are: nothing to fill. */
static void pulls_alike(struct fits *f, const struct fitting_pulls *p) {
    const struct tables *t = f->r->t;
    const char *names = "";
    size_t n = 0;
    for (size_t i = 0; i < t->pulls_n; i++) {
        struct fitting_pulls other = *p;
        other.new_spacing_mm = t->pulls[i].spacing_mm;
        if (fastener_pull_of(&other).fit != PULL_FITS) continue;
        names = ROOM_TEXT(f->r, "%s%s%s", names, n++ ? ", " : "", t->pulls[i].name);
    }
    line_add(f, (struct fitting_line){
                    .id = "pull_alike",
                    .what = "Pulls on the market that fit the old holes",
                    .verdict = n ? names : "None: fill and drill, or a backplate",
                    .size_mm = NAN,
                    .other_mm = p->old_spacing_mm,
                    .other = "old holes",
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
    line_add(f, (struct fitting_line){
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
    struct basis *b = explain(f, "shortest stocked length >= wood + 4 mm into the pull", "HARDWARE",
                              CERTAINTY_SECONDARY);
    input(f, b, "wood", front);
}

/* Wide drawers want two pulls; where there are old holes they decide. */
static void pulls_places(struct fits *f, const struct fitting_pulls *p) {
    const double two_mm = 36 * 25.4, in_mm = 8 * 25.4;
    double width = 0;
    if (p->old_spacing_mm > 0) return;
    for (size_t i = 0; i < f->p->surfaces.rows_n; i++) {
        const struct part *part = &f->p->surfaces.rows[i].part;
        if (part->shape && !strcmp(part->shape, "drawer_front"))
            width = fmax(width, part->size_mm[0]);
    }
    if (width < two_mm - 1e-9) return;
    line_add(f, (struct fitting_line){.id = "pull_places",
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
    input(f, explain(f, "two from 36 in of front on", "FIELD", CERTAINTY_SECONDARY), "front",
          width);
}

static void pulls_make(struct fits *f) {
    const struct fitting_pulls *p = &f->r->piece->fittings.pulls;
    bool spaced = p->old_spacing_mm > 0 && p->new_spacing_mm > 0;
    if (!(p->count > 0) && !(p->old_spacing_mm > 0) && !(p->new_spacing_mm > 0)) return;
    bool metric = p->new_spacing_mm > 0 ? metric_spacing(f->r, p->new_spacing_mm)
                                        : f->r->shop->units == UNITS_METRIC;
    if (p->screw_gauge_mm > 0) metric = fabs(p->screw_gauge_mm - 4) < .1;
    if (spaced && p->holes != 1) pulls_spacing(f, p);
    if (p->old_spacing_mm > 0 && p->holes != 1) pulls_alike(f, p);
    pulls_screw(f, p, metric);
    if (p->new_spacing_mm > 0) pulls_places(f, p);
}

static void hinges_make(struct fits *f) {
    const struct piece *p = f->r->piece;
    if (!(p->doors > 0) || isnan(p->thickness_mm)) return;
    const double gauge_6 = .138 * MM_PER_IN;
    const struct fasteners_row *screw =
        fastener_stock(f->r->t, "wood_screw", .75 * p->thickness_mm, gauge_6);
    bool hard = !f->wood || f->wood->hard;
    double pilot = wood_pilot_mm(gauge_6, hard);
    line_add(f, (struct fitting_line){
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
    struct basis *b =
        explain(f, "not more than 3/4 of the stile; pilot 70 % (soft) or 90 % (hard) of the root",
                "WH8", CERTAINTY_PUBLISHED);
    input(f, b, "stile", p->thickness_mm);
    if (f->wood && screw)
        basis_number(f->r->ledger, b, "holds, with safety",
                     wood_screw_allowed_n(
                         wood_screw_n(f->wood->gravity, gauge_6, screw->length_mm * 2 / 3, false)),
                     DIM_FORCE);
}

/* ---- back panel, cane, fabric ---- */

static void back_make(struct fits *f) {
    const struct fittings *x = &f->r->piece->fittings;
    if (!(x->back_thickness_mm > 0)) return;
    double depth = isnan(x->back_depth_mm) ? f->r->piece->thickness_mm : x->back_depth_mm;
    if (isnan(depth)) depth = 19.05;
    double most = fastener_most_mm(x->back_thickness_mm, depth);
    const struct fasteners_row *brad = fastener_stock(f->r->t, "brad", most, 0);
    line_add(f, (struct fitting_line){.id = "back_brad",
                                      .what = "Brads for the back",
                                      .verdict = brad ? brad->name
                                                      : "No brad is short enough: glue and clamp",
                                      .size_mm = brad ? brad->length_mm : most,
                                      .other_mm = depth,
                                      .other = "wood behind it",
                                      .rank = RANK_NOTE,
                                      .detail = "The point stays 1/16 in short of the show face.",
                                      .source = "CP",
                                      .certainty = CERTAINTY_COMMON});
    struct basis *b = explain(f, "min(3 x thickness, thickness + 3/4 of the depth), rounded down",
                              "CP", CERTAINTY_COMMON);
    input(f, b, "thickness", x->back_thickness_mm);
    input(f, b, "depth", depth);
    if (!f->wood || !brad) return;
    double holds = wood_nail_allowed_n(f->wood->gravity, brad->diameter_mm,
                                       fmax(0, brad->length_mm - x->back_thickness_mm));
    basis_number(f->r->ledger, b, "each holds, with safety", holds, DIM_FORCE);
}

/* Does the gun get down to the ledge? Asked where nobody has measured. */
static void reach_make(struct fits *f, const struct fitting_panel *p) {
    bool known = p->reach_mm > 0 && p->rebate_mm > 0;
    bool gets = known && p->reach_mm >= p->rebate_mm - 1e-9;
    line_add(f, (struct fitting_line){
                    .id = "staple_reach",
                    .what = "The stapler's nose in the frame",
                    .verdict = !known ? "Not measured"
                               : gets ? "It gets down to the ledge"
                                      : "It does not get down to the ledge",
                    .size_mm = p->reach_mm > 0 ? p->reach_mm : NAN,
                    .other_mm = p->rebate_mm > 0 ? p->rebate_mm : NAN,
                    .other = "ledge below the frame",
                    .rank = gets ? RANK_NOTE : RANK_MIND,
                    .detail = !known ? "Measure how far the ledge lies below the frame (rebate) "
                                       "and how far down the nose of the stapler gets beside it "
                                       "(reach), and write both down."
                              : gets ? "Hold the nose flat on the ledge, or the crown stands up."
                                     : "Pin it by hand with a brad pusher, glue in a spline, or "
                                       "hold it with a bead; a staple shot from above stands "
                                       "askew.",
                    .source = "CP",
                    .certainty = CERTAINTY_COMMON});
    struct basis *b =
        explain(f, "the nose must get as far down as the ledge lies", "CP", CERTAINTY_COMMON);
    input(f, b, "reach", p->reach_mm);
    input(f, b, "rebate", p->rebate_mm);
}

static void staple_make(struct fits *f, const struct fitting_panel *p) {
    if (!(p->depth_mm > 0)) return;
    double most = fastener_sheet_most_mm(p->depth_mm);
    const struct fasteners_row *staple = fastener_stock(f->r->t, "staple", most, 0);
    bool close = !staple && p->depth_mm >= 9;
    if (close) staple = fastener_stock(f->r->t, "staple", 6.35, 0);
    line_add(f, (struct fitting_line){
                    .id = "staple",
                    .what = ROOM_TEXT(f->r, "Staples for the %s", p->kind ? p->kind : "panel"),
                    .verdict = staple ? staple->name : "No room for a staple: spline or bead",
                    .size_mm = staple ? staple->length_mm : most,
                    .other_mm = p->depth_mm,
                    .other = "wood free behind it",
                    .rank = close || !staple ? RANK_MIND : RANK_NOTE,
                    .detail = "Its nose takes about 1/2 in beside the staple.",
                    .source = "CP",
                    .certainty = CERTAINTY_COMMON});
    input(f, explain(f, "a third of the free wood, at most 3/8 in", "CP", CERTAINTY_COMMON),
          "free wood", p->depth_mm);
    if (staple) reach_make(f, p);
}

static enum cane_hold hold_of(const struct fitting_panel *p) {
    if (p->hold) return strcmp(p->hold, "staple") ? CANE_SPLINE : CANE_STAPLE;
    return p->groove_mm > 0 ? CANE_SPLINE : CANE_STAPLE;
}

static void spline_make(struct fits *f, const struct fitting_panel *p) {
    bool groove = p->groove_mm > 0;
    line_add(f,
             (struct fitting_line){.id = "spline",
                                   .what = "Spline, length of one opening",
                                   .verdict = "Soak 2 min; miter the corners",
                                   .size_mm = cane_spline_mm(p->width_mm, p->height_mm),
                                   .other_mm = groove ? cane_spline_width_mm(p->groove_mm) : NAN,
                                   .other = groove ? "spline width" : NULL,
                                   .rank = RANK_NOTE,
                                   .detail = "Loose in the groove when dry: cane sits in it too.",
                                   .source = "CANE",
                                   .certainty = CERTAINTY_SECONDARY});
    explain(f, "twice width and height, and 12 in to spare", "CANE", CERTAINTY_SECONDARY);
}

static void cane_make(struct fits *f, const struct fitting_panel *p) {
    bool stapled = hold_of(p) == CANE_STAPLE;
    double soak = cane_soak_min(hold_of(p));
    line_add(f, (struct fitting_line){
                    .id = "cane_sheet",
                    .what = ROOM_TEXT(f->r, "Cane sheet, %lld of them",
                                      (long long)(p->count > 0 ? p->count : 1)),
                    .verdict = ROOM_TEXT(f->r, "Soak %g min, %s", soak,
                                         stapled ? "weighted under water; pull firm"
                                                 : "warm; leave 1/2 in of play"),
                    .size_mm = cane_sheet_mm(p->width_mm),
                    .other_mm = cane_sheet_mm(p->height_mm),
                    .other = "height as cut",
                    .rank = RANK_NOTE,
                    .detail = stapled ? "Staple from a corner, sides in turn, no play. Dry a day "
                                        "or two before it is sat on or painted."
                                      : "Wedges, then spline with hide glue in the groove, not in "
                                        "the cane; it tightens drying. Dry 24 to 48 h.",
                    .source = "CANE",
                    .certainty = CERTAINTY_SECONDARY});
    struct basis *b = explain(f, "opening and 40 mm on each side", "CANE", CERTAINTY_SECONDARY);
    input(f, b, "opening", p->width_mm);
    if (stapled)
        staple_make(f, p);
    else
        spline_make(f, p);
}

/* Every sheet of cane that the piece takes; NULL: none or no memory. */
static struct cane_sheet *sheets_of(struct fits *f, size_t *out_n) {
    const struct fittings *x = &f->r->piece->fittings;
    size_t n = 0, k = 0;
    for (int pass = 0; pass < 2; pass++) {
        struct cane_sheet *sheets =
            pass ? arena_array(f->r->ledger->arena, n, sizeof *sheets) : NULL;
        if (pass && !sheets) return NULL;
        for (size_t i = 0; i < x->panels_n; i++) {
            const struct fitting_panel *p = &x->panels[i];
            if (!p->kind || strcmp(p->kind, "cane")) continue;
            for (int64_t c = 0; c < (p->count > 0 ? p->count : 1); c++) {
                if (!pass)
                    n++;
                else
                    sheets[k++] = (struct cane_sheet){cane_sheet_mm(p->width_mm),
                                                      cane_sheet_mm(p->height_mm)};
            }
        }
        if (!n || pass) return *out_n = n, sheets;
    }
    return NULL;
}

/* Length of one roll width for all sheets; INFINITY when one is wider. */
static double roll_length(struct fits *f, double roll_mm, struct cane_sheet *sheets, size_t n) {
    double length, *left = arena_array(f->r->ledger->arena, n, sizeof *left);
    if (!left) return INFINITY;
    enum status s = n <= CANE_SHEETS ? cane_cut(roll_mm, sheets, n, &length)
                                     : cane_cut_many(roll_mm, sheets, n, left, &length);
    return s ? INFINITY : length;
}

/* All cane sheets of the piece on the roll width that wastes least. */
static void roll_make(struct fits *f) {
    size_t n = 0;
    struct cane_sheet *sheets = sheets_of(f, &n);
    double sheet_area = 0, best_area = INFINITY, best_width = NAN, best_length = NAN;
    if (!sheets) return;
    for (size_t i = 0; i < n; i++) sheet_area += sheets[i].width_mm * sheets[i].height_mm;
    for (size_t i = 0; i < sizeof ROLLS_MM / sizeof *ROLLS_MM; i++) {
        double length = roll_length(f, ROLLS_MM[i], sheets, n);
        if (!(length * ROLLS_MM[i] < best_area - 1e-6)) continue;
        best_area = length * ROLLS_MM[i], best_width = ROLLS_MM[i], best_length = length;
    }
    bool proven = n <= CANE_SHEETS, fits = isfinite(best_area);
    line_add(
        f, (struct fitting_line){.id = "cane_roll",
                                 .what = "Cane from the roll",
                                 .verdict = fits ? ROOM_TEXT(f->r, "%.0f %% is left as waste",
                                                             100 * (1 - sheet_area / best_area))
                                                 : "Wider than any roll: order it woven to size",
                                 .size_mm = best_length,
                                 .other_mm = best_width,
                                 .other = "roll width",
                                 .rank = fits ? RANK_NOTE : RANK_MIND,
                                 .detail = "Pattern along the roll; strips cut across, then apart.",
                                 .source = "CANE",
                                 .certainty = CERTAINTY_EXACT});
    if (!fits) return;
    struct basis *b = explain(f,
                              proven ? "least area over 18, 24 and 36 in rolls and all layouts in "
                                       "strips: proven"
                                     : "least area over 18, 24 and 36 in rolls, tallest sheets "
                                       "first: good, not proven",
                              "CANE", CERTAINTY_EXACT);
    basis_number(f->r->ledger, b, "sheets", (double)n, DIM_NONE);
}

/* ---- glass ---- */

/* The row of data/glass.tsv for an opening: the thinnest whose size it is not beyond. */
static const struct glass_row *glass_for(const struct tables *t, bool mirror, double area_m2) {
    static const char *const uses[2][2] = {{"small_door", "large_door"},
                                           {"large_door", "large_mirror"}};
    const struct glass_row *row = NULL;
    for (size_t k = 0; k < 2; k++) {
        for (size_t i = 0; i < t->glass_n; i++)
            if (!strcmp(t->glass[i].id, uses[mirror][k])) row = &t->glass[i];
        if (row && area_m2 <= row->largest_m2) break;
    }
    return row;
}

static void glass_make(struct fits *f, const struct fitting_panel *p, size_t at) {
    const double clearance = 3, handled_g = 10000, tolerance_mm = .5;
    double area = p->width_mm * p->height_mm * 1e-6;
    bool mirror = p->kind && !strcmp(p->kind, "mirror");
    const struct glass_row *usual = glass_for(f->r->t, mirror, area);
    double thick = isnan(p->thickness_mm) ? (usual ? usual->thickness_mm : 3.2) : p->thickness_mm;
    double weight = fastener_glass_g(p->width_mm, p->height_mm, thick);
    bool thin = usual && thick < usual->thickness_mm - tolerance_mm;
    if (isnan(p->thickness_mm))
        assume_number(f->r->ledger,
                      ROOM_TEXT(f->r, "%s/fittings/panels/%zu/thickness", f->r->at, at), thick,
                      DIM_LENGTH, usual ? usual->name : "usual", "CP");
    line_add(f, (struct fitting_line){
                    .id = "glass",
                    .what = mirror ? "Mirror" : "Glass",
                    .verdict = ROOM_TEXT(
                        f->r, "%.1f kg (%.1f lb) each%s", weight / 1000, weight / G_PER_LB,
                        thin ? ROOM_TEXT(f->r, "; thin for its size: %g mm is usual",
                                         usual->thickness_mm)
                             : ""),
                    .size_mm = p->width_mm - clearance,
                    .other_mm = p->height_mm - clearance,
                    .other = "height as cut",
                    .rank = thin || weight > handled_g ? RANK_MIND : RANK_NOTE,
                    .detail = "1/8 in smaller than the rebate each way, nothing pressed. Tempered "
                              "glass cannot be cut later; laminated where children reach.",
                    .source = "EN572",
                    .certainty = CERTAINTY_MEMORY});
    struct basis *b =
        explain(f, "rebate less 3 mm; weight 2.5 kg/m2 for each mm", "EN572", CERTAINTY_MEMORY);
    input(f, b, "thickness", thick);
    if (usual) basis_word(f->r->ledger, b, "usual for", usual->name);
    basis_number(f->r->ledger, b, "weight", weight, DIM_MASS);
}

static enum status panels_make(struct fits *f, struct why *why) {
    const struct fittings *x = &f->r->piece->fittings;
    for (size_t i = 0; i < x->panels_n; i++) {
        const struct fitting_panel *p = &x->panels[i];
        if (!(p->width_mm > 0 && p->height_mm > 0))
            return why_say(why, E_MISSING,
                           ROOM_TEXT(f->r, "%s/fittings/panels/%zu/width", f->r->at, i),
                           "Width and height of the opening are needed.");
        const char *kind = p->kind ? p->kind : "panel";
        if (!strcmp(kind, "cane"))
            cane_make(f, p);
        else if (!strcmp(kind, "glass") || !strcmp(kind, "mirror"))
            glass_make(f, p, i);
        else
            staple_make(f, p);
    }
    roll_make(f);
    return OK;
}

/* ---- what slides ---- */

struct clearance {
    double film_mm, swell_mm, left_mm;
    bool outside; /* of the range of the swelling equation */
};

static struct clearance clearance_of(const struct fits *f, const struct fitting_slide *s,
                                     double build_um) {
    const struct shop *shop = f->r->shop;
    double coefficient = !f->wood                                   ? .00369
                         : s->grain && !strcmp(s->grain, "quarter") ? f->wood->radial
                                                                    : f->wood->tangential;
    double degc = isnan(shop->day_degc) ? 20 : shop->day_degc;
    double rh = isnan(shop->humidity_frac) ? .5 : fmin(.95, fmax(.05, shop->humidity_frac));
    double now = wood_emc_frac(degc, rh), humid = wood_emc_frac(HUMID_DEGC, HUMID_RH);
    struct clearance c = {.film_mm = 2 * build_um / 1000};
    if (s->height_mm > 0)
        c.swell_mm = fmax(0, wood_move_mm(s->height_mm, coefficient, now, humid, &c.outside));
    c.left_mm = s->gap_mm - c.film_mm - c.swell_mm;
    return c;
}

/* A small length in words: thousandths of an inch, or hundredths of a millimeter. */
static const char *small(const struct fits *f, double mm) {
    return f->r->shop->units == UNITS_METRIC ? ROOM_TEXT(f->r, "%.2f mm", mm)
                                             : ROOM_TEXT(f->r, "%.3f in", mm / MM_PER_IN);
}

/* "drawer fronts" rather than the id of the part. */
static const char *slide_name(const struct fits *f, const struct fitting_slide *s) {
    const struct surfaces *u = &f->p->surfaces;
    for (size_t i = 0; s->part && i < u->rows_n; i++)
        if (u->rows[i].part.id && !strcmp(u->rows[i].part.id, s->part) && u->rows[i].part.name)
            return u->rows[i].part.name;
    return s->part ? s->part : "sliding part";
}

/* A gap that nobody measured is taken as the usual one, and listed as taken. */
static void slide_make(struct fits *f, const struct fitting_slide *said, size_t row) {
    const double usual_gap = MM_PER_IN / 16;
    struct fitting_slide slide = *said, *s = &slide;
    if (!(s->gap_mm >= 0)) {
        s->gap_mm = usual_gap;
        assume_number(f->r->ledger, ROOM_TEXT(f->r, "%s/fittings/slides/%zu/gap", f->r->at, row),
                      usual_gap, DIM_LENGTH, "usual gap per side of an inset drawer; measure it",
                      "CP");
    }
    double build = f->p->coats.film_um > 0 ? f->p->coats.film_um : BUILD_UM;
    struct clearance c = clearance_of(f, s, build);
    double dry_left = s->gap_mm - c.film_mm;
    bool sticks = c.left_mm < 0, tight = c.left_mm < .4;
    line_add(f,
             (struct fitting_line){
                 .id = "clearance",
                 .what = ROOM_TEXT(f->r, "Gap left beside the %s, painted and in a damp month",
                                   slide_name(f, s)),
                 .verdict = dry_left < 0 ? "Sticks at once: paint alone fills the gap"
                            : sticks     ? "Will stick in a damp month"
                            : tight      ? "Tight in a damp month"
                                         : "Slides",
                 .size_mm = c.left_mm,
                 .other_mm = s->gap_mm,
                 .other = "gap before",
                 .rank = sticks || tight ? RANK_MIND : RANK_NOTE,
                 .detail = ROOM_TEXT(
                     f->r, "Paint takes %s of it (%.0f %%), swelling %s. %s%s", small(f, c.film_mm),
                     s->gap_mm > 0 ? 100 * c.film_mm / s->gap_mm : 100, small(f, c.swell_mm),
                     tight ? "Leave sides and runners bare, paint fronts and edges thin, plane "
                             "before painting, not after. Sticking in summer is wood, not paint."
                           : "Wax the runners.",
                     c.outside ? " The swelling equation is stretched beyond 14 % moisture." : ""),
                 .source = "WH13",
                 .certainty = CERTAINTY_PUBLISHED});
    struct basis *b =
        explain(f,
                "gap - film on both faces - height x coefficient x change of moisture (to 80 % "
                "humidity)",
                "WH13, table 13-5; WH4, eq. 4-5", CERTAINTY_PUBLISHED);
    input(f, b, "film on both faces", c.film_mm);
    input(f, b, "swelling", c.swell_mm);
    basis_word(f->r->ledger, b, "wood", f->wood ? f->wood->name : "not known, a lively one");
}

/* Nobody has measured a gap: what the drawers will need above them, so that it can be looked at
 * before painting. A drawer stands on its runners and grows upward. */
static void drawers_need(struct fits *f) {
    const struct surfaces *s = &f->p->surfaces;
    if (f->r->piece->fittings.slides_n) return;
    for (size_t i = 0; i < s->rows_n; i++) {
        const struct part *part = &s->rows[i].part;
        if (!part->shape || strcmp(part->shape, "drawer_front") || !(part->size_mm[1] > 0))
            continue;
        double build = f->p->coats.film_um > 0 ? f->p->coats.film_um : BUILD_UM;
        struct fitting_slide high = {.part = part->id, .gap_mm = 0, .height_mm = part->size_mm[1]};
        struct clearance c = clearance_of(f, &high, build);
        if (!(c.swell_mm > 0)) return; /* metal takes up no water */
        line_add(f, (struct fitting_line){
                        .id = "clearance_needed",
                        .what = "Gap that the drawer fronts need above them",
                        .verdict = "Measure it before painting, and the humidity.",
                        .size_mm = c.film_mm + c.swell_mm,
                        .other_mm = NAN,
                        .rank = RANK_NOTE,
                        .detail = ROOM_TEXT(
                            f->r,
                            "Of it %s is paint on both faces, the rest the %s in a damp month, "
                            "across %s of it. Beside them the paint alone counts: 1/16 in is "
                            "usual. Less than that: plane before painting, leave sides and "
                            "runners bare.",
                            small(f, c.film_mm),
                            wood_is_board(f->r->t, f->r->piece->wood) ? "board" : "wood",
                            small(f, part->size_mm[1])),
                        .source = "WH13",
                        .certainty = CERTAINTY_PUBLISHED});
        struct basis *b = explain(f,
                                  "film on both faces + height x coefficient x change of moisture "
                                  "(to 80 % humidity)",
                                  "WH13, table 13-5; WH4, eq. 4-5", CERTAINTY_PUBLISHED);
        input(f, b, "height across the grain", part->size_mm[1]);
        input(f, b, "swelling", c.swell_mm);
        basis_word(f->r->ledger, b, "wood", f->wood ? f->wood->name : "not known, a lively one");
        return;
    }
}

/* ---- anchor ---- */

static void anchor_make(struct fits *f) {
    const struct piece *p = f->r->piece;
    struct facts facts;
    fact_make(f->r, &f->p->inspection, &facts);
    bool tall = fact_holds(&facts, "tall_storage");
    if (p->fittings.anchor == YN_NO || (!p->fittings.anchor && !tall)) return;
    const double gauge_10 = .190 * MM_PER_IN, thread = MM_PER_IN, stud_gravity = .42;
    double holds = wood_screw_allowed_n(wood_screw_n(stud_gravity, gauge_10, thread, false));
    line_add(f, (struct fitting_line){
                    .id = "anchor",
                    .what = "Anchor against tipping, screw length",
                    .verdict = ROOM_TEXT(f->r,
                                         "#10 screw, 1 in of thread in the stud, holds about "
                                         "%.0f lb",
                                         holds / N_PER_LBF),
                    .size_mm = 2 * MM_PER_IN,
                    .other_mm = wood_pilot_mm(gauge_10, false),
                    .other = "pilot hole in the stud",
                    .rank = RANK_MIND,
                    .detail = "Strap from the top rail into a stud, not into plaster. Bag it with "
                              "the words for the wall and tell the owner. Check local rules.",
                    .source = "CFR1261",
                    .certainty = CERTAINTY_PUBLISHED});
    struct basis *b =
        explain(f, "screw withdrawal in softwood, with safety 5.5", "WH8", CERTAINTY_PUBLISHED);
    basis_number(f->r->ledger, b, "holds", holds, DIM_FORCE);
}

/* ---- the whole ---- */

enum status fitting_make(const struct room *r, struct piece_plan *p, struct why *why) {
    p->fittings = (struct fitting_plan){0};
    struct fits f = {.r = r, .p = p, .out = &p->fittings};
    f.wood = wood_species_of(r->t, r->piece->wood);
    pulls_make(&f);
    hinges_make(&f);
    back_make(&f);
    enum status s = panels_make(&f, why);
    if (s) return s;
    for (size_t i = 0; i < r->piece->fittings.slides_n; i++) {
        const struct fitting_slide *slide = &r->piece->fittings.slides[i];
        slide_make(&f, slide, i);
    }
    drawers_need(&f);
    anchor_make(&f);
    return r->ledger->failed ? E_MEMORY : OK;
}
