#include "core/work/color_plan.h"

#include "core/color/color.h"
#include "core/recipe/recipe.h"
#include "core/work/fact.h"
#include "core/work/palette.h"

#include <math.h>
#include <string.h>

/* Beyond this a mix is not the color that was asked for; say so and show the nearest. */
#define OUT_OF_REACH 2.0

static const struct coat *color_coat(const struct piece_plan *p) {
    for (size_t i = 0; i < p->coats.n; i++)
        if (p->coats.rows[i].role == ROLE_COLOR) return &p->coats.rows[i];
    return NULL;
}

static void unknown(struct color_plan *c) {
    for (int i = 0; i < 3; i++) c->lab[i] = NAN;
    c->difference = c->expected_difference = c->difference_90 = c->bound = NAN;
}

static void keep_lab(struct color_plan *c, struct lab d50) {
    c->lab[0] = d50.l;
    c->lab[1] = d50.a;
    c->lab[2] = d50.b;
}

static void note(const struct room *r, struct color_plan *c, enum rank rank, const char *topic,
                 const char *text) {
    notice_add(r->ledger, &c->notices, rank, topic, text, "CP", CERTAINTY_COMMON);
}

/* ---- one can, as it is
 * ---------------------------------------------------------------------------- */

static void from_the_can(const struct room *r, const struct paint *paint, struct color_plan *c) {
    c->product = paint->name ? paint->name : paint->id;
    if (paint->color.text) memcpy(c->lab, paint->color.lab, sizeof c->lab);
    if (!paint->color.text || !c->target.text) return;
    struct lab have = {paint->color.lab[0], paint->color.lab[1], paint->color.lab[2]};
    struct lab want = {c->target.lab[0], c->target.lab[1], c->target.lab[2]};
    c->difference = ciede2000(have, want);
    if (c->difference > OUT_OF_REACH)
        note(r, c, RANK_MIND, "color",
             "This product is not the color that was asked for. Mix it, or change the color in "
             "the agreement.");
}

/* ---- mixing
 * ------------------------------------------------------------------------------------------ */

struct mixing {
    const struct palette *palette;
    struct recipe_problem problem;
    struct recipe_paint *paints;
};

/* A leftover cannot be bought again: no more parts than it still fills. 0: as much as is wanted. */
static int pour_max(const struct paint *p, double batch_ml, int parts) {
    if (!p->leftover_of_n || isnan(p->stock_ml) || isnan(batch_ml)) return 0;
    double most = floor(p->stock_ml / batch_ml * parts);
    return most > parts ? parts : (int)most;
}

static bool cannot_pour(const struct paint *p, double batch_ml, int parts) {
    if (p->stock_ml == 0) return true;
    return p->leftover_of_n && !isnan(p->stock_ml) && !isnan(batch_ml) &&
           pour_max(p, batch_ml, parts) == 0;
}

static enum status mixing_make(const struct room *r, const struct palette *palette,
                               const struct color_plan *c, double batch_ml, struct mixing *out) {
    struct mixing m = {.palette = palette};
    m.paints = arena_array(r->ledger->arena, palette->n, sizeof *m.paints);
    if (!m.paints) return E_MEMORY;
    for (size_t i = 0; i < palette->n; i++) {
        const struct paint *p = palette->paints[i].paint;
        m.paints[i] = (struct recipe_paint){
            .pigment = &palette->paints[i].pigment,
            .use =
                cannot_pour(p, batch_ml, (int)r->piece->wanted.parts) ? RECIPE_NEVER : RECIPE_MAY,
            .pour_max = pour_max(p, batch_ml, (int)r->piece->wanted.parts),
            .cost_cent = p->size_ml > 0 && !isnan(p->cost_cent) ? p->cost_cent / p->size_ml : 0,
            .leftover = p->leftover_of_n > 0};
    }
    struct lab target = {c->target.lab[0], c->target.lab[1], c->target.lab[2]};
    m.problem = (struct recipe_problem){.paints = m.paints,
                                        .paints_n = palette->n,
                                        .target = lab_d65_of_d50(target),
                                        .items_max = (int)r->piece->wanted.paints_max,
                                        .parts = (int)r->piece->wanted.parts,
                                        .objective = RECIPE_BY_EXPECTED,
                                        .variance = palette_variance,
                                        .variance_ctx = (void *)(uintptr_t)palette,
                                        .pour_sd_parts = PALETTE_POUR_SD_PARTS,
                                        .best_max = 3,
                                        .reach = OUT_OF_REACH,
                                        .d65 = &palette->d65,
                                        .a = &palette->a,
                                        .led = &palette->led};
    *out = m;
    return OK;
}

