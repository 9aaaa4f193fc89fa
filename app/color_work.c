#include "app/color_work.h"

#include "app/color_reach.h"
#include "app/patience.h"
#include "core/color/color.h"
#include "core/recipe/finer.h"
#include "core/recipe/recipe.h"
#include "core/work/palette.h"

#include <math.h>
#include <string.h>

enum { BEST = 8 };
#define NEAR_SHARE 0.25 /* of the time, for the nearest on paper */
#define SAME_COLOR 0.05 /* as written with three decimals */

static void lab_keep(double out[3], struct lab c) {
    out[0] = c.l;
    out[1] = c.a;
    out[2] = c.b;
}

/* ---- recipes ---- */

struct search {
    const struct tables *t;
    const struct palette *palette;
    const struct recipe_ask *ask;
    struct arena *arena;
    struct recipe_paint *paints; /* [palette->n], and their pigments */
    struct pigment *pigments;
    struct recipe_problem problem;
    struct upsampled target;
    struct recipe_result found;
};

/* With real amounts, no more than there is and no less than can be poured; a leftover cannot be
 * bought again. */
static void amounts_bind(const struct search *s, const struct paint *p, struct recipe_paint *out) {
    double part_ml = s->ask->part_ml;
    if (!(part_ml > 0)) return;
    double least = fmax(s->ask->measuring.least_ml, p->smallest_ml > 0 ? p->smallest_ml : 0);
    out->pour_min = (int)fmin(RECIPE_PARTS_MAX, ceil(least / part_ml - 1e-9));
    out->cost_cent *= part_ml;
    if (isnan(p->stock_ml) || (s->ask->buy && !out->leftover)) return;
    int most = (int)fmin(RECIPE_PARTS_MAX, floor(p->stock_ml / part_ml + 1e-9));
    out->pour_max = most;
    if (most < (out->pour_min > 1 ? out->pour_min : 1)) {
        out->pour_min = out->pour_max = 0;
        out->use = RECIPE_NEVER;
    }
}

static bool among(const char *const *ids, size_t n, const char *id) {
    for (size_t i = 0; i < n; i++)
        if (!strcmp(ids[i], id)) return true;
    return false;
}

/* Another can of a paint that is offered already; one that was named is wanted for itself. */
static bool can_spare(const struct search *s, size_t row) {
    const struct recipe_ask *ask = s->ask;
    const char *id = s->palette->paints[row].paint->id;
    if (among(ask->only, ask->only_n, id) || among(ask->must, ask->must_n, id)) return false;
    return palette_can_spare(s->palette, row, ask->buy ? 0 : (double)ask->parts * ask->part_ml);
}

static void paints_offer(struct search *s) {
    for (size_t i = 0; i < s->palette->n; i++) {
        const struct paint *p = s->palette->paints[i].paint;
        s->pigments[i] = s->palette->paints[i].pigment;
        bool priced = p->size_ml > 0 && !isnan(p->cost_cent), left = p->leftover_of_n > 0;
        bool gone = (p->stock_ml == 0 && (left || !s->ask->buy)) || can_spare(s, i);
        s->paints[i] = (struct recipe_paint){.pigment = &s->palette->paints[i].pigment,
                                             .use = gone ? RECIPE_NEVER : RECIPE_MAY,
                                             .cost_cent = priced ? p->cost_cent / p->size_ml : 0,
                                             .leftover = left,
                                             .binder = s->palette->paints[i].binder};
        amounts_bind(s, p, &s->paints[i]);
    }
}

/* The rows of a list of ids; /only/0 and the like at fault. */
static enum status rows_find(struct search *s, const char *const *ids, size_t n, const char *list,
                             int *out, struct why *why) {
    enum status st = OK;
    for (size_t i = 0; i < n && !st; i++)
        st = palette_need(s->palette, ids[i], arena_print(s->arena, "/%s/%zu", list, i), &out[i],
                          why);
    return st;
}

