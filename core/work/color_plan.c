#include "core/work/color_plan.h"

#include "core/base/units.h"
#include "core/color/color.h"
#include "core/recipe/finer.h"
#include "core/recipe/recipe.h"
#include "core/work/cans.h"
#include "core/work/fact.h"
#include "core/work/mix_film.h"
#include "core/work/palette.h"

#include <math.h>
#include <string.h>

/* Beyond this a mix is not the color that was asked for; say so and show the nearest. */
#define OUT_OF_REACH 2.0

static const struct coat *color_coat(const struct piece_plan *p, size_t row) {
    for (size_t i = 0; i < p->coats.n; i++)
        if (p->coats.rows[i].role == ROLE_COLOR && p->coats.rows[i].color_row == (int64_t)row)
            return &p->coats.rows[i];
    return NULL;
}

struct color_plan *color_plan_row(struct piece_plan *p, size_t row) {
    return row ? &p->colors[row - 1] : &p->color;
}

/* "/pieces/0/color" or "/pieces/0/colors/1" */
static const char *color_at(const struct room *r, size_t row) {
    return row ? ROOM_TEXT(r, "%s/colors/%zu", r->at, row - 1) : ROOM_TEXT(r, "%s/color", r->at);
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

/* ---- one can, as it is ---- */

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

/* The one can whose color is what is wanted: it is taken as it is, and nothing is looked for. NULL:
 * there is none, or several, of which a search takes what the shelf can fill. Jars of leftovers
 * hold what was left, so they are only mixed from. */
static const struct paint *can_of_color(const struct room *r, const char *class,
                                        const struct color_plan *c) {
    const struct paint *found = NULL;
    struct lab want = {c->target.lab[0], c->target.lab[1], c->target.lab[2]};
    for (size_t i = 0; i < r->shelf->paints_n; i++) {
        const struct paint *p = &r->shelf->paints[i];
        struct lab have = {p->color.lab[0], p->color.lab[1], p->color.lab[2]};
        if (!p->color.text || p->leftover_of_n || !palette_takes(r->t, p, class) ||
            ciede2000(have, want) > COLOR_AS_IT_IS)
            continue;
        if (found && cans_first(r->shelf, found) != cans_first(r->shelf, p)) return NULL;
        if (!found || found->stock_ml < p->stock_ml) found = p; /* of its cans the fullest */
    }
    return found;
}

static enum status of_one_can(const struct room *r, const struct paint *can, struct color_plan *c,
                              struct why *why) {
    struct lab have = {can->color.lab[0], can->color.lab[1], can->color.lab[2]};
    struct lab want = {c->target.lab[0], c->target.lab[1], c->target.lab[2]};
    c->lines = arena_array(r->ledger->arena, 1, sizeof *c->lines);
    if (!c->lines) return why_no_memory(why);
    c->lines[c->lines_n++] = (struct recipe_line){.paint = can->id,
                                                  .name = can->name,
                                                  .parts = 1,
                                                  .ml = (double)NAN,
                                                  .g_per_ml = paint_g_per_ml(r->t, can)};
    c->parts = 1;
    keep_lab(c, have);
    c->difference = c->expected_difference = ciede2000(have, want);
    return OK;
}

/* ---- a batch that is mixed ---- */

/* What is in the cup is the recipe: no other is looked for, and none of its paint is bought again.
 */
static enum status of_the_batch(const struct room *r, const struct mixed_batch *b,
                                struct color_plan *c, struct why *why) {
    c->lines = arena_array(r->ledger->arena, b->pours_n, sizeof *c->lines);
    if (!c->lines) return why_no_memory(why);
    c->batch = b->id;
    c->mixes = b->pours_n > 1;
    for (size_t i = 0; i < b->pours_n; i++)
        c->lines[c->lines_n++] = (struct recipe_line){
            .paint = b->pours[i].paint,
            .name = b->pours[i].name,
            .parts = b->pours[i].ml / b->ml * 100,
            .ml = b->pours[i].ml,
            .g_per_ml = paint_g_per_ml(r->t, shelf_paint(r->shelf, b->pours[i].paint))};
    c->parts = 100;
    memcpy(c->lab, b->lab, sizeof c->lab);
    struct lab is = {b->lab[0], b->lab[1], b->lab[2]};
    struct lab want = {c->target.lab[0], c->target.lab[1], c->target.lab[2]};
    c->difference = isnan(is.l) ? NAN : ciede2000(is, want);
    if (!b->dried)
        note(r, c, RANK_MIND, "card",
             "Paint a card of the batch, let it dry and read it before any of it goes on.");
    else if (c->difference > OUT_OF_REACH)
        note(r, c, RANK_MIND, "color",
             "The batch dried to another color than is wanted. Correct it, or have its card "
             "signed.");
    return OK;
}

static const char *volume(const struct room *r, double ml) {
    return r->ledger->metric ? ROOM_TEXT(r, "%.0f ml", ml)
                             : ROOM_TEXT(r, "%.2g fl oz", ml / ML_PER_US_FL_OZ);
}

/* Mixed for another piece of the same owner: two batches never match, so what is left in that cup
 * comes first. */
static void say_cup(const struct room *r, struct color_plan *c) {
    const char *all = volume(r, r->cup->ml), *left = volume(r, r->cup_ml);
    const char *need = volume(r, r->cup_need_ml);
    const char *there =
        ROOM_TEXT(r, "%s of this color are mixed already, for %.80s.", all, r->cup->piece);
    const char *text =
        r->cup->left
            ? ROOM_TEXT(r,
                        "%s of this color are left of the batch for %.80s. This piece takes %s: "
                        "paint it from that jar, because two batches never match.",
                        all, r->cup->piece, need)
        : r->cup_ml >= r->cup_need_ml
            ? ROOM_TEXT(r,
                        "%s Likely %s of it are left for this piece, which takes %s: paint it from "
                        "that cup, because two batches never match.",
                        there, left, need)
        : c->batch ? ROOM_TEXT(r,
                               "%s Likely %s of it are left for this piece, which takes %s: paint "
                               "from that cup as far as it goes, and mix what is short by the same "
                               "recipe, because two batches never match.",
                               there, left, need)
                   : ROOM_TEXT(r,
                               "%s It likely takes all of it, and this piece takes %s. Hold a card "
                               "of one beside the other: two batches never match.",
                               there, need);
    note(r, c, RANK_MIND, "batch", text);
}

/* ---- mixing ---- */

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

/* The jar's own smallest pour in parts: what cannot be measured is in no recipe. */
static int pour_min(const struct paint *p, double batch_ml, int parts) {
    if (!(p->smallest_ml > 0) || !(batch_ml > 0)) return 1;
    const double least = ceil(p->smallest_ml / batch_ml * parts - 1e-9);
    return least > parts ? parts + 1 : least > 1 ? (int)least : 1;
}

static bool cannot_pour(const struct paint *p, double batch_ml, int parts) {
    const int least = pour_min(p, batch_ml, parts);
    if (p->stock_ml == 0 || least > parts) return true;
    return p->leftover_of_n && !isnan(p->stock_ml) && !isnan(batch_ml) &&
           pour_max(p, batch_ml, parts) < least;
}

static enum status mixing_make(const struct room *r, const struct palette *palette,
                               const struct color_plan *c, double batch_ml, int parts,
                               struct mixing *out) {
    struct mixing m = {.palette = palette};
    m.paints = arena_array(r->ledger->arena, palette->n, sizeof *m.paints);
    if (!m.paints) return E_MEMORY;
    for (size_t i = 0; i < palette->n; i++) {
        const struct paint *p = palette->paints[i].paint;
        const bool not_poured = cannot_pour(p, batch_ml, parts) ||
                                palette_can_spare(palette, i, isnan(batch_ml) ? 0 : batch_ml);
        m.paints[i] = (struct recipe_paint){
            .pigment = &palette->paints[i].pigment,
            .use = not_poured ? RECIPE_NEVER : RECIPE_MAY,
            .pour_min = pour_min(p, batch_ml, parts),
            .pour_max = pour_max(p, batch_ml, parts),
            .binder = palette->paints[i].binder,
            .cost_cent = p->size_ml > 0 && !isnan(p->cost_cent) ? p->cost_cent / p->size_ml : 0,
            .leftover = p->leftover_of_n > 0};
    }
    struct lab target = {c->target.lab[0], c->target.lab[1], c->target.lab[2]};
    m.problem = (struct recipe_problem){.paints = m.paints,
                                        .paints_n = palette->n,
                                        .target = lab_d65_of_d50(target),
                                        .items_max = (int)r->piece->wanted.paints_max,
                                        .parts = parts,
                                        .objective = RECIPE_BY_EXPECTED,
                                        .variance = palette_variance,
                                        .variance_ctx = (void *)(uintptr_t)palette,
                                        .variance_key = palette->key,
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
                                           .ml = NAN,
                                           .g_per_ml = paint_g_per_ml(r->t, p)};
    }
    return OK;
}