static enum status lines_fill(const struct room *r, const struct mixing *m,
                              const struct recipe *best, struct color_plan *c) {
    c->lines = arena_array(r->ledger->arena, best->items_n, sizeof *c->lines);
    if (!c->lines) return E_MEMORY;
    c->lines_n = best->items_n;
    c->parts = best->total;
    for (size_t i = 0; i < best->items_n; i++) {
        const struct paint *p = m->palette->paints[best->items[i].paint].paint;
        c->lines[i] = (struct recipe_line){.paint = p->id,
                                           .name = p->name ? p->name : p->id,
                                           .parts = best->items[i].parts,
                                           .ml = NAN};
    }
    return OK;
}

static void figures_explain(const struct room *r, const struct color_plan *c,
                            const struct recipe_result *found, size_t samples) {
    struct ledger *l = r->ledger;
    struct basis *b = ledger_basis(
        l, ROOM_TEXT(r, "%s/color/difference", r->at),
        "Kubelka-Munk mix of the paints' absorption and scattering, seen under daylight D65; "
        "CIEDE2000 to the target; every recipe of the grid computed or bounded",
        "KM1931; SHARMA2005", CERTAINTY_PUBLISHED);
    basis_number(l, b, "recipes on this grid", found->proof.grid_points, DIM_NONE);
    basis_number(l, b, "computed one by one", (double)found->proof.points, DIM_NONE);
    basis_number(l, b, "parts in all", (double)c->parts, DIM_NONE);
    b = ledger_basis(l, ROOM_TEXT(r, "%s/color/expected_difference", r->at),
                     "root of the predicted difference squared, the model's variance and what the "
                     "pours' reading error adds",
                     "KM1931", CERTAINTY_COMMON);
    basis_number(l, b, "predicted difference", c->difference, DIM_NONE);
    basis_number(l, b, "of the model", found->best[0].model_sd, DIM_NONE);
    basis_number(l, b, "of the pours", found->best[0].pour_sd, DIM_NONE);
    basis_number(l, b, "samples it was learnt from", (double)samples, DIM_NONE);
    basis_range(b, DIM_NONE, 0, c->difference_90);
}

static void color_notices(const struct room *r, const struct mixing *m,
                          const struct recipe_result *found, struct color_plan *c) {
    if (found->out_of_reach || c->difference > OUT_OF_REACH)
        note(r, c, RANK_MIND, "reach",
             "The shelf does not reach this color; this is the nearest it can make. Look at a card "
             "of it before agreeing, or buy a stronger paint of that hue.");
    for (size_t i = 0; i < c->lines_n; i++) {
        int row = palette_find(m->palette, c->lines[i].paint);
        if (row >= 0 && m->palette->paints[row].impossible)
            note(r, c, RANK_NOTE, "paint",
                 ROOM_TEXT(r,
                           "The color written for %s is beyond what any paint can be. The nearest "
                           "possible one was used; read it again.",
                           c->lines[i].name));
    }
    note(r, c, RANK_MIND, "card",
         "Paint a sample card and let it dry before mixing the batch. A prediction is no paint: "
         "dark paints in pale mixes surprise most.");
}