static enum status uses_set(struct search *s, struct why *why) {
    const struct recipe_ask *ask = s->ask;
    const size_t most = ask->only_n + ask->never_n + ask->must_n;
    int *row = arena_array(s->arena, most + 1, sizeof *row);
    bool *only = arena_array(s->arena, s->palette->n, sizeof *only);
    enum status st;
    if (!row || !only) return why_no_memory(why);
    if ((st = rows_find(s, ask->only, ask->only_n, "only", row, why))) return st;
    for (size_t i = 0; i < ask->only_n; i++) only[row[i]] = true;
    for (size_t i = 0; i < s->palette->n && ask->only_n; i++)
        if (!only[i]) s->paints[i].use = RECIPE_NEVER;
    if ((st = rows_find(s, ask->never, ask->never_n, "never", row, why))) return st;
    for (size_t i = 0; i < ask->never_n; i++) s->paints[row[i]].use = RECIPE_NEVER;
    if ((st = rows_find(s, ask->must, ask->must_n, "must", row, why))) return st;
    for (size_t i = 0; i < ask->must_n; i++) {
        if (s->paints[row[i]].use == RECIPE_NEVER)
            return why_say(why, E_IMPOSSIBLE, arena_print(s->arena, "/must/%zu", i),
                           "\"%s\" cannot be poured: none is left, or it is ruled out. Count the "
                           "stock, or say that paint may be bought.",
                           ask->must[i]);
        if (s->paints[row[i]].binder != s->paints[row[0]].binder)
            return why_say(why, E_IMPOSSIBLE, arena_print(s->arena, "/must/%zu", i),
                           "\"%s\" and \"%s\" are of two kinds of paint that do not mix. Name "
                           "paints of one kind.",
                           ask->must[0], ask->must[i]);
        s->paints[row[i]].use = RECIPE_MUST;
    }
    return OK;
}

static enum status batch_set(struct search *s, struct why *why) {
    for (size_t i = 0; i < s->ask->batch_n; i++) {
        double parts = s->ask->batch[i].parts;
        int row;
        enum status st = palette_need(s->palette, s->ask->batch[i].paint,
                                      arena_print(s->arena, "/batch/%zu/paint", i), &row, why);
        if (st) return st;
        if (!(parts >= 0 && parts <= RECIPE_PARTS_MAX))
            return why_say(why, E_DOMAIN, arena_print(s->arena, "/batch/%zu/parts", i),
                           "Write 0 to %d parts.", RECIPE_PARTS_MAX);
        s->paints[row].in_batch = (int)lround(parts);
    }
    return OK;
}

static enum status ask_check(const struct recipe_ask *ask, struct why *why) {
    if (!ask->target.text)
        return why_say(why, E_MISSING, "/target",
                       "The target is missing. Write a CSS color such as #1c6a70.");
    if (ask->paints < 1 || ask->paints > RECIPE_ITEMS_MAX)
        return why_say(why, E_DOMAIN, "/paints", "A recipe has 1 to %d paints.", RECIPE_ITEMS_MAX);
    if (ask->parts < 1 || ask->parts > RECIPE_PARTS_MAX)
        return why_say(why, E_DOMAIN, "/parts", "A recipe has 1 to %d parts.", RECIPE_PARTS_MAX);
    return OK;
}

static bool same_items(const struct recipe *a, const struct recipe *b) {
    bool same = a->items_n == b->items_n;
    for (size_t i = 0; i < a->items_n && same; i++)
        same = a->items[i].paint == b->items[i].paint && a->items[i].parts == b->items[i].parts;
    return same;
}

/* Beside the surest stands the nearest on paper: while little is learnt the surest keep far from
 * the target, and who mixes a card of the nearest learns most. It also says what is in reach, which
 * a bound with doubt in it does not. */