static void figures_explain(const struct room *r, const char *at, const struct color_plan *c,
                            const struct recipe_result *found, size_t samples) {
    struct ledger *l = r->ledger;
    struct basis *b = ledger_basis(
        l, ROOM_TEXT(r, "%s/difference", at),
        "Kubelka-Munk mix of the paints' absorption and scattering, seen under daylight D65; "
        "CIEDE2000 to the target; every recipe of the grid computed or bounded",
        "KM1931; SHARMA2005", CERTAINTY_PUBLISHED);
    basis_number(l, b, "recipes on this grid", found->proof.grid_points, DIM_NONE);
    basis_number(l, b, "computed one by one", (double)found->proof.points, DIM_NONE);
    basis_number(l, b, "parts in all", (double)c->parts, DIM_NONE);
    b = ledger_basis(l, ROOM_TEXT(r, "%s/expected_difference", at),
                     "root of the predicted difference squared, the model's variance and what the "
                     "pours' reading error adds",
                     "KM1931", CERTAINTY_COMMON);
    basis_number(l, b, "predicted difference", c->difference, DIM_NONE);
    basis_number(l, b, "of the model", found->best[0].model_sd, DIM_NONE);
    basis_number(l, b, "of the pours", found->best[0].pour_sd, DIM_NONE);
    basis_number(l, b, "samples it was learned from", (double)samples, DIM_NONE);
    basis_range(b, DIM_NONE, 0, c->difference_90);
}

