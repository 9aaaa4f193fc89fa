/* What is screwed, nailed, stapled, glazed and slid when the coats are dry. */
#include "core/base/units.h"
#include "core/work/fact.h"
#include "core/work/fitting_build.h"
#include "core/work/wood.h"

void fit_line(struct fits *f, struct fitting_line line) {
    void *rows =
        ledger_grow(f->r->ledger, f->out->rows, f->out->n, &f->out->cap, sizeof *f->out->rows);
    if (!rows) return;
    f->out->rows = rows;
    f->out->rows[f->out->n++] = line;
}

struct basis *fit_explain(struct fits *f, const char *rule, const char *source,
                          enum certainty certainty) {
    return ledger_basis(f->r->ledger,
                        ROOM_TEXT(f->r, "%s/fittings/%zu/size_mm", f->r->at, f->out->n - 1), rule,
                        source, certainty);
}

void fit_input(struct fits *f, struct basis *b, const char *name, double mm) {
    basis_number(f->r->ledger, b, name, mm, DIM_LENGTH);
}

/* ---- anchor ---- */

static void anchor_make(struct fits *f) {
    const struct piece *p = f->r->piece;
    struct facts facts;
    fact_make(f->r, &f->p->inspection, &facts);
    bool tall = fact_holds(&facts, "tall_storage");
    if (p->fittings.anchor == YN_NO || (!p->fittings.anchor && !tall)) return;
    const double gauge_10 = .190 * MM_PER_IN, thread = MM_PER_IN, stud_gravity = .42;
    const struct ledger *l = f->r->ledger;
    double holds = wood_screw_allowed_n(wood_screw_n(stud_gravity, gauge_10, thread, false));
    fit_line(f, (struct fitting_line){
                    .id = "anchor",
                    .what = "Anchor against tipping, screw length",
                    .verdict =
                        ROOM_TEXT(f->r, "#10 screw, %s of thread in the stud, holds about %.0f %s",
                                  ledger_length(l, thread),
                                  holds / (l->metric ? STANDARD_GRAVITY : N_PER_LBF),
                                  l->metric ? "kg" : "lb"),
                    .size_mm = 2 * MM_PER_IN,
                    .other_mm = wood_pilot_mm(gauge_10, false),
                    .other = "pilot hole in the stud",
                    .rank = RANK_MIND,
                    .detail = "Strap from the top rail into a stud, not into plaster. Bag it with "
                              "the words for the wall and tell the owner. Check local rules.",
                    .source = "CFR1261",
                    .certainty = CERTAINTY_PUBLISHED});
    struct basis *b =
        fit_explain(f,
                    "the strap, plaster and the thread in the stud; holds 108.25 N/mm2 x gravity "
                    "squared x diameter x thread, with safety 5.5",
                    "WH8", CERTAINTY_PUBLISHED);
    basis_number(f->r->ledger, b, "specific gravity of a softwood stud", stud_gravity, DIM_NONE);
    fit_input(f, b, "diameter of a #10 screw", gauge_10);
    fit_input(f, b, "thread in the stud", thread);
    basis_number(f->r->ledger, b, "holds", holds, DIM_FORCE);
}

/* ---- the whole ---- */

enum status fitting_make(const struct room *r, struct piece_plan *p, struct why *why) {
    p->fittings = (struct fitting_plan){0};
    struct fits f = {.r = r, .p = p, .out = &p->fittings};
    f.wood = wood_species_of(r->t, r->piece->wood);
    fit_pulls_make(&f);
    fit_hinges_make(&f);
    fit_back_make(&f);
    enum status s = fit_panels_make(&f, why);
    if (s) return s;
    for (size_t i = 0; i < r->piece->fittings.slides_n; i++) {
        const struct fitting_slide *slide = &r->piece->fittings.slides[i];
        fit_slide_make(&f, slide, i);
    }
    fit_drawers_need(&f);
    anchor_make(&f);
    return r->ledger->failed ? E_MEMORY : OK;
}