static enum status nearest_add(struct search *s, const struct recipe_result *near,
                               struct why *why) {
    s->found.out_of_reach = near->out_of_reach;
    struct recipe *all = arena_array(s->arena, s->found.best_n + 1, sizeof *all);
    if (!all) return why_no_memory(why);
    for (size_t i = 0; i < s->found.best_n; i++) {
        if (same_items(&s->found.best[i], &near->best[0])) return OK;
        all[i] = s->found.best[i];
    }
    all[s->found.best_n++] = near->best[0];
    s->found.best = all;
    return OK;
}

/* Adapted from D50, for a written color is nothing more. Of a measured one the reflectance tells
 * what it is under D65: about half a unit elsewhere. */
static struct lab target_d65(const struct search *s) {
    const struct palette *p = s->palette;
    const struct spectrum *r = s->ask->reflectance;
    struct lab said = color_lab(&s->ask->target);
    if (r && ciede2000(lab_of_xyz(xyz_of_spectrum(&p->d50, r), p->d50.white), said) < SAME_COLOR)
        return lab_of_xyz(xyz_of_spectrum(&p->d65, r), p->d65.white);
    return lab_d65_of_d50(said);
}

static struct limit search_limit(const struct search *s, struct patience *p, struct limit limit,
                                 double share) {
    return s->ask->seconds > 0 ? patience_limit(p, limit, share * s->ask->seconds) : limit;
}

static enum status search_run(struct search *s, struct limit limit, struct why *why) {
    const struct palette *p = s->palette;
    s->problem = (struct recipe_problem){.paints = s->paints,
                                         .paints_n = p->n,
                                         .target = target_d65(s),
                                         .items_max = (int)s->ask->paints,
                                         .parts = (int)s->ask->parts,
                                         .objective = s->ask->by_expected ? RECIPE_BY_EXPECTED
                                                                          : RECIPE_BY_DIFFERENCE,
                                         .variance = palette_variance,
                                         .variance_ctx = (void *)(uintptr_t)p,
                                         .variance_key = p->key,
                                         .pour_sd_parts = PALETTE_POUR_SD_PARTS,
                                         .best_max = BEST,
                                         .tradeoff = true,
                                         .window = 3,
                                         .d65 = &p->d65,
                                         .a = &p->a,
                                         .led = &p->led};
    s->target = upsample_color(&p->d50, color_lab(&s->ask->target));
    if (s->ask->reflectance) s->target.spectrum = *s->ask->reflectance;
    s->problem.target_reflectance = &s->target.spectrum;
    const bool sure = s->ask->by_expected;
    struct recipe_problem by_difference = s->problem;
    struct recipe_result near;
    struct patience brief, patient;
    enum status st = OK;
    by_difference.objective = RECIPE_BY_DIFFERENCE;
    by_difference.tradeoff = false;
    by_difference.best_max = 1;
    if (sure) {
        const struct limit short_one = search_limit(s, &brief, limit, NEAR_SHARE);
        st = recipe_search(&by_difference, &short_one, s->arena, &near, why);
    }
    limit = search_limit(s, &patient, limit, sure ? 1 - NEAR_SHARE : 1);
    if (!st) st = recipe_search(&s->problem, &limit, s->arena, &s->found, why);
    if (!st && sure) st = nearest_add(s, &near, why);
    if (st != E_IMPOSSIBLE) return st;
    return why_say(why, st, "/amount",
                   "What is left of these paints does not make so much. Ask for less, allow other "
                   "paints or smaller pours, count the stock, or say that paint may be bought.");
}