enum { FINER_STEPS = 100000 }; /* of each finer grid that is looked at */

/* Nothing came near: is it the paints, or are the marks of the cup too coarse for them? */
static enum status reach_note(const struct room *r, const struct mixing *m,
                              const struct limit *limit, struct color_plan *c, struct why *why) {
    struct limit brief = limit ? *limit : (struct limit){0};
    int parts;
    brief.steps = FINER_STEPS;
    enum status s = recipe_finer(&m->problem, &brief, r->ledger->arena, &parts, why);
    if (s) return why_say(why, s, "", "%s", status_text(s));
    if (!parts && limit_asked(limit)) return OK; /* stopped: nobody knows */
    note(r, c, RANK_MIND, "reach",
         parts ? ROOM_TEXT(r, RECIPE_FINER_TEXT " Look at a card before agreeing.", parts,
                           m->problem.parts)
               : "The shelf does not reach this color; this is the nearest it can make. Look at a "
                 "card of it before agreeing, or buy a stronger paint of that hue.");
    return OK;
}

static void color_notices(const struct room *r, const struct mixing *m, struct color_plan *c) {
    for (size_t i = 0; i < c->lines_n; i++) {
        int row = palette_find(m->palette, c->lines[i].paint);
        if (row >= 0 && m->palette->paints[row].impossible)
            note(r, c, RANK_NOTE, "paint",
                 ROOM_TEXT(r,
                           "The color written for %s is beyond what any paint can be. The nearest "
                           "possible one was used; read it again.",
                           c->lines[i].name));
    }
    if (c->expected_difference > fmax(3 * OUT_OF_REACH, 2 * c->difference))
        note(r, c, RANK_MIND, "doubt",
             "Mix a tenth of it first. These paints have not been mixed and measured here yet, so "
             "the prediction may be far off; each card that is read makes the next one better.");
    if (c->lines_n > 1)
        note(
            r, c, RANK_MIND, "card",
            "Paint a sample card and let it dry before mixing the batch. A prediction is no paint: "
            "dark paints in pale mixes surprise most.");
}

