#include "app/color_correct.h"

#include "codec/units_text.h"
#include "core/color/color.h"
#include "core/recipe/correct.h"
#include "core/work/palette.h"

#include <math.h>
#include <string.h>

/* Predicted differences to aim at: with the doubt that stays, most then dry within 1. Where that
 * cannot be had, what is not seen (1) will do. */
#define GOOD 0.7
#define UNSEEN 1.0

enum { CORRECT_PARTS = 64, CORRECT_PARTS_MAX = 128 };

static const char *name_of(const struct palette *p, size_t row) {
    const struct paint *q = p->paints[row].paint;
    return q->name ? q->name : q->id;
}

/* The shelf with the batch's own reading among its samples. */
static enum status shelf_with(const struct shelf *shelf, const struct correct_ask *ask,
                              struct arena *a, struct shelf *out) {
    *out = *shelf;
    if (ask->logged) return OK;
    out->samples = arena_array(a, shelf->samples_n + 1, sizeof *out->samples);
    if (!out->samples) return E_MEMORY;
    if (shelf->samples_n)
        memcpy(out->samples, shelf->samples, shelf->samples_n * sizeof *out->samples);
    out->samples[out->samples_n++] =
        (struct sample){.id = "batch",
                        .items = ask->items,
                        .items_n = ask->items_n,
                        .color = ask->dried,
                        .read = ask->read ? ask->read : READ_INSTRUMENT};
    return OK;
}

/* The paints of the palette, and behind them the batch as one paint that is not poured. So its
 * contents stay exact, whatever grid the additions are measured on. */
struct correcting {
    const struct tables *t;
    const struct correct_ask *ask;
    struct palette palette;
    struct recipe_paint *paints; /* [palette.n + 1] */
    double *volume;              /* parts in the batch over the palette, as said */
    double sum;                  /* of them */
    struct pigment batch;
    int binder;              /* of what is in it */
    int held;                /* parts of the grid that the batch is */
    double need_ml, most_ml; /* in the end */
    double part_ml;
    struct lab aim; /* D65: the target, less what the model cannot explain of the reading */
    struct lab carried;
    double fresh_part_ml;
    double worth; /* of the reading against the model's own discrepancy, 0..1 */
    struct upsampled target;
    struct correction found;
};

static enum status volumes(struct correcting *c, struct arena *a, struct why *why) {
    const struct palette *p = &c->palette;
    c->volume = arena_array(a, p->n + 1, sizeof *c->volume);
    if (!c->volume) return why_no_memory(why);
    for (size_t i = 0; i < c->ask->items_n; i++) {
        const struct mix_item *item = &c->ask->items[i];
        int row = palette_find(p, item->paint);
        if (row < 0)
            return why_say(why, E_REFERENCE, arena_print(a, "/items/%zu/paint", i),
                           "\"%s\" is no paint with a known color on this shelf.", item->paint);
        c->volume[row] += item->parts;
        c->sum += item->parts;
        if (item->parts > 0) c->binder = p->paints[row].binder;
    }
    return c->sum > 0 ? OK : why_say(why, E_MISSING, "/items", "Say what is in the batch.");
}

/* How much is needed in the end, and how much may become of it. */
static enum status sizes_set(struct correcting *c, struct why *why) {
    const struct correct_ask *ask = c->ask;
    char least[64];
    c->need_ml = isnan(ask->need_ml) ? ask->batch_ml : ask->need_ml;
    c->most_ml = isnan(ask->most_ml) ? fmax(2 * ask->batch_ml, c->need_ml) : ask->most_ml;
    if (c->most_ml >= ask->batch_ml && c->most_ml >= c->need_ml) return OK;
    units_print(DIM_VOLUME, UNITS_US, fmax(ask->batch_ml, c->need_ml), least, sizeof least);
    return why_say(why, E_DOMAIN, "/most",
                   "That is less than what it holds or what is needed. Write at least %s.", least);
}

static void grid_choose(struct correcting *c) {
    double part = c->ask->part_ml > 0 ? c->ask->part_ml : c->ask->batch_ml / CORRECT_PARTS;
    while (c->ask->batch_ml / part > CORRECT_PARTS_MAX || c->most_ml / part > RECIPE_PARTS_MAX)
        part *= 2;
    c->held = (int)fmax(1, round(c->ask->batch_ml / part));
    c->part_ml = c->ask->batch_ml / c->held;
}