static enum status row_fill(const struct search *s, const struct recipe *r,
                            struct recipe_found *out) {
    struct lab d50 = lab_d50_of_d65(r->lab);
    double limit90, expected;
    sample_doubt(s->palette->model, r->difference,
                 r->model_sd * r->model_sd + r->pour_sd * r->pour_sd, &expected, &limit90);
    *out = (struct recipe_found){.items = arena_array(s->arena, r->items_n, sizeof *out->items),
                                 .items_n = r->items_n,
                                 .parts = r->total,
                                 .hex = color_swatch(s->arena, d50),
                                 .difference = r->difference,
                                 .expected_difference = expected,
                                 .difference_90 = limit90,
                                 .metamerism = r->metamerism,
                                 .cost_cent = r->cost_cent,
                                 .pour_error = r->pour_sd,
                                 .leftover_parts = r->leftover_parts,
                                 .proven = r->proven,
                                 .proof = {NULL, NAN, NAN, INT64_MIN, INT64_MIN}};
    if (!out->items || !out->hex) return E_MEMORY;
    lab_keep(out->lab, d50);
    double *volume = arena_array(s->arena, s->palette->n + 1, sizeof *volume);
    if (!volume) return E_MEMORY;
    for (size_t i = 0; i < s->palette->n; i++) volume[i] = s->paints[i].in_batch;
    for (size_t i = 0; i < r->items_n; i++) volume[r->items[i].paint] += r->items[i].parts;
    struct spectrum seen = pigment_mix_reflectance(s->pigments, volume, s->palette->n);
    if (!looks_fill(s->palette, &seen, s->problem.target_reflectance, s->arena, &out->lights,
                    &out->lights_n))
        return E_MEMORY;
    for (size_t i = 0; i < r->items_n; i++) {
        const struct paint *p = s->palette->paints[r->items[i].paint].paint;
        double ml = s->ask->part_ml > 0 ? r->items[i].parts * s->ask->part_ml : NAN;
        if (!(p->size_ml > 0 && !isnan(p->cost_cent)) && !p->leftover_of_n)
            out->cost_cent = NAN; /* nobody said what it costs: no sum, and not the cheapest */
        out->items[i] = (struct recipe_answer_item){
            p->id, p->name ? p->name : p->id, r->items[i].parts, ml,
            isnan(ml) ? NULL : measuring_text(&s->ask->measuring, s->t, p, ml, s->arena)};
        if (!isnan(ml) && !out->items[i].text) return E_MEMORY;
    }
    return OK;
}

static enum status rows_fill(const struct search *s, const struct recipe *rows, size_t n,
                             struct recipe_found **out, size_t *out_n) {
    *out = arena_array(s->arena, n, sizeof **out);
    if (!*out) return E_MEMORY;
    for (size_t i = 0; i < n; i++)
        if (row_fill(s, &rows[i], &(*out)[i])) return E_MEMORY;
    *out_n = n;
    return OK;
}

enum { FINER_STEPS = 100000 }; /* of each finer grid that is looked at */

/* Why nothing came near: the shelf does not reach it, or what is asked binds too tightly. *out
 * NULL: it is not known. Errors: E_MEMORY. */
static enum status reach_advice(const struct search *s, const struct shelf *shelf,
                                struct limit limit, const char **out) {
    struct reach_answer reach;
    *out = NULL;
    if (!s->ask->reflectance && !s->target.reached) {
        *out = "No paint at all can have this color: it is stronger than a surface can reflect. "
               "The nearest that the shelf makes is shown.";
        return OK;
    }
    struct limit brief = limit;
    brief.steps = FINER_STEPS;
    int parts = 0;
    enum status st = recipe_finer(&s->problem, &brief, s->arena, &parts, NULL);
    if (st == E_MEMORY) return st;
    if (!st && parts) {
        *out = arena_print(s->arena, RECIPE_FINER_TEXT, parts, s->problem.parts);
        return *out ? OK : E_MEMORY;
    }
    st = color_reach(s->t, shelf, s->ask->class, &s->ask->target, limit, s->arena, &reach, NULL);
    if (st) return st == E_MEMORY ? st : OK;
    *out = !reach.inside ? reach.text
           : s->ask->part_ml > 0
               ? "The shelf reaches this color, but not with so few paints or with what is left of "
                 "them. Allow one paint more, mix less, or buy."
               : "The shelf reaches this color, but not with so few paints. Allow one paint more.";
    return OK;
}