/* ---- how fine to measure ---- */

/* Sixteenths are on every cup. Where they miss the color and the batch is large enough that a finer
 * part can still be poured, the parts are halved: a pale green wants a fortieth of green. */
enum { PARTS_USUAL = 16, PARTS_FINEST = 128 };
static const double RECIPES_MOST = 2e8;
static const double FINER_GAINS = .85; /* less than a seventh nearer is not worth the counting */

/* As many parts as the cup has of the smallest mark, or of two of them, three ...; fewer where so
 * many recipes take too long, or where nobody counts them. */
static int parts_finest(const struct room *r, double batch_ml, size_t paints, int items) {
    double marks = floor(batch_ml / r->shop->smallest_ml + 1e-9);
    bool counted = r->shop->measure == MEASURE_GRAM || r->shop->measure == MEASURE_DROP;
    double most = counted ? RECIPE_PARTS_MAX : PARTS_FINEST; /* a scale tells a thousand apart */
    int parts = marks >= 1 ? (int)(marks / ceil(marks / most)) : 1; /* NAN: no batch yet */
    double k = fmin((double)items, (double)paints);
    while (parts > PARTS_USUAL && recipe_points((double)paints, k, parts) > RECIPES_MOST)
        parts = parts * 3 / 4;
    return parts;
}

/* The next finer measure: halves of the parts, and at last every mark there is. */
static int parts_finer(int parts, int finest) {
    if (parts * 2 < finest * 3 / 4) return parts * 2;
    return parts < finest ? finest : 0;
}

struct found {
    struct recipe_result result;
    struct mixing mixing;
    int parts;
};

static enum status search(const struct room *r, const struct palette *palette,
                          const struct color_plan *c, double batch_ml, int parts,
                          enum recipe_objective by, const struct limit *limit, struct found *out,
                          struct why *why) {
    struct found f = {.parts = parts};
    enum status s = mixing_make(r, palette, c, batch_ml, parts, &f.mixing);
    if (s) return why_say(why, s, "", "%s", status_text(s));
    f.mixing.problem.objective = by;
    s = recipe_search(&f.mixing.problem, limit, r->ledger->arena, &f.result, why);
    if (!s) *out = f;
    return s;
}

/* By expected difference a shelf without samples may keep to what is well known and far off: white
 * for a pale green. What misses the color is asked again by the prediction alone, on finer parts if
 * the cup allows; the doubt is said beside it and the sample card decides. */
static enum status search_nearer(const struct room *r, const struct palette *palette,
                                 const struct color_plan *c, double batch_ml, bool finer,
                                 const struct limit *limit, struct found *found, struct why *why) {
    double was = found->result.best[0].difference;
    const int usual = found->parts, items = (int)r->piece->wanted.paints_max;
    const int finest = finer ? parts_finest(r, batch_ml, palette->n, items) : 0;
    for (int parts = usual; parts && was > OUT_OF_REACH; parts = parts_finer(parts, finest)) {
        struct found next;
        enum status s =
            search(r, palette, c, batch_ml, parts, RECIPE_BY_DIFFERENCE, limit, &next, why);
        if (s) return s;
        double is = next.result.best[0].difference;
        if (is <= FINER_GAINS * was || is <= OUT_OF_REACH) *found = next, was = is;
        if (parts == usual && next.result.out_of_reach && finest > usual) {
            struct found last; /* is it the grid, or do the paints not reach it? */
            s = search(r, palette, c, batch_ml, finest, RECIPE_BY_DIFFERENCE, limit, &last, why);
            if (s) return s;
            if (last.result.best[0].difference > FINER_GAINS * was) break;
        }
    }
    return OK;
}