/* A paint of the palette with its stock in parts of that size. */
static struct recipe_paint paint_offered(const struct correcting *c, size_t i, double part_ml) {
    const struct paint *q = c->palette.paints[i].paint;
    bool priced = q->size_ml > 0 && !isnan(q->cost_cent);
    int most =
        isnan(q->stock_ml) ? 0 : (int)fmin(RECIPE_PARTS_MAX, floor(q->stock_ml / part_ml + 1e-9));
    bool none = (!isnan(q->stock_ml) && most < 1) || palette_can_spare(&c->palette, i, c->need_ml);
    return (struct recipe_paint){.pigment = &c->palette.paints[i].pigment,
                                 .use = none ? RECIPE_NEVER : RECIPE_MAY,
                                 .pour_max = most,
                                 .leftover = q->leftover_of_n > 0,
                                 .binder = c->palette.paints[i].binder,
                                 .cost_cent = priced ? q->cost_cent / q->size_ml * part_ml : 0};
}

static enum status paints_make(struct correcting *c, struct arena *a, struct why *why) {
    const struct palette *p = &c->palette;
    struct pigment *all = arena_array(a, p->n + 1, sizeof *all);
    c->paints = arena_array(a, p->n + 1, sizeof *c->paints);
    if (!all || !c->paints) return why_no_memory(why);
    for (size_t i = 0; i < p->n; i++) {
        all[i] = p->paints[i].pigment;
        c->paints[i] = paint_offered(c, i, c->part_ml);
    }
    c->batch = pigment_mix(all, c->volume, p->n);
    c->paints[p->n] = (struct recipe_paint){
        .pigment = &c->batch, .use = RECIPE_NEVER, .binder = c->binder, .in_batch = c->held};
    return OK;
}

/* recipe_variance over the palette and the batch behind it. */
static double variance_with_batch(void *ctx, const int *parts, size_t n) {
    const struct correcting *c = ctx;
    const struct palette *p = &c->palette;
    double volume[SAMPLE_PAINTS_MAX], model[SAMPLE_PAINTS_MAX] = {0};
    double each = n > p->n ? parts[p->n] / c->sum : 0;
    for (size_t i = 0; i < p->n; i++) {
        volume[i] = parts[i] + each * c->volume[i];
        const struct sample_mix *of = &p->paints[i].made_of;
        double sum = 0;
        for (size_t k = 0; k < of->n; k++) sum += of->volume[k];
        for (size_t k = 0; k < of->n && volume[i] > 0; k++)
            model[of->paint[k]] += volume[i] * of->volume[k] / sum;
    }
    return sample_variance(p->model, model, p->model_n);
}

/* How far the fitted model still stays from the reading, as much of it as the reading is worth:
 * that goes into the aim, so that it is not met again. */
static void aim_set(struct correcting *c) {
    const struct palette *p = &c->palette;
    struct lab wanted = lab_d65_of_d50(color_lab(&c->ask->target));
    struct lab dried = lab_d65_of_d50(color_lab(&c->ask->dried));
    struct spectrum seen = pigment_reflectance(&c->batch);
    struct lab fitted = lab_of_xyz(xyz_of_spectrum(&p->d65, &seen), p->d65.white);
    double real = sample_discrepancy(p->model),
           read = palette_reading_sd(c->ask->read ? c->ask->read : READ_INSTRUMENT);
    c->worth = real * real / (real * real + read * read);
    c->carried = (struct lab){c->worth * (dried.l - fitted.l), c->worth * (dried.a - fitted.a),
                              c->worth * (dried.b - fitted.b)};
    c->aim = (struct lab){fmin(fmax(wanted.l - c->carried.l, 0), 100), wanted.a - c->carried.a,
                          wanted.b - c->carried.b};
}