enum status color_recipes(const struct tables *t, const struct shelf *shelf,
                          const struct recipe_ask *ask, struct limit limit, struct arena *arena,
                          struct recipe_answer *out, struct why *why) {
    enum status st = ask_check(ask, why);
    if (st) return st;
    struct palette palette;
    if ((st = palette_make(t, shelf, ask->class, arena, &palette, why))) return st;
    if (!palette.n)
        return why_say(why, E_MISSING, "/shelf/paints",
                       "The shelf holds no paint whose color is known. Enter at least one with a "
                       "color, such as \"color\": \"#f4f2ec\".");
    struct search s = {.t = t, .palette = &palette, .ask = ask, .arena = arena};
    s.paints = arena_array(arena, palette.n, sizeof *s.paints);
    s.pigments = arena_array(arena, palette.n, sizeof *s.pigments);
    if (!s.paints || !s.pigments) return why_no_memory(why);
    paints_offer(&s);
    if ((st = uses_set(&s, why)) || (st = batch_set(&s, why)) || (st = search_run(&s, limit, why)))
        return st;
    struct recipe_answer a = {.target = ask->target,
                              .target_hex = color_swatch(arena, color_lab(&ask->target)),
                              .parts = ask->parts,
                              .part_ml = ask->part_ml > 0 ? ask->part_ml : NAN,
                              .out_of_reach = s.found.out_of_reach};
    if (!looks_fill(&palette, s.problem.target_reflectance, NULL, arena, &a.target_lights,
                    &a.target_lights_n))
        return why_no_memory(why);
    const struct recipe_proof *proof = &s.found.proof;
    a.proof = (struct recipe_proof_row){proof->kind == RECIPE_OPTIMAL ? "optimal" : "limit",
                                        proof->bound, proof->grid_points, (int64_t)proof->points,
                                        (int64_t)proof->cells};
    if (rows_fill(&s, s.found.best, s.found.best_n, &a.recipes, &a.recipes_n) ||
        rows_fill(&s, s.found.tradeoff, s.found.tradeoff_n, &a.tradeoff, &a.tradeoff_n))
        return why_no_memory(why);
    if (a.recipes_n) a.recipes[0].proof = a.proof;
    if (a.out_of_reach && reach_advice(&s, shelf, limit, &a.advice)) return why_no_memory(why);
    if (palette.left_out)
        a.left_out = arena_print(arena,
                                 "%zu paint%s of the shelf %s not looked at: a search takes %d, "
                                 "jars with something in them first. Take off the shelf what is "
                                 "used up, or name a kind of paint.",
                                 palette.left_out, palette.left_out == 1 ? "" : "s",
                                 palette.left_out == 1 ? "was" : "were", SAMPLE_PAINTS_MAX);
    if (!a.target_hex || (palette.left_out && !a.left_out)) return why_no_memory(why);
    *out = a;
    return OK;
}

/* ---- descriptions ---- */

static const struct field item_fields[] = {
    F_TEXT(struct recipe_answer_item, paint, "id of the paint"),
    F_TEXT(struct recipe_answer_item, name, "its name"),
    F_INT(struct recipe_answer_item, parts, 0, 0, "parts by volume to pour"),
    F_QTY(struct recipe_answer_item, amount, amount_ml, DIM_VOLUME, 0, 0, "the same as an amount"),
    F_TEXT(struct recipe_answer_item, text, "as it is measured: 3 1/2 fl oz"),
};
DESC(desc_recipe_item, struct recipe_answer_item, "recipe_item", "One paint of a recipe.",
     item_fields);

#define LAB_OF(S, h)                                                                               \
    { .name = "lab", .offset = offsetof(S, lab), .type = FIELD_NUMBERS, .fixed = 3, .help = h }