static enum status mix(const struct room *r, const struct palette *palette, double batch_ml,
                       const struct limit *limit, struct color_plan *c, struct why *why) {
    struct mixing m;
    enum status s = mixing_make(r, palette, c, batch_ml, &m);
    if (s) return why_say(why, s, "", "%s", status_text(s));
    struct recipe_result found;
    s = recipe_search(&m.problem, limit, r->ledger->arena, &found, why);
    if (s == E_IMPOSSIBLE) {
        note(r, c, RANK_MIND, "stock",
             "No mix of this color can be made from what is left on the shelf. Buy paint, or put "
             "the stock right.");
        return OK;
    }
    if (s) return s;
    const struct recipe *best = &found.best[0];
    if ((s = lines_fill(r, &m, best, c))) return why_say(why, s, "", "%s", status_text(s));
    keep_lab(c, lab_d50_of_d65(best->lab));
    c->difference = best->difference;
    sample_doubt(palette->model, best->difference,
                 best->model_sd * best->model_sd + best->pour_sd * best->pour_sd,
                 &c->expected_difference, &c->difference_90);
    c->proven = found.proof.kind == RECIPE_OPTIMAL;
    c->bound = found.proof.bound;
    figures_explain(r, c, &found, palette->samples_n);
    color_notices(r, &m, &found, c);
    return OK;
}

/* ---- the rooms' two calls
 * -------------------------------------------------------------------------------- */

enum status color_plan_make(const struct room *r, struct piece_plan *p, double batch_ml,
                            const struct limit *limit, struct why *why) {
    struct color_plan *c = &p->color;
    c->target = r->piece->wanted.color;
    unknown(c);
    const struct coat *coat = color_coat(p);
    if (!coat) return OK;
    const struct paint *can =
        r->piece->wanted.product ? shelf_paint(r->shelf, r->piece->wanted.product) : NULL;
    if (can) {
        from_the_can(r, can, c);
        return OK;
    }
    if (!c->target.text) {
        note(r, c, RANK_MIND, "color", "No color was named. Name one, or a product on the shelf.");
        return OK;
    }
    struct palette palette;
    enum status s = palette_make(r->t, r->shelf, coat->class, r->ledger->arena, &palette, why);
    if (s) return s;
    if (!palette.n) {
        note(r, c, RANK_MIND, "shelf",
             "No paint of this kind with a known color is on the shelf. Buy it ready tinted, or "
             "enter the jars you own with their colors.");
        return OK;
    }
    return mix(r, &palette, batch_ml, limit, c, why);
}

bool color_plan_short(const struct piece_plan *p, const struct shelf *shelf, double *out_batch_ml) {
    const struct color_plan *c = &p->color;
    double batch = 0;
    for (size_t i = 0; i < p->amounts.n; i++)
        if (p->amounts.rows[i].role == ROLE_COLOR) batch += p->amounts.rows[i].mix_ml;
    *out_batch_ml = batch;
    for (size_t i = 0; i < c->lines_n; i++) {
        const struct paint *q = shelf_paint(shelf, c->lines[i].paint);
        if (q && q->leftover_of_n && !isnan(q->stock_ml) &&
            batch * c->lines[i].parts / (double)c->parts > q->stock_ml)
            return true;
    }
    return false;
}

enum status color_plan_pour(const struct room *r, struct piece_plan *p, struct why *why) {
    (void)why;
    struct color_plan *c = &p->color;
    double batch = 0;
    for (size_t i = 0; i < p->amounts.n; i++)
        if (p->amounts.rows[i].role == ROLE_COLOR) batch += p->amounts.rows[i].mix_ml;
    for (size_t i = 0; i < c->lines_n && batch > 0 && c->parts > 0; i++) {
        c->lines[i].ml = batch * c->lines[i].parts / (double)c->parts;
        struct basis *b =
            ledger_basis(r->ledger, ROOM_TEXT(r, "%s/color/lines/%zu/volume_ml", r->at, i),
                         "the batch times this paint's share of the parts", "CP", CERTAINTY_EXACT);
        basis_number(r->ledger, b, "batch", batch, DIM_VOLUME);
        basis_number(r->ledger, b, "parts", c->lines[i].parts, DIM_NONE);
        basis_number(r->ledger, b, "of", (double)c->parts, DIM_NONE);
    }
    return OK;
}