static enum status correcting_run(struct correcting *c, struct limit limit, struct arena *a,
                                  struct why *why) {
    const struct palette *p = &c->palette;
    const struct correct_ask *ask = c->ask;
    aim_set(c);
    c->target = upsample_color(&p->d50, color_lab(&ask->target));
    struct correct_problem q = {
        .recipe = {.paints = c->paints,
                   .paints_n = p->n + 1,
                   .target = c->aim,
                   .target_reflectance = &c->target.spectrum,
                   .items_max = ask->paints == INT64_MIN ? 3 : (int)ask->paints,
                   .parts = c->held,
                   .objective = RECIPE_BY_DIFFERENCE,
                   .variance = variance_with_batch,
                   .variance_ctx = c,
                   .pour_sd_parts = PALETTE_POUR_SD_PARTS,
                   .d65 = &p->d65,
                   .a = &p->a,
                   .led = &p->led},
        .batch_ml = ask->batch_ml,
        .need_ml = c->need_ml,
        .most_ml = c->most_ml,
        .good = isnan(ask->good) ? GOOD : ask->good};
    enum status s = correct_batch(&q, &limit, a, &c->found, why);
    if (s == E_IMPOSSIBLE)
        return why_say(why, s, "/need",
                       "What is left of these paints does not make so much of it. Ask for less, "
                       "count the stock, or buy.");
    if (s || c->found.advice != CORRECT_NEITHER || !isnan(ask->good)) return s;
    q.good = UNSEEN;
    return correct_batch(&q, &limit, a, &c->found, why);
}

/* ---- or a fresh one ---- */

/* From nothing and at the target itself: what was carried over belongs to the old shares. No
 * fresh recipe, where stocks are too small for one, is no error. */
static enum status fresh_search(struct correcting *c, struct limit limit, struct arena *a,
                                struct why *why) {
    const struct palette *p = &c->palette;
    struct correction *k = &c->found;
    double want_ml = c->need_ml;
    int64_t parts;
    double part_ml;
    const int64_t items = c->ask->paints == INT64_MIN ? 3 : c->ask->paints;
    const bool measured = c->ask->part_ml > 0;
    struct measuring step = {.step_ml = measured ? c->ask->part_ml : c->part_ml,
                             .measure = measured ? c->ask->measuring.measure : MEASURE_UNSAID};
    struct recipe_result r;
    k->fresh.items_n = 0;
    if (!(want_ml > 0)) return OK;
    measuring_grid(&step, want_ml, measuring_parts_max(&step, p->n, items, true), &parts, &part_ml);
    struct recipe_paint *paints = arena_array(a, p->n, sizeof *paints);
    if (!paints) return why_no_memory(why);
    for (size_t i = 0; i < p->n; i++) {
        paints[i] = paint_offered(c, i, part_ml);
        if (paints[i].binder != c->binder)
            paints[i].use = RECIPE_NEVER; /* the piece wants its kind */
    }
    struct recipe_problem q = {.paints = paints,
                               .paints_n = p->n,
                               .target = lab_d65_of_d50(color_lab(&c->ask->target)),
                               .target_reflectance = &c->target.spectrum,
                               .items_max = (int)items,
                               .parts = (int)parts,
                               .objective = RECIPE_BY_EXPECTED,
                               .variance = palette_variance,
                               .variance_ctx = &c->palette,
                               .pour_sd_parts = PALETTE_POUR_SD_PARTS,
                               .best_max = 1,
                               .d65 = &p->d65,
                               .a = &p->a,
                               .led = &p->led};
    enum status s = recipe_search(&q, &limit, a, &r, why);
    if (s) return s == E_IMPOSSIBLE ? OK : s;
    k->fresh = r.best[0];
    k->fresh_ml = (double)parts * part_ml;
    k->fresh_cent = r.best[0].cost_cent;
    c->fresh_part_ml = part_ml;
    return OK;
}

/* ---- the answer ---- */

static const char *amount_text(const struct correcting *c, const struct paint *p, double ml,
                               struct arena *a) {
    if (c->ask->part_ml > 0) return measuring_text(&c->ask->measuring, c->t, p, ml, a);
    return units_text(a, DIM_VOLUME, UNITS_US, ml);
}

