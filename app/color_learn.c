#include "app/color_learn.h"

#include "codec/color_text.h"
#include "codec/units_text.h"
#include "core/base/units.h"
#include "core/color/color.h"
#include "core/recipe/correct.h"
#include "core/work/palette.h"

#include <math.h>
#include <string.h>

/* Of expected difference: less than any eye or meter tells. */
#define LITTLE 0.2

enum { NEXT_ROWS = 5, NEXT_PARTS = 12, CORRECT_PARTS = 64 };
static enum status no_memory(struct why *why) {
    return why_say(why, E_MEMORY, "", "%s", status_text(E_MEMORY));
}

static struct lab lab_said(const struct color_said *c) {
    return (struct lab){c->lab[0], c->lab[1], c->lab[2]};
}

static const char *hex_of(struct arena *a, struct lab d50) {
    char hex[8];
    color_print_hex(d50, hex);
    return arena_text(a, hex);
}

static const char *name_of(const struct palette *p, size_t row) {
    const struct paint *q = p->paints[row].paint;
    return q->name ? q->name : q->id;
}

/* Parts over the palette; E_REFERENCE for a paint that is not there. */
static enum status volumes(const struct palette *p, const struct mix_item *items, size_t n,
                           double *out, struct arena *a, struct why *why) {
    for (size_t i = 0; i < n; i++) {
        int row = palette_find(p, items[i].paint);
        if (row < 0)
            return why_say(why, E_REFERENCE, arena_print(a, "/items/%zu/paint", i),
                           "\"%s\" is no paint with a known color on this shelf.", items[i].paint);
        out[row] += items[i].parts;
    }
    return OK;
}

/* ---- the next sample
 * ------------------------------------------------------------------------------ */

static enum status recipe_in_hand(const struct tables *t, const struct shelf *shelf,
                                  const struct next_ask *ask, struct limit limit, struct arena *a,
                                  struct mix_item **out, size_t *out_n, struct why *why) {
    if (ask->items_n) {
        *out = ask->items;
        *out_n = ask->items_n;
        return OK;
    }
    struct recipe_ask r = {
        .target = ask->target, .paints = 3, .parts = 16, .class = ask->class, .by_expected = true};
    struct recipe_answer found;
    enum status s = color_recipes(t, shelf, &r, limit, a, &found, why);
    if (s) return s;
    const struct recipe_row *best = &found.recipes[0];
    *out = arena_array(a, best->items_n, sizeof **out);
    if (!*out) return no_memory(why);
    for (size_t i = 0; i < best->items_n; i++)
        (*out)[i] = (struct mix_item){best->items[i].paint, (double)best->items[i].parts};
    *out_n = best->items_n;
    return OK;
}

/* The palest paint of the model, by lightness. */
static size_t whitest(const struct palette *p) {
    size_t best = p->model_n;
    double l = 80; /* what is darker does not tint */
    for (size_t i = 0; i < p->model_n; i++)
        if (p->paints[p->model_paint[i]].lab.l > l) {
            l = p->paints[p->model_paint[i]].lab.l;
            best = i;
        }
    return best;
}

/* One part of a test mix: the smallest that the shop can measure. A card of a dozen parts then
 * takes about a tablespoon. */
static double part_ml(const struct next_ask *ask) {
    const bool metric = ask->measure == MEASURE_ML || ask->measure == MEASURE_GRAM;
    const double usual = metric ? 1 : ML_PER_US_TSP / 4;
    return ask->smallest_ml > usual ? ask->smallest_ml : usual;
}

static enum status next_item_fill(const struct next_ask *ask, const struct paint *q, int parts,
                                  struct arena *a, struct next_item *out) {
    char text[64];
    double ml = parts * part_ml(ask);
    units_print_measure(ask->measure, ml, q->density_g_per_ml, text, sizeof text);
    *out = (struct next_item){q->id, q->name ? q->name : q->id, parts, ml, arena_text(a, text)};
    return out->text ? OK : E_MEMORY;
}

