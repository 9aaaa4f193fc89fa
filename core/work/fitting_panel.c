/* The back, and what fills openings: cane, fabric, glass. */
#include "core/base/units.h"
#include "core/work/cane.h"
#include "core/work/fastener.h"
#include "core/work/fitting_build.h"
#include "core/work/lookup.h"
#include "core/work/wood.h"

#include <math.h>
#include <string.h>

static const double ROLLS_MM[] = {457.2, 609.6, 914.4}; /* 18, 24, 36 in */

void fit_back_make(struct fits *f) {
    const struct fittings *x = &f->r->piece->fittings;
    if (!(x->back_thickness_mm > 0)) return;
    double depth = isnan(x->back_depth_mm) ? f->r->piece->thickness_mm : x->back_depth_mm;
    if (isnan(depth)) depth = 19.05;
    double most = fastener_most_mm(x->back_thickness_mm, depth);
    const struct fasteners_row *brad = fastener_stock(f->r->t, "brad", most, 0);
    fit_line(f, (struct fitting_line){
                    .id = "back_brad",
                    .what = "Brads for the back",
                    .verdict = brad ? brad->name : "No brad is short enough: glue and clamp",
                    .size_mm = brad ? brad->length_mm : most,
                    .other_mm = depth,
                    .other = "wood behind it",
                    .rank = RANK_NOTE,
                    .detail = ROOM_TEXT(f->r,
                                        "The point stays %s short of the show "
                                        "face.",
                                        ledger_length(f->r->ledger, MM_PER_IN / 16)),
                    .source = "CP",
                    .certainty = CERTAINTY_COMMON});
    struct basis *b =
        fit_explain(f, "min(3 x thickness, thickness + 3/4 of the depth), rounded down", "CP",
                    CERTAINTY_COMMON);
    fit_input(f, b, "thickness", x->back_thickness_mm);
    fit_input(f, b, "depth", depth);
    if (!f->wood || !brad) return;
    double holds = wood_nail_allowed_n(f->wood->gravity, brad->diameter_mm,
                                       fmax(0, brad->length_mm - x->back_thickness_mm));
    basis_number(f->r->ledger, b, "each holds, with safety", holds, DIM_FORCE);
}