static enum status pours_fill(const struct correcting *c, const struct recipe *r, double part_ml,
                              struct arena *a, struct add_row **out, size_t *out_n) {
    *out = arena_array(a, r->items_n, sizeof **out);
    if (!*out) return E_MEMORY;
    for (size_t i = 0; i < r->items_n; i++) {
        const struct paint *p = c->palette.paints[r->items[i].paint].paint;
        double ml = r->items[i].parts * part_ml;
        const char *text = amount_text(c, p, ml, a);
        if (!text) return E_MEMORY;
        (*out)[(*out_n)++] =
            (struct add_row){p->id, name_of(&c->palette, r->items[i].paint), text, ml};
    }
    return OK;
}

static const char *pours_text(const struct add_row *rows, size_t n, struct arena *a) {
    const char *text = "";
    for (size_t i = 0; i < n && text; i++)
        text = arena_print(a, "%s%s%s of %s", text, i ? ", " : "", rows[i].text, rows[i].name);
    return text;
}

/* Did somebody say what each of its paints costs? What is left over costs nothing more. */
static bool all_priced(const struct correcting *c, const struct recipe *r) {
    bool all = true;
    for (size_t i = 0; i < r->items_n; i++) {
        const struct paint *p = c->palette.paints[r->items[i].paint].paint;
        all = all && (p->leftover_of_n || (p->size_ml > 0 && !isnan(p->cost_cent)));
    }
    return all;
}

static const char *money_text(double cent, struct arena *a) {
    return units_text(a, DIM_MONEY, UNITS_US, cent);
}

static const char *advice_text(const struct correct_answer *r, struct arena *a) {
    const char *adds = pours_text(r->add, r->add_n, a),
               *fresh = pours_text(r->fresh, r->fresh_n, a);
    if (!adds || !fresh) return NULL;
    switch (r->kind) {
    case CORRECT_LEAVE: return "Leave it: it is near enough, and there is enough of it.";
    case CORRECT_ADD:
        return arena_print(a, "Add %s. Stir, paint a card and let it dry before going on.", adds);
    case CORRECT_RESTART:
        return r->fresh_cent < r->add_cent
                   ? arena_print(a,
                                 "Start again with %s: that costs %s, the addition would cost %s. "
                                 "Keep the old batch as a leftover.",
                                 fresh, money_text(r->fresh_cent, a), money_text(r->add_cent, a))
                   : arena_print(a,
                                 "Start again with %s: adding cannot bring it near enough. Keep "
                                 "the old batch as a leftover.",
                                 fresh);
    case CORRECT_NEITHER:
        return r->add_n
                   ? arena_print(
                         a, "Nothing on the shelf brings it near enough; nearest is to add %s.",
                         adds)
                   : "Nothing on the shelf brings it nearer than it is.";
    }
    return "";
}

/* Parts of what is in it then, in the parts that were said. */
static enum status contents_fill(const struct correcting *c, struct arena *a,
                                 struct correct_answer *out) {
    const struct palette *p = &c->palette;
    out->batch = arena_array(a, p->n, sizeof *out->batch);
    if (!out->batch) return E_MEMORY;
    for (size_t i = 0; i < p->n; i++) {
        double parts = c->volume[i];
        for (size_t k = 0; k < c->found.add.items_n; k++)
            if (c->found.add.items[k].paint == i)
                parts += c->found.add.items[k].parts * c->sum / c->held;
        if (parts > 0)
            out->batch[out->batch_n++] = (struct mix_item){p->paints[i].paint->id, parts};
    }
    return OK;
}

/* Where it will really dry: what the model says, and what it is known to miss. */
static struct lab carried_over(const struct correcting *c, struct lab predicted) {
    return (struct lab){fmin(fmax(predicted.l + c->carried.l, 0), 100), predicted.a + c->carried.a,
                        predicted.b + c->carried.b};
}

/* The doubt in a batch that was read and then changed a little is less than in one that was never
 * seen: what stays of it is the reading's own doubt, and twice the share that was added. Measured
 * on 16 simulated shops with drifted cans (test/e2e/color_shop.mjs ... study): after the first
 * correction the true difference was 0.97 rms, this says 1.2. */