static enum status next_row_fill(const struct palette *p, const struct next_ask *ask,
                                 const struct sample_candidate *c, struct arena *a,
                                 struct next_row *out) {
    *out = (struct next_row){.items = arena_array(a, c->n, sizeof *out->items),
                             .items_n = c->n,
                             .before = c->now,
                             .after = c->after,
                             .gain = c->now - c->after,
                             .tint = c->tint};
    if (!out->items) return E_MEMORY;
    struct sample_mix mix = {.n = c->n};
    const char *parts = "";
    for (size_t i = 0; i < c->n; i++) {
        struct next_item *item = &out->items[i];
        if (next_item_fill(ask, p->paints[p->model_paint[c->paint[i]]].paint, c->parts[i], a, item))
            return E_MEMORY;
        mix.paint[i] = c->paint[i];
        mix.volume[i] = c->parts[i];
        parts = arena_print(a, "%s%s%s of %s", parts, i ? ", " : "", item->text, item->name);
        if (!parts) return E_MEMORY;
    }
    struct sample_prediction seen;
    if (!sample_predict(p->model, &mix, &seen, NULL)) out->hex = hex_of(a, seen.color);
    out->text =
        arena_print(a,
                    "Paint a card of %s. %sThe recipe's expected difference falls from %.1f to "
                    "%.1f.",
                    parts,
                    c->tint ? "A dark paint alone says little of its strength; its tint "
                              "with white does. "
                            : "",
                    c->now, c->after);
    return out->text ? OK : E_MEMORY;
}

static enum status recipe_fill(const struct palette *p, const struct mix_item *items, size_t n,
                               struct arena *a, struct next_answer *out) {
    out->recipe = arena_array(a, n, sizeof *out->recipe);
    if (!out->recipe) return E_MEMORY;
    for (size_t i = 0; i < n; i++) {
        if (!(items[i].parts > 0)) continue;
        size_t row = (size_t)palette_find(p, items[i].paint);
        out->recipe[out->recipe_n++] = (struct recipe_answer_item){
            p->paints[row].paint->id, name_of(p, row), (int64_t)llround(items[i].parts)};
    }
    return OK;
}

enum status color_next(const struct tables *t, const struct shelf *shelf,
                       const struct next_ask *ask, struct limit limit, struct arena *a,
                       struct next_answer *out, struct why *why) {
    struct mix_item *items = NULL;
    size_t n = 0;
    enum status s = recipe_in_hand(t, shelf, ask, limit, a, &items, &n, why);
    struct palette p;
    if (s || (s = palette_make(t, shelf, ask->class, a, &p, why))) return s;
    double *volume = arena_array(a, p.n + 1, sizeof *volume);
    if (!volume) return no_memory(why);
    if ((s = volumes(&p, items, n, volume, a, why))) return s;
    struct sample_next q = {.white = whitest(&p),
                            .parts_max =
                                ask->parts_max == INT64_MIN ? NEXT_PARTS : (int)ask->parts_max,
                            .read_sd = palette_reading_sd(ask->read)};
    if (!palette_mix(&p, volume, &q.recipe))
        return why_say(why, E_DOMAIN, "/items", "Name 1 to %d paints with parts above 0.",
                       SAMPLE_ITEMS_MAX);
    struct sample_candidate best[NEXT_ROWS];
    size_t found = sample_next_best(p.model, &q, best, NEXT_ROWS);
    struct next_answer r = {.rows = arena_array(a, found, sizeof *r.rows),
                            .rows_n = found,
                            .samples = (int64_t)p.samples_n};
    if (!r.rows || recipe_fill(&p, items, n, a, &r)) return no_memory(why);
    for (size_t i = 0; i < found; i++)
        if (next_row_fill(&p, ask, &best[i], a, &r.rows[i])) return no_memory(why);
    if (found) {
        r.items = r.rows[0].items;
        r.items_n = r.rows[0].items_n;
        r.hex = r.rows[0].hex;
        r.text = arena_print(a, "%s%s", r.rows[0].text,
                             r.rows[0].gain < LITTLE ? " That is little: as well mix a small first "
                                                       "batch and read that."
                                                     : "");
        if (!r.text) return no_memory(why);
        r.before = r.rows[0].before;
        r.after = r.rows[0].after;
        r.gain = r.rows[0].gain;
    } else {
        r.text = "No small test mix would make this recipe surer.";
        r.before = r.after = r.gain = NAN;
    }
    *out = r;
    return OK;
}