/* Does the gun get down to the ledge? Asked where nobody has measured. */
static void reach_make(struct fits *f, const struct fitting_panel *p) {
    bool known = p->reach_mm > 0 && p->rebate_mm > 0;
    bool gets = known && p->reach_mm >= p->rebate_mm - 1e-9;
    fit_line(f, (struct fitting_line){
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
        fit_explain(f, "the nose must get as far down as the ledge lies", "CP", CERTAINTY_COMMON);
    fit_input(f, b, "reach", p->reach_mm);
    fit_input(f, b, "rebate", p->rebate_mm);
}

static void staple_make(struct fits *f, const struct fitting_panel *p) {
    if (!(p->depth_mm > 0)) return;
    double most = fastener_sheet_most_mm(p->depth_mm);
    const struct fasteners_row *staple = fastener_stock(f->r->t, "staple", most, 0);
    bool close = !staple && p->depth_mm >= 9;
    if (close) staple = fastener_stock(f->r->t, "staple", 6.35, 0);
    fit_line(f, (struct fitting_line){
                    .id = "staple",
                    .what = ROOM_TEXT(f->r, "Staples for the %s", p->kind ? p->kind : "panel"),
                    .verdict = staple ? staple->name : "No room for a staple: spline or bead",
                    .size_mm = staple ? staple->length_mm : most,
                    .other_mm = p->depth_mm,
                    .other = "wood free behind it",
                    .rank = close || !staple ? RANK_MIND : RANK_NOTE,
                    .detail = ROOM_TEXT(f->r, "Its nose takes about %s beside the staple.",
                                        ledger_length(f->r->ledger, MM_PER_IN / 2)),
                    .source = "CP",
                    .certainty = CERTAINTY_COMMON});
    fit_input(f, fit_explain(f, "a third of the free wood, at most 3/8 in", "CP", CERTAINTY_COMMON),
              "free wood", p->depth_mm);
    if (staple) reach_make(f, p);
}

static enum cane_hold hold_of(const struct fitting_panel *p) {
    if (p->hold) return strcmp(p->hold, "staple") ? CANE_SPLINE : CANE_STAPLE;
    return p->groove_mm > 0 ? CANE_SPLINE : CANE_STAPLE;
}

static void spline_make(struct fits *f, const struct fitting_panel *p) {
    bool groove = p->groove_mm > 0;
    fit_line(f,
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
    fit_explain(f, "twice width and height, and 12 in to spare", "CANE", CERTAINTY_SECONDARY);
}

static void cane_make(struct fits *f, const struct fitting_panel *p) {
    bool stapled = hold_of(p) == CANE_STAPLE;
    double soak = cane_soak_min(hold_of(p));
    fit_line(f, (struct fitting_line){
                    .id = "cane_sheet",
                    .what = ROOM_TEXT(f->r, "Cane sheet, %lld of them",
                                      (long long)(p->count > 0 ? p->count : 1)),
                    .verdict =
                        ROOM_TEXT(f->r, "Soak %g min, %s", soak,
                                  stapled ? "weighted under water; pull firm"
                                          : ROOM_TEXT(f->r, "warm; leave %s of play",
                                                      ledger_length(f->r->ledger, MM_PER_IN / 2))),
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
    struct basis *b = fit_explain(f, "opening and 40 mm on each side", "CANE", CERTAINTY_SECONDARY);
    fit_input(f, b, "opening", p->width_mm);
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
    fit_line(
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
    struct basis *b =
        fit_explain(f,
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
    const struct ledger *l = f->r->ledger;
    const struct tables *t = f->r->t;
    const double clearance = figure(t, FIGURES_GLASS_GAP_MM), tolerance_mm = .5;
    double area = p->width_mm * p->height_mm * 1e-6;
    bool mirror = p->kind && !strcmp(p->kind, "mirror");
    const struct glass_row *usual = glass_for(t, mirror, area);
    double thick = isnan(p->thickness_mm) ? (usual ? usual->thickness_mm : 3.2) : p->thickness_mm;
    double weight = fastener_glass_g(p->width_mm, p->height_mm, thick);
    bool thin = usual && thick < usual->thickness_mm - tolerance_mm;
    if (isnan(p->thickness_mm))
        assume_number(f->r->ledger,
                      ROOM_TEXT(f->r, "%s/fittings/panels/%zu/thickness", f->r->at, at), thick,
                      DIM_LENGTH, usual ? usual->name : "usual", "CP");
    fit_line(
        f, (struct fitting_line){
               .id = "glass",
               .what = mirror ? "Mirror" : "Glass",
               .verdict = ROOM_TEXT(f->r, "%.1f %s each%s", weight / (l->metric ? 1000 : G_PER_LB),
                                    l->metric ? "kg" : "lb",
                                    thin ? ROOM_TEXT(f->r, "; thin for its size: %s is usual",
                                                     ledger_length(l, usual->thickness_mm))
                                         : ""),
               .size_mm = p->width_mm - clearance,
               .other_mm = p->height_mm - clearance,
               .other = "height as cut",
               .rank = thin || weight > figure(t, FIGURES_GLASS_HELD_G) ? RANK_MIND : RANK_NOTE,
               .detail = ROOM_TEXT(f->r,
                                   "%s smaller than the rebate each way, nothing pressed. "
                                   "Tempered glass cannot be cut later; laminated where "
                                   "children reach.",
                                   ledger_length(l, clearance)),
               .source = "EN572",
               .certainty = CERTAINTY_MEMORY});
    struct basis *b =
        fit_explain(f, "rebate less 3 mm; weight 2.5 kg/m2 for each mm", "EN572", CERTAINTY_MEMORY);
    fit_input(f, b, "thickness", thick);
    if (usual) basis_word(f->r->ledger, b, "usual for", usual->name);
    basis_number(f->r->ledger, b, "weight", weight, DIM_MASS);
}

enum status fit_panels_make(struct fits *f, struct why *why) {
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
