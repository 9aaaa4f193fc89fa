/* What slides or swings in an opening, and the room it needs. */
#include "core/base/units.h"
#include "core/work/fitting_build.h"
#include "core/work/lookup.h"
#include "core/work/wood.h"

#include <math.h>
#include <string.h>

struct clearance {
    double film_mm, swell_mm, left_mm;
    double coefficient, now_frac, humid_frac; /* of the swelling, and between which moistures */
    bool outside;                             /* of the range of the swelling equation */
};

static struct clearance clearance_of(const struct fits *f, const struct fitting_slide *s,
                                     double film_um) {
    const struct shop *shop = f->r->shop;
    const struct tables *t = f->r->t;
    double coefficient = !f->wood                                   ? .00369
                         : s->grain && !strcmp(s->grain, "quarter") ? f->wood->radial
                                                                    : f->wood->tangential;
    double degc = isnan(shop->day_degc) ? 20 : shop->day_degc;
    double rh = isnan(shop->humidity_frac) ? .5 : fmin(.95, fmax(.05, shop->humidity_frac));
    double now = wood_emc_frac(degc, rh),
           humid = wood_emc_frac(figure(t, FIGURES_HUMID_DEGC), figure(t, FIGURES_HUMID_FRAC));
    struct clearance c = {.film_mm = 2 * film_um / 1000,
                          .coefficient = coefficient,
                          .now_frac = now,
                          .humid_frac = humid};
    if (s->height_mm > 0)
        c.swell_mm = fmax(0, wood_move_mm(s->height_mm, coefficient, now, humid, &c.outside));
    c.left_mm = s->gap_mm - c.film_mm - c.swell_mm;
    return c;
}

/* What oil, stain and wax leave is in the wood, not on it; before any coat is known the usual. */
static double build_um(const struct fits *f) {
    return f->p->coats.n ? f->p->coats.film_um : figure(f->r->t, FIGURES_BUILD_UM);
}

/* "drawer fronts" rather than the id of the part. */
static const char *slide_name(const struct fits *f, const struct fitting_slide *s) {
    const struct surfaces *u = &f->p->surfaces;
    for (size_t i = 0; s->part && i < u->rows_n; i++)
        if (u->rows[i].part.id && !strcmp(u->rows[i].part.id, s->part) && u->rows[i].part.name)
            return u->rows[i].part.name;
    return s->part ? s->part : "sliding part";
}

static bool is_front(const struct fits *f, const struct fitting_slide *s) {
    const struct surfaces *u = &f->p->surfaces;
    for (size_t i = 0; s->part && i < u->rows_n; i++)
        if (u->rows[i].part.id && !strcmp(u->rows[i].part.id, s->part))
            return u->rows[i].part.shape && !strcmp(u->rows[i].part.shape, "drawer_front");
    return false;
}

/* What both bases have in common: from the film and the height to what they take. */
static void taken_explain(struct fits *f, struct basis *b, const struct clearance *c,
                          double height_mm) {
    struct ledger *l = f->r->ledger;
    basis_number(l, b, "film on both faces", c->film_mm * 1000, DIM_FILM);
    basis_word(l, b, "wood", f->wood ? f->wood->name : "not known, a lively one");
    if (height_mm > 0) {
        fit_input(f, b, "height across the grain", height_mm);
        basis_number(l, b, "coefficient, for 1 % of moisture", c->coefficient, DIM_NONE);
        basis_number(l, b, "moisture of the wood in the shop's air", c->now_frac, DIM_FRACTION);
        basis_number(l, b, "at 80 % humidity and 70 °F (21 °C)", c->humid_frac, DIM_FRACTION);
    }
    basis_number(l, b, "swelling", c->swell_mm * 1000, DIM_FILM);
}