static void doubt_after(const struct correcting *c, const struct recipe *r, double changed,
                        double *out_expected, double *out_limit90) {
    double expected, limit90, stays = sqrt(fmin(1, 1 - c->worth + 2 * changed));
    sample_doubt(c->palette.model, 0, r->model_sd * r->model_sd, &expected, &limit90);
    *out_expected = sqrt(r->difference * r->difference + stays * stays * expected * expected +
                         r->pour_sd * r->pour_sd);
    *out_limit90 = sqrt(r->difference * r->difference + stays * stays * limit90 * limit90 +
                        r->pour_sd * r->pour_sd);
}

/* A fresh batch is advised where adding cannot do it or costs more; but never one of which worse is
 * to be expected than of adding. */
static void advise(const struct correcting *c, struct correct_answer *r) {
    static const char *const words[] = {"leave", "add", "restart", "neither"};
    const struct correction *f = &c->found;
    enum correct_advice advice = f->advice;
    double good = isnan(c->ask->good) ? UNSEEN : c->ask->good;
    bool fresh = r->fresh_n && r->fresh_difference <= good;
    if (advice != CORRECT_LEAVE) {
        bool add = r->difference <= good && r->add_n;
        bool cheaper = fresh && r->fresh_cent < r->add_cent &&
                       r->fresh_expected_difference <= r->expected_difference + 0.5;
        bool better = fresh && r->fresh_expected_difference < r->expected_difference;
        advice = add      ? (cheaper ? CORRECT_RESTART : CORRECT_ADD)
                 : better ? CORRECT_RESTART
                          : CORRECT_NEITHER;
    }
    r->kind = (int)advice;
    r->advice = words[advice];
}

static enum status answer_fill(const struct correcting *c, struct arena *a,
                               struct correct_answer *out) {
    const struct correction *f = &c->found;
    struct lab then = lab_d50_of_d65(carried_over(c, f->add.lab));
    struct correct_answer r = {.difference_now =
                                   ciede2000(color_lab(&c->ask->dried), color_lab(&c->ask->target)),
                               .add_cent = all_priced(c, &f->add) ? f->add_cent : NAN,
                               .after_ml = f->after_ml,
                               .more_ml = f->more_ml,
                               .hex = color_swatch(a, then),
                               .lab = {then.l, then.a, then.b},
                               .difference = f->add.difference,
                               .fresh_difference = NAN,
                               .fresh_expected_difference = NAN,
                               .fresh_ml = NAN,
                               .fresh_cent = NAN};
    doubt_after(c, &f->add, f->add.poured_parts / (double)f->add.total, &r.expected_difference,
                &r.difference_90);
    if (!r.hex || pours_fill(c, &f->add, c->part_ml, a, &r.add, &r.add_n)) return E_MEMORY;
    if (f->fresh.items_n) {
        double limit90;
        r.fresh_ml = f->fresh_ml;
        r.fresh_cent = all_priced(c, &f->fresh) ? f->fresh_cent : NAN;
        r.fresh_difference = f->fresh.difference;
        sample_doubt(c->palette.model, f->fresh.difference,
                     f->fresh.model_sd * f->fresh.model_sd + f->fresh.pour_sd * f->fresh.pour_sd,
                     &r.fresh_expected_difference, &limit90);
        r.fresh_hex = color_swatch(a, lab_d50_of_d65(f->fresh.lab));
        if (!r.fresh_hex || pours_fill(c, &f->fresh, c->fresh_part_ml, a, &r.fresh, &r.fresh_n))
            return E_MEMORY;
    }
    advise(c, &r);
    if (r.kind != CORRECT_RESTART && !(r.fresh_expected_difference < r.difference_now)) {
        r.fresh_n = 0; /* nobody starts again for a color that is no nearer than this one */
        r.fresh_hex = NULL;
        r.fresh_ml = r.fresh_cent = r.fresh_difference = r.fresh_expected_difference = NAN;
    }
    if (contents_fill(c, a, &r)) return E_MEMORY;
    r.text = advice_text(&r, a);
    *out = r;
    return r.text ? OK : E_MEMORY;
}