static enum status mix(const struct room *r, const char *at, const struct palette *palette,
                       double batch_ml, const struct limit *limit, struct color_plan *c,
                       struct why *why) {
    int64_t said = r->piece->wanted.parts;
    struct found found;
    enum status s = search(r, palette, c, batch_ml, said > 0 ? (int)said : PARTS_USUAL,
                           RECIPE_BY_EXPECTED, limit, &found, why);
    if (!s) s = search_nearer(r, palette, c, batch_ml, said <= 0, limit, &found, why);
    if (s == E_IMPOSSIBLE) {
        note(r, c, RANK_MIND, "stock",
             "No mix of this color can be made from what is left on the shelf, in pours that can "
             "be measured. Buy paint, or put the stock and the jars' smallest pours right.");
        return OK;
    }
    if (s) return s;
    if (said <= 0)
        assume_number(r->ledger, ROOM_TEXT(r, "%s/wanted/parts", r->at), found.parts, DIM_NONE,
                      found.parts == PARTS_USUAL
                          ? "sixteenths are on every measuring cup"
                          : "sixteenths miss the color, and the batch is large enough for finer",
                      "CP");
    const struct recipe *best = &found.result.best[0];
    if ((s = lines_fill(r, &found.mixing, best, c)))
        return why_say(why, s, "", "%s", status_text(s));
    keep_lab(c, lab_d50_of_d65(best->lab));
    c->difference = best->difference;
    sample_doubt(palette->model, best->difference,
                 best->model_sd * best->model_sd + best->pour_sd * best->pour_sd,
                 &c->expected_difference, &c->difference_90);
    c->proven = found.result.proof.kind == RECIPE_OPTIMAL;
    c->bound = found.result.proof.bound;
    figures_explain(r, at, c, &found.result, palette->samples_n);
    if (c->difference > OUT_OF_REACH && (s = reach_note(r, &found.mixing, limit, c, why))) return s;
    color_notices(r, &found.mixing, c);
    return OK;
}

/* ---- the rooms' two calls ---- */

static enum status plan_one(const struct room *r, struct piece_plan *p, size_t row, double batch_ml,
                            const struct limit *limit, struct why *why) {
    struct color_plan *c = color_plan_row(p, row);
    const struct coat *coat = color_coat(p, row);
    const char *product = row ? c->product : r->piece->wanted.product; /* id, until it is named */
    *c = (struct color_plan){.target = row ? c->target : r->piece->wanted.color};
    unknown(c);
    if (!coat) return OK;
    const struct paint *can = product ? shelf_paint(r->shelf, product) : NULL;
    if (can) {
        from_the_can(r, can, c);
        return OK;
    }
    if (!c->target.text) {
        note(r, c, RANK_MIND, "color", "No color was named. Name one, or a product on the shelf.");
        return OK;
    }
    if (!row && r->piece->batch) return of_the_batch(r, r->piece->batch, c, why);
    if (!row && r->cup) {
        enum status s = r->cup_ml > 0 ? of_the_batch(r, r->cup, c, why) : OK;
        if (!s) say_cup(r, c);
        if (s || c->batch) return s;
    }
    if ((can = can_of_color(r, coat->class, c))) return of_one_can(r, can, c, why);
    c->mixes = palette_paints(r->t, r->shelf, coat->class) > 1;
    /* the days hang on what is in the mix only where one of its paints may spoil, or tells in how
     * many coats the mix hides */
    if (r->no_recipe && !palette_spoils(r->t, r->shelf, coat->class) &&
        !mix_film_known(r->t, r->shelf, coat->class))
        return OK;
    const struct palette *palette;
    enum status s =
        palettes_get(r->palettes, r->t, r->shelf, coat->class, r->ledger->arena, &palette, why);
    if (s) return s;
    if (!palette->n) {
        note(r, c, RANK_MIND, "shelf",
             "No paint of this kind with a known color is on the shelf. Buy it ready tinted, or "
             "enter the jars you own with their colors.");
        return OK;
    }
    return mix(r, color_at(r, row), palette, batch_ml, limit, c, why);
}

enum status color_plan_make(const struct room *r, struct piece_plan *p, const double *batch_ml,
                            const struct limit *limit, struct why *why) {
    enum status s = OK;
    for (size_t row = 0; row <= p->colors_n && !s; row++)
        s = plan_one(r, p, row, batch_ml[row], limit, why);
    return s;
}