/* A gap that nobody measured is taken as the usual one, and listed as taken. */
void fit_slide_make(struct fits *f, const struct fitting_slide *said, size_t row) {
    const double usual_gap = figure(f->r->t, FIGURES_SLIDE_GAP_MM);
    struct fitting_slide slide = *said, *s = &slide;
    if (!(s->gap_mm >= 0)) {
        s->gap_mm = usual_gap;
        assume_number(f->r->ledger, ROOM_TEXT(f->r, "%s/fittings/slides/%zu/gap", f->r->at, row),
                      usual_gap, DIM_LENGTH, "usual gap per side of an inset drawer; measure it",
                      "CP");
    }
    struct clearance c = clearance_of(f, s, build_um(f));
    double dry_left = s->gap_mm - c.film_mm;
    bool sticks = c.left_mm < 0, tight = c.left_mm < figure(f->r->t, FIGURES_SLIDE_TIGHT_MM);
    bool paint = f->p->surfaces.coated_m2 > 0, veneer = f->r->piece->veneer == YN_YES;
    fit_line(
        f, (struct fitting_line){
               .id = "clearance",
               .what = ROOM_TEXT(f->r, "Gap left %s the %s, %s and in a damp month",
                                 s->height_mm > 0 && is_front(f, s) ? "above" : "beside",
                                 slide_name(f, s), paint ? "painted" : "coated"),
               .verdict = dry_left < 0 ? paint ? "Sticks at once: paint alone fills the gap"
                                               : "Sticks at once: the coats alone fill the gap"
                          : sticks     ? "Will stick in a damp month"
                          : tight      ? "Tight in a damp month"
                                       : "Slides",
               .size_mm = c.left_mm,
               .other_mm = s->gap_mm,
               .other = "gap before",
               .rank = sticks || tight ? RANK_MIND : RANK_NOTE,
               .detail = ROOM_TEXT(
                   f->r, "%s %s of it (%.0f %%), swelling %s. %s%s%s",
                   paint ? "Paint takes" : "The coats take", ledger_small(f->r->ledger, c.film_mm),
                   s->gap_mm > 0 ? 100 * c.film_mm / s->gap_mm : 100,
                   ledger_small(f->r->ledger, c.swell_mm),
                   !tight  ? "Wax the runners."
                   : paint ? "Leave sides and runners bare, paint fronts and edges thin, plane "
                             "before painting, not after. Sticking in summer is wood, not paint."
                           : "Leave sides and runners bare, coat fronts and edges thin, plane "
                             "before the first coat, not after. Sticking in summer is the wood.",
                   veneer && c.swell_mm > 0
                       ? " That is solid wood: veneer on plywood or board swells far less."
                       : "",
                   c.outside ? " The swelling equation is stretched beyond 14 % moisture." : ""),
               .source = "WH13",
               .certainty = CERTAINTY_PUBLISHED});
    struct basis *b =
        fit_explain(f,
                    "gap - film on both faces - height x coefficient x change of moisture (to 80 % "
                    "humidity)",
                    "WH13, table 13-5; WH4, eq. 4-5", CERTAINTY_PUBLISHED);
    fit_input(f, b, "gap", s->gap_mm);
    taken_explain(f, b, &c, s->height_mm);
}

/* Nobody has measured a gap: what the drawers will need above them, so that it can be looked at
 * before painting. A drawer stands on its runners and grows upward. */
void fit_drawers_need(struct fits *f) {
    const struct surfaces *s = &f->p->surfaces;
    if (f->r->piece->fittings.slides_n) return;
    for (size_t i = 0; i < s->rows_n; i++) {
        const struct part *part = &s->rows[i].part;
        if (!part->shape || strcmp(part->shape, "drawer_front") || !(part->size_mm[1] > 0))
            continue;
        struct fitting_slide high = {.part = part->id, .gap_mm = 0, .height_mm = part->size_mm[1]};
        struct clearance c = clearance_of(f, &high, build_um(f));
        if (!(c.swell_mm > 0)) return; /* metal takes up no water */
        bool films = c.film_mm > 0, paint = s->rows[i].coated_m2 > 0;
        const char *film = paint ? "paint" : "film";
        fit_line(f, (struct fitting_line){
                        .id = "clearance_needed",
                        .what = "Gap that the drawer fronts need above them",
                        .verdict = paint ? "Measure it before painting, and the humidity."
                                         : "Measure it before any coat, and the humidity.",
                        .size_mm = c.film_mm + c.swell_mm,
                        .other_mm = NAN,
                        .rank = RANK_NOTE,
                        .detail = ROOM_TEXT(
                            f->r,
                            "%s the %s in a damp month, across %s of it. %s%s is usual. Less than "
                            "that: plane before %s, leave sides and runners bare.",
                            films ? ROOM_TEXT(f->r, "Of it %s is %s on both faces, the rest",
                                              ledger_small(f->r->ledger, c.film_mm), film)
                                  : "It is",
                            wood_is_board(f->r->t, f->r->piece->wood) ? "board" : "wood",
                            ledger_length(f->r->ledger, part->size_mm[1]),
                            films ? ROOM_TEXT(f->r, "Beside them the %s alone counts: ", film)
                                  : "Beside them ",
                            ledger_length(f->r->ledger, MM_PER_IN / 16),
                            paint ? "painting" : "any coat"),
                        .source = "WH13",
                        .certainty = CERTAINTY_PUBLISHED});
        struct basis *b =
            fit_explain(f,
                        "film on both faces + height x coefficient x change of moisture "
                        "(to 80 % humidity)",
                        "WH13, table 13-5; WH4, eq. 4-5", CERTAINTY_PUBLISHED);
        taken_explain(f, b, &c, part->size_mm[1]);
        return;
    }
}