enum status color_correct(const struct tables *t, const struct shelf *shelf,
                          const struct correct_ask *ask, struct limit limit, struct arena *a,
                          struct correct_answer *out, struct why *why) {
    if (!ask->dried.text)
        return why_say(why, E_MISSING, "/dried", "Say which color it dried to, as CSS text.");
    if (!ask->target.text) return why_say(why, E_MISSING, "/target", "Say which color is wanted.");
    if (!(ask->batch_ml > 0))
        return why_say(why, E_DOMAIN, "/batch", "Say how much is in the batch: 13 fl oz.");
    struct shelf with;
    if (shelf_with(shelf, ask, a, &with)) return why_no_memory(why);
    struct correcting c = {.t = t, .ask = ask};
    enum status s = palette_make(t, &with, NULL, a, &c.palette, why);
    if (!s && c.palette.n >= RECIPE_SHELF_MAX)
        s = why_say(why, E_TOO_LARGE, "/shelf/paints", "At most %d paints can be added from.",
                    RECIPE_SHELF_MAX - 1);
    if (!s) s = volumes(&c, a, why);
    if (!s) s = sizes_set(&c, why);
    if (!s) grid_choose(&c);
    if (!s) s = paints_make(&c, a, why);
    if (!s) s = correcting_run(&c, limit, a, why);
    if (!s) s = fresh_search(&c, limit, a, why);
    if (s) return s;
    return answer_fill(&c, a, out) ? why_no_memory(why) : OK;
}

/* ---- descriptions ---- */

static const struct field add_fields[] = {
    F_TEXT(struct add_row, paint, "id of the paint"),
    F_TEXT(struct add_row, name, "its name"),
    F_TEXT(struct add_row, text, "how much, as it is measured"),
    F_QTY(struct add_row, amount, amount_ml, DIM_VOLUME, 0, 0, "how much"),
};
static DESC(desc_add, struct add_row, "addition", "What to pour.", add_fields);

static const struct field batch_fields[] = {
    F_TEXT(struct mix_item, paint, "id of the paint"),
    F_NUM(struct mix_item, parts, 0, 0, "parts by volume"),
};
static DESC(desc_batch_item, struct mix_item, "batch_part", "One paint in the batch.",
            batch_fields);

static const struct field correct_fields[] = {
    F_TEXT(struct correct_answer, advice, "leave, add, restart or neither"),
    F_TEXT(struct correct_answer, text, "in a sentence"),
    F_NUM(struct correct_answer, difference_now, 0, 0, "CIEDE2000 of the dried batch, D50"),
    F_LIST(struct correct_answer, add, &desc_add, 16, "what to pour into it"),
    F_QTY(struct correct_answer, add_cost, add_cent, DIM_MONEY, 0, 0, "of what is added"),
    F_QTY(struct correct_answer, after, after_ml, DIM_VOLUME, 0, 0, "the batch then"),
    F_QTY(struct correct_answer, more, more_ml, DIM_VOLUME, 0, 0, "beyond what is needed"),
    F_TEXT(struct correct_answer, hex, "what it should dry to"),
    F_FIXED(struct correct_answer, lab, 3, "the same, CSS Lab D50"),
    F_NUM(struct correct_answer, difference, 0, 0, "predicted difference then"),
    F_NUM(struct correct_answer, expected_difference, 0, 0, "to expect, doubt included"),
    F_NUM(struct correct_answer, difference_90, 0, 0, "9 of 10 stay below"),
    F_LIST(struct correct_answer, fresh, &desc_add, 16, "a fresh batch instead"),
    F_QTY(struct correct_answer, fresh_amount, fresh_ml, DIM_VOLUME, 0, 0, "how much of it"),
    F_QTY(struct correct_answer, fresh_cost, fresh_cent, DIM_MONEY, 0, 0, "its cost"),
    F_NUM(struct correct_answer, fresh_difference, 0, 0, "its predicted difference"),
    F_NUM(struct correct_answer, fresh_expected_difference, 0, 0, "to expect of it"),
    F_TEXT(struct correct_answer, fresh_hex, "what it should dry to"),
    F_LIST(struct correct_answer, batch, &desc_batch_item, 64, "what is in it then, in parts"),
};
DESC(desc_correct_answer, struct correct_answer, "correction",
     "What to do with a batch that dried to another color.", correct_fields);