/* ---- a batch that dried to another color
 * -------------------------------------------------------------- */

/* The shelf with the batch's own reading among its samples. */
static enum status shelf_with(const struct shelf *shelf, const struct correct_ask *ask,
                              struct arena *a, struct shelf *out) {
    *out = *shelf;
    out->samples = arena_array(a, shelf->samples_n + 1, sizeof *out->samples);
    if (!out->samples) return E_MEMORY;
    if (shelf->samples_n)
        memcpy(out->samples, shelf->samples, shelf->samples_n * sizeof *out->samples);
    out->samples[out->samples_n++] = (struct sample){.id = "batch",
                                                     .items = ask->items,
                                                     .items_n = ask->items_n,
                                                     .color = ask->dried,
                                                     .read = READ_INSTRUMENT};
    return OK;
}

struct correcting {
    const struct correct_ask *ask;
    struct palette palette;
    struct recipe_paint *paints;
    double *volume; /* parts in the batch over the palette, as said */
    int held;       /* parts in the batch on the search's grid */
    struct upsampled target;
    struct correction found;
};

/* The batch's parts on a grid fine enough for small additions. */
static enum status paints_make(struct correcting *c, struct arena *a, struct why *why) {
    const struct palette *p = &c->palette;
    double sum = 0;
    c->paints = arena_array(a, p->n + 1, sizeof *c->paints);
    c->volume = arena_array(a, p->n + 1, sizeof *c->volume);
    if (!c->paints || !c->volume) return no_memory(why);
    enum status s = volumes(p, c->ask->items, c->ask->items_n, c->volume, a, why);
    if (s) return s;
    for (size_t i = 0; i < p->n; i++) sum += c->volume[i];
    if (!(sum > 0)) return why_say(why, E_MISSING, "/items", "Say what is in the batch.");
    double scale = sum < CORRECT_PARTS ? floor(CORRECT_PARTS / sum) : 1;
    if (sum > 128) scale = 128 / sum;
    double ml_per_part = c->ask->batch_ml / (sum * scale);
    for (size_t i = 0; i < p->n; i++) {
        const struct paint *q = p->paints[i].paint;
        bool priced = q->size_ml > 0 && !isnan(q->cost_cent);
        c->paints[i] =
            (struct recipe_paint){.pigment = &p->paints[i].pigment,
                                  .use = q->stock_ml == 0 ? RECIPE_NEVER : RECIPE_MAY,
                                  .cost_cent = priced ? q->cost_cent / q->size_ml * ml_per_part : 0,
                                  .in_batch = (int)lround(c->volume[i] * scale)};
        c->held += c->paints[i].in_batch;
    }
    return OK;
}

static enum status correcting_run(struct correcting *c, struct limit limit, struct arena *a,
                                  struct why *why) {
    const struct palette *p = &c->palette;
    const struct correct_ask *ask = c->ask;
    c->target = upsample_color(&p->d50, lab_said(&ask->target));
    struct correct_problem q = {
        .recipe = {.paints = c->paints,
                   .paints_n = p->n,
                   .target = lab_d65_of_d50(lab_said(&ask->target)),
                   .target_reflectance = &c->target.spectrum,
                   .items_max = ask->paints == INT64_MIN ? 3 : (int)ask->paints,
                   .parts = c->held,
                   .objective = RECIPE_BY_DIFFERENCE,
                   .variance = palette_variance,
                   .variance_ctx = c->palette.n ? &c->palette : NULL,
                   .pour_sd_parts = PALETTE_POUR_SD_PARTS,
                   .d65 = &p->d65,
                   .a = &p->a,
                   .led = &p->led},
        .batch_ml = ask->batch_ml,
        .need_ml = isnan(ask->need_ml) ? ask->batch_ml : ask->need_ml,
        .good = isnan(ask->good) ? 1 : ask->good};
    q.most_ml = isnan(ask->most_ml) ? fmax(2 * ask->batch_ml, q.need_ml) : ask->most_ml;
    return correct_batch(&q, &limit, a, &c->found, why);
}