static const struct field proof_fields[] = {
    F_TEXT(struct recipe_proof_row, kind, "optimal, or limit: ended before the proof"),
    F_NUM(struct recipe_proof_row, bound, 0, 0, "no recipe on the grid is better than this"),
    F_NUM(struct recipe_proof_row, grid_points, 0, 0, "recipes on the grid"),
    F_INT(struct recipe_proof_row, points, 0, 0, "computed one by one"),
    F_INT(struct recipe_proof_row, cells, 0, 0, "groups of them bounded as a whole"),
};
static DESC(desc_proof, struct recipe_proof_row, "recipe_proof", "How sure the best is the best.",
            proof_fields);

static const struct field row_fields[] = {
    F_LIST(struct recipe_found, items, &desc_recipe_item, 64, "what to pour"),
    F_INT(struct recipe_found, parts, 0, 0, "parts in all"),
    LAB_OF(struct recipe_found, "predicted color, CSS Lab D50"),
    F_TEXT(struct recipe_found, hex, "on a screen, #rrggbb"),
    F_LIST(struct recipe_found, lights, &desc_look, LIGHT_LOOKS, "under daylight, lamp and LED"),
    F_NUM(struct recipe_found, difference, 0, 0, "CIEDE2000 to the target under D65, 2 degree"),
    F_NUM(struct recipe_found, expected_difference, 0, 0, "to expect, doubt included"),
    F_NUM(struct recipe_found, difference_90, 0, 0, "9 of 10 mixes stay below"),
    F_NUM(struct recipe_found, metamerism, 0, 0, "worst difference under an evening lamp and LED"),
    F_QTY(struct recipe_found, cost, cost_cent, DIM_MONEY, 0, 0,
          "of the whole mix; of one milliliter a part where no amount was asked; left out where a "
          "price is not known"),
    F_NUM(struct recipe_found, pour_error, 0, 0,
          "how far pours off by their reading error carry it"),
    F_INT(struct recipe_found, leftover_parts, 0, 0, "parts poured from leftovers"),
    F_BOOL(struct recipe_found, proven, "nothing on the grid beats it"),
    {F_AT(struct recipe_found, proof), .type = FIELD_RECORD, .flags = FLAG_NULL, .of = &desc_proof,
     .help = "of the first, as it stands beside the list; null of the others"},
};
static DESC(desc_recipe_row, struct recipe_found, "recipe", "One recipe.", row_fields);

static const struct field answer_fields[] = {
    F_COLOR(struct recipe_answer, target, "the color wanted"),
    F_TEXT(struct recipe_answer, target_hex, "on a screen, #rrggbb"),
    F_LIST(struct recipe_answer, recipes, &desc_recipe_row, 64,
           "best first; where the surest are wanted, the nearest on paper is the last of them"),
    F_LIST(struct recipe_answer, tradeoff, &desc_recipe_row, 100000,
           "each better than any other in something"),
    F_RECORD(struct recipe_answer, proof, &desc_proof, "proof"),
    F_INT(struct recipe_answer, parts, 0, 0, "parts of the measuring grid"),
    F_QTY(struct recipe_answer, part, part_ml, DIM_VOLUME, 0, 0, "one part, where amounts count"),
    F_LIST(struct recipe_answer, target_lights, &desc_look, LIGHT_LOOKS,
           "the target itself under daylight, lamp and LED"),
    F_TEXT(struct recipe_answer, left_out, "why some paints of the shelf were not looked at"),
    F_TEXT(struct recipe_answer, coarse, "why it makes more or less than was asked"),
    F_BOOL(struct recipe_answer, out_of_reach, "the shelf cannot make this color"),
    F_TEXT(struct recipe_answer, advice, "what would extend the reach"),
};
DESC(desc_recipe_answer, struct recipe_answer, "recipes", "Recipes for a color.", answer_fields);