/* ---- how the mixes hide ---- */

/* A jar that is used as it is was known before there was a recipe (core/work/coats_paint.c). */
static bool is_mixed(const struct color_plan *c) {
    return c->lines_n > 1 || (c->lines_n == 1 && !(c->difference <= COLOR_AS_IT_IS));
}

static enum status film_of_row(const struct room *r, struct piece_plan *p, size_t row,
                               struct mix_film *out, struct why *why) {
    const struct color_plan *c = color_plan_row(p, row);
    const struct coat *coat = color_coat(p, row);
    const struct palette *palette;
    double volume[SAMPLE_PAINTS_MAX] = {0};
    if (!coat || !is_mixed(c) || !mix_film_known(r->t, r->shelf, coat->class)) return OK;
    enum status s =
        palettes_get(r->palettes, r->t, r->shelf, coat->class, r->ledger->arena, &palette, why);
    if (s) return s;
    for (size_t i = 0; i < c->lines_n; i++) {
        const int at = palette_find(palette, c->lines[i].paint);
        if (at < 0) return OK; /* a batch may hold what has left the shelf */
        volume[at] += c->lines[i].parts;
    }
    struct mix_film m;
    mix_film_make(palette, volume, &m);
    if (m.tried) *out = m;
    return OK;
}

enum status color_plan_films(const struct room *r, struct piece_plan *p,
                             const struct mix_film **out, struct why *why) {
    struct mix_film *films = NULL;
    for (size_t row = 0; row <= p->colors_n; row++) {
        struct mix_film one = {0};
        enum status s = film_of_row(r, p, row, &one, why);
        if (s) return s;
        if (!one.jars) continue;
        if (!films) films = arena_array(r->ledger->arena, p->colors_n + 1, sizeof *films);
        if (!films) return why_no_memory(why);
        films[row] = one;
    }
    *out = films;
    return OK;
}

static double batch_of(const struct piece_plan *p, size_t row) {
    double batch = 0;
    for (size_t i = 0; i < p->amounts.n; i++)
        if (p->amounts.rows[i].role == ROLE_COLOR && p->amounts.rows[i].color_row == (int64_t)row)
            batch += p->amounts.rows[i].mix_ml;
    return batch;
}

bool color_plan_short(struct piece_plan *p, const struct shelf *shelf, double *out_batch_ml) {
    bool lacks = false;
    for (size_t row = 0; row <= p->colors_n; row++) {
        const struct color_plan *c = color_plan_row(p, row);
        double batch = out_batch_ml[row] = batch_of(p, row);
        for (size_t i = 0; i < c->lines_n; i++) {
            const struct paint *q = shelf_paint(shelf, c->lines[i].paint);
            lacks |= q && q->leftover_of_n && !isnan(q->stock_ml) &&
                     batch * c->lines[i].parts / (double)c->parts > q->stock_ml;
        }
    }
    return lacks;
}

enum status color_plan_pour(const struct room *r, struct piece_plan *p, struct why *why) {
    (void)why;
    for (size_t row = 0; row <= p->colors_n; row++) {
        struct color_plan *c = color_plan_row(p, row);
        double batch = c->batch ? NAN : batch_of(p, row); /* poured is poured */
        for (size_t i = 0; i < c->lines_n && batch > 0 && c->parts > 0; i++) {
            c->lines[i].ml = batch * c->lines[i].parts / (double)c->parts;
            struct basis *b = ledger_basis(
                r->ledger, ROOM_TEXT(r, "%s/lines/%zu/volume_ml", color_at(r, row), i),
                "the batch times this paint's share of the parts", "CP", CERTAINTY_EXACT);
            basis_number(r->ledger, b, "batch", batch, DIM_VOLUME);
            basis_number(r->ledger, b, "parts of this paint", c->lines[i].parts, DIM_NONE);
            basis_number(r->ledger, b, "parts in all", (double)c->parts, DIM_NONE);
        }
    }
    return OK;
}