static const char *advice_word(enum correct_advice advice) {
    static const char *const words[] = {"leave", "add", "restart", "neither"};
    return words[advice];
}

static const char *advice_text(const struct correcting *c, const char *adds, struct arena *a) {
    const struct correction *f = &c->found;
    switch (f->advice) {
    case CORRECT_LEAVE: return "Leave it: it is near enough, and there is enough of it.";
    case CORRECT_ADD:
        return arena_print(a, "Add %s. Stir, paint a card and let it dry before going on.", adds);
    case CORRECT_RESTART:
        return arena_print(a, "Start again: a fresh batch costs less than what would have to be "
                              "added. Keep the old one as a leftover.");
    case CORRECT_NEITHER:
        return arena_print(a, "Nothing on the shelf brings it near enough; nearest is to add %s.",
                           adds);
    }
    return "";
}

static enum status answer_fill(const struct correcting *c, struct arena *a,
                               struct correct_answer *out) {
    const struct correction *f = &c->found;
    const struct palette *p = &c->palette;
    double ml = c->ask->batch_ml / c->held;
    struct correct_answer r = {.advice = advice_word(f->advice),
                               .difference_now =
                                   ciede2000(lab_said(&c->ask->dried), lab_said(&c->ask->target)),
                               .add = arena_array(a, f->add.items_n, sizeof *r.add),
                               .fresh = arena_array(a, f->fresh.items_n, sizeof *r.fresh),
                               .batch = arena_array(a, p->n, sizeof *r.batch),
                               .after_ml = f->after_ml,
                               .more_ml = f->more_ml,
                               .hex = hex_of(a, lab_d50_of_d65(f->add.lab)),
                               .difference = f->add.difference,
                               .expected_difference = f->add.expected_difference,
                               .fresh_difference = f->fresh.difference};
    if (!r.add || !r.fresh || !r.batch) return E_MEMORY;
    const char *adds = "";
    for (size_t i = 0; i < f->add.items_n; i++) {
        size_t row = f->add.items[i].paint;
        char text[64];
        units_print(DIM_VOLUME, UNITS_US, f->add.items[i].parts * ml, text, sizeof text);
        r.add[r.add_n++] = (struct add_row){p->paints[row].paint->id, name_of(p, row),
                                            arena_text(a, text), f->add.items[i].parts * ml};
        adds = arena_print(a, "%s%s%s of %s", adds, i ? ", " : "", text, name_of(p, row));
        if (!adds) return E_MEMORY;
    }
    for (size_t i = 0; i < f->fresh.items_n; i++)
        r.fresh[r.fresh_n++] = (struct recipe_answer_item){
            p->paints[f->fresh.items[i].paint].paint->id, name_of(p, f->fresh.items[i].paint),
            f->fresh.items[i].parts};
    for (size_t i = 0; i < p->n; i++) {
        double parts = c->paints[i].in_batch;
        for (size_t k = 0; k < f->add.items_n; k++)
            if (f->add.items[k].paint == i) parts += f->add.items[k].parts;
        if (parts > 0) r.batch[r.batch_n++] = (struct mix_item){p->paints[i].paint->id, parts};
    }
    r.text = advice_text(c, adds, a);
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
    if (shelf_with(shelf, ask, a, &with)) return no_memory(why);
    struct correcting c = {.ask = ask};
    enum status s;
    if ((s = palette_make(t, &with, NULL, a, &c.palette, why)) || (s = paints_make(&c, a, why)) ||
        (s = correcting_run(&c, limit, a, why)))
        return s;
    return answer_fill(&c, a, out) ? no_memory(why) : OK;
}

