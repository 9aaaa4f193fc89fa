#include "app/color_correct_inside.h"
#include "core/color/color.h"

#include <math.h>
#include <string.h>

/* Predicted difference to aim at: with the doubt that stays, most then dry within 1. Where that
 * cannot be had, what is not seen will do. */
#define GOOD 0.7

enum { CORRECT_PARTS_MAX = 128 };

/* The shelf with the batch's own reading among its samples. */
static enum status shelf_with(const struct shelf *shelf, const struct correct_ask *ask,
                              struct arena *a, struct shelf *out) {
    *out = *shelf;
    if (ask->logged) return OK;
    out->samples = arena_array(a, shelf->samples_n + 1, sizeof *out->samples);
    if (!out->samples) return E_MEMORY;
    if (shelf->samples_n)
        memcpy(out->samples, shelf->samples, shelf->samples_n * sizeof *out->samples);
    out->samples[out->samples_n++] = (struct sample){.id = "batch",
                                                     .items = ask->items,
                                                     .items_n = ask->items_n,
                                                     .color = ask->dried,
                                                     .read = ask->read};
    return OK;
}

static enum status volumes(struct correcting *c, struct arena *a, struct why *why) {
    const struct palette *p = &c->palette;
    c->volume = arena_array(a, p->n + 1, sizeof *c->volume);
    if (!c->volume) return why_no_memory(why);
    enum status s = color_volumes(p, c->ask->items, c->ask->items_n, c->volume, a, why);
    for (size_t i = 0; i < p->n && !s; i++) {
        c->sum += c->volume[i];
        if (c->volume[i] > 0) c->binder = p->paints[i].binder;
    }
    return s;
}

/* How much is needed in the end, and how much may become of it. */
static enum status sizes_set(struct correcting *c, struct arena *a, struct why *why) {
    const struct correct_ask *ask = c->ask;
    c->need_ml = isnan(ask->need_ml) ? ask->batch_ml : ask->need_ml;
    c->most_ml = isnan(ask->most_ml) ? fmax(2 * ask->batch_ml, c->need_ml) : ask->most_ml;
    if (c->most_ml >= ask->batch_ml && c->most_ml >= c->need_ml) return OK;
    const char *least = measuring_amount(&ask->measuring, fmax(ask->batch_ml, c->need_ml), a);
    if (!least) return why_no_memory(why);
    return why_say(why, E_DOMAIN, "/most",
                   "That is less than what it holds or what is needed. Write at least %s.", least);
}

static void grid_choose(struct correcting *c) {
    double part = c->ask->measuring.step_ml;
    while (c->ask->batch_ml / part > CORRECT_PARTS_MAX || c->most_ml / part > RECIPE_PARTS_MAX)
        part *= 2;
    c->held = (int)fmax(1, round(c->ask->batch_ml / part));
    c->part_ml = c->ask->batch_ml / c->held;
}

struct recipe_paint correcting_offer(const struct correcting *c, size_t i, double part_ml) {
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
        c->paints[i] = correcting_offer(c, i, c->part_ml);
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
    double real = sample_discrepancy(p->model), read = palette_reading_sd(c->ask->read);
    c->worth = real * real / (real * real + read * read);
    c->carried = (struct lab){c->worth * (dried.l - fitted.l), c->worth * (dried.a - fitted.a),
                              c->worth * (dried.b - fitted.b)};
    c->aim = (struct lab){fmin(fmax(wanted.l - c->carried.l, 0), 100), wanted.a - c->carried.a,
                          wanted.b - c->carried.b};
}

/* The least addition, out of the paints whose use allows it, that comes near enough on paper. */
static enum status nearest_search(struct correcting *c, struct limit limit, struct arena *a,
                                  struct why *why) {
    const struct palette *p = &c->palette;
    const struct correct_ask *ask = c->ask;
    struct correct_problem q = {.recipe = {.paints = c->paints,
                                           .paints_n = p->n + 1,
                                           .target = c->aim,
                                           .target_reflectance = &c->target.spectrum,
                                           .items_max = correcting_items(c),
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
    q.good = COLOR_UNSEEN;
    return correct_batch(&q, &limit, a, &c->found, why);
}

static bool sampled(const struct correcting *c, const char *paint) {
    for (size_t i = 0; i < c->palette.samples_n; i++) {
        const struct sample *s = &c->shelf->samples[c->palette.sample[i]];
        for (size_t k = 0; k < s->items_n; k++)
            if (!strcmp(s->items[k].paint, paint)) return true;
    }
    return false;
}

/* An addition that is near on paper and expected farther off than the batch is now, because a paint
 * in it was never read, spoils the batch: then paints that some sample holds are tried alone, and
 * those that are in the batch, and what is expected nearest is taken. */
static enum status surer_search(struct correcting *c, struct limit limit, struct arena *a,
                                struct why *why) {
    const size_t n = c->palette.n;
    double least, expected, limit90;
    struct correction kept = c->found;
    correcting_doubt(c, &kept.add, &least, &limit90);
    if (!kept.add.items_n || least <= correcting_now(c)) return OK;
    for (int same = 0; same < 2; same++) {
        for (size_t i = 0; i < n; i++)
            if (!(c->volume[i] > 0) && (same || !sampled(c, c->palette.paints[i].paint->id)))
                c->paints[i].use = RECIPE_NEVER;
        enum status s = nearest_search(c, limit, a, why);
        if (s == E_IMPOSSIBLE) break; /* these alone do not make as much as is needed */
        if (s) return s;
        correcting_doubt(c, &c->found.add, &expected, &limit90);
        if (!(expected < least)) continue;
        least = expected;
        kept = c->found;
    }
    c->found = kept;
    return OK;
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
    struct correcting c = {.t = t, .ask = ask, .shelf = &with};
    enum status s = palette_make(t, &with, NULL, a, &c.palette, why);
    if (!s && c.palette.n >= RECIPE_SHELF_MAX)
        s = why_say(why, E_TOO_LARGE, "/shelf/paints", "At most %d paints can be added from.",
                    RECIPE_SHELF_MAX - 1);
    if (!s) s = volumes(&c, a, why);
    if (!s) s = sizes_set(&c, a, why);
    if (!s) grid_choose(&c);
    if (!s) s = paints_make(&c, a, why);
    if (!s) {
        aim_set(&c);
        c.target = upsample_color(&c.palette.d50, color_lab(&ask->target));
        s = nearest_search(&c, limit, a, why);
    }
    if (!s) s = surer_search(&c, limit, a, why);
    if (!s) s = correcting_fresh(&c, limit, a, why);
    if (s) return s;
    return correcting_answer(&c, a, out) ? why_no_memory(why) : OK;
}