/* ---- descriptions
 * ---------------------------------------------------------------------------------------- */

static const struct field next_item_fields[] = {
    F_TEXT(struct next_item, paint, "id of the paint"),
    F_TEXT(struct next_item, name, "its name"),
    F_INT(struct next_item, parts, 0, 0, "parts by volume"),
    F_QTY(struct next_item, amount, amount_ml, DIM_VOLUME, 0, 0, "enough for one card"),
    F_TEXT(struct next_item, text, "the same as the shop measures"),
};
static DESC(desc_next_item, struct next_item, "test_mix_item", "One paint of a test mix.",
            next_item_fields);

static const struct field next_row_fields[] = {
    F_LIST(struct next_row, items, &desc_next_item, 16, "what to mix for the card"),
    F_TEXT(struct next_row, hex, "what it should dry to"),
    F_NUM(struct next_row, before, 0, 0, "expected difference of the recipe now"),
    F_NUM(struct next_row, after, 0, 0, "and with that sample"),
    F_NUM(struct next_row, gain, 0, 0, "what falls away"),
    F_BOOL(struct next_row, tint, "a white tint of a dark paint"),
    F_TEXT(struct next_row, text, "what to do and why"),
};
static DESC(desc_next_row, struct next_row, "test_mix", "A sample worth making.", next_row_fields);

static const struct field next_fields[] = {
    F_LIST(struct next_answer, items, &desc_next_item, 16, "the most useful test mix"),
    F_TEXT(struct next_answer, hex, "what it should dry to"),
    F_TEXT(struct next_answer, text, "what to do and why"),
    F_NUM(struct next_answer, before, 0, 0, "expected difference of the recipe now"),
    F_NUM(struct next_answer, after, 0, 0, "and with that sample"),
    F_NUM(struct next_answer, gain, 0, 0, "what falls away"),
    F_LIST(struct next_answer, recipe, &desc_recipe_item, 16, "the recipe that it is made for"),
    F_INT(struct next_answer, samples, 0, 0, "samples learnt from so far"),
    F_LIST(struct next_answer, rows, &desc_next_row, 16, "most useful first"),
};
DESC(desc_next_answer, struct next_answer, "next_sample", "The next sample worth making.",
     next_fields);

static const struct field add_fields[] = {
    F_TEXT(struct add_row, paint, "id of the paint"),
    F_TEXT(struct add_row, name, "its name"),
    F_TEXT(struct add_row, text, "how much"),
    F_QTY(struct add_row, amount, amount_ml, DIM_VOLUME, 0, 0, "how much"),
};
static DESC(desc_add, struct add_row, "addition", "What to add.", add_fields);

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
    F_QTY(struct correct_answer, after, after_ml, DIM_VOLUME, 0, 0, "the batch then"),
    F_QTY(struct correct_answer, more, more_ml, DIM_VOLUME, 0, 0, "beyond what is needed"),
    F_TEXT(struct correct_answer, hex, "what it should dry to"),
    F_NUM(struct correct_answer, difference, 0, 0, "predicted difference then"),
    F_NUM(struct correct_answer, expected_difference, 0, 0, "to expect, doubt included"),
    F_LIST(struct correct_answer, fresh, &desc_recipe_item, 16, "a fresh batch instead, in parts"),
    F_NUM(struct correct_answer, fresh_difference, 0, 0, "its predicted difference"),
    F_LIST(struct correct_answer, batch, &desc_batch_item, 64, "what is in it then, in parts"),
};
DESC(desc_correct_answer, struct correct_answer, "correction",
     "What to do with a batch that dried to another color.", correct_fields);
