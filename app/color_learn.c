#include "app/color_learn.h"

#include "codec/units_text.h"
#include "core/base/units.h"
#include "core/color/color.h"
#include "core/work/palette.h"

#include <math.h>
#include <string.h>

/* Of expected difference: less than any eye or meter tells. */
#define LITTLE 0.2

enum { NEXT_ROWS = 5, NEXT_PARTS = 12 };

static const char *name_of(const struct palette *p, size_t row) {
    const struct paint *q = p->paints[row].paint;
    return q->name ? q->name : q->id;
}

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
    const struct recipe_found *best = &found.recipes[0];
    *out = arena_array(a, best->items_n, sizeof **out);
    if (!*out) return why_no_memory(why);
    for (size_t i = 0; i < best->items_n; i++)
        (*out)[i] = (struct mix_item){best->items[i].paint, (double)best->items[i].parts};
    *out_n = best->items_n;
    return OK;
}

/* The palest paint at hand that goes with the recipe, by lightness. */
static size_t whitest(const struct palette *p, const struct sample_mix *recipe) {
    const int binder = p->paints[p->model_paint[recipe->paint[0]]].binder;
    size_t best = p->model_n;
    double l = 80; /* what is darker does not tint */
    for (size_t i = 0; i < p->model_n; i++) {
        const struct palette_paint *q = &p->paints[p->model_paint[i]];
        if (p->model_paint[i] < p->n && q->lab.l > l && q->binder == binder) {
            l = q->lab.l;
            best = i;
        }
    }
    return best;
}

/* One part of a test mix: the smallest that the shop can measure. A card of a dozen parts then
 * takes about a tablespoon. */
static double part_ml(const struct next_ask *ask) {
    const bool metric = ask->measure == MEASURE_ML || ask->measure == MEASURE_GRAM;
    const double usual = ask->measure == MEASURE_DROP ? 10 * ML_PER_DROP
                         : metric                     ? 1
                                                      : ML_PER_US_TSP / 4;
    return ask->smallest_ml > usual ? ask->smallest_ml : usual;
}

static enum status next_item_fill(const struct tables *t, const struct next_ask *ask,
                                  const struct paint *q, int parts, struct arena *a,
                                  struct next_item *out) {
    char text[64];
    double ml = parts * part_ml(ask);
    units_print_measure(ask->measure, ml, measuring_density(t, q), text, sizeof text);
    *out = (struct next_item){q->id, q->name ? q->name : q->id, parts, ml, arena_text(a, text)};
    return out->text ? OK : E_MEMORY;
}

static enum status next_row_fill(const struct tables *t, const struct palette *p,
                                 const struct next_ask *ask, const struct sample_candidate *c,
                                 struct arena *a, struct next_row *out) {
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
        if (next_item_fill(t, ask, p->paints[p->model_paint[c->paint[i]]].paint, c->parts[i], a,
                           item))
            return E_MEMORY;
        mix.paint[i] = c->paint[i];
        mix.volume[i] = c->parts[i];
        parts = arena_print(a, "%s%s%s of %s", parts, i ? ", " : "", item->text, item->name);
        if (!parts) return E_MEMORY;
    }
    struct sample_prediction seen;
    if (!sample_predict(p->model, &mix, &seen, NULL)) out->hex = color_swatch(a, seen.color);
    const char *now = arena_print(a, "%.1f", c->now), *after = arena_print(a, "%.1f", c->after);
    if (!now || !after) return E_MEMORY;
    const char *falls = strcmp(now, after) ? arena_print(a, "falls from %s to %s", now, after)
                                           : arena_print(a, "stays at %s", now);
    out->text = arena_print(a, "Paint a card of %s. %sThe recipe's expected difference %s.", parts,
                            c->tint ? "A dark paint alone says little of its strength; its tint "
                                      "with white does. "
                                    : "",
                            falls ? falls : "");
    return falls && out->text ? OK : E_MEMORY;
}

static enum status recipe_fill(const struct palette *p, const struct mix_item *items, size_t n,
                               struct arena *a, struct next_answer *out) {
    out->recipe = arena_array(a, n, sizeof *out->recipe);
    if (!out->recipe) return E_MEMORY;
    for (size_t i = 0; i < n; i++) {
        if (!(items[i].parts > 0)) continue;
        size_t row = (size_t)palette_find(p, items[i].paint);
        out->recipe[out->recipe_n++] = (struct recipe_answer_item){
            p->paints[row].paint->id, name_of(p, row), (int64_t)llround(items[i].parts), NAN, NULL};
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
    if (!volume) return why_no_memory(why);
    if ((s = color_volumes(&p, items, n, volume, a, why))) return s;
    struct sample_next q = {.parts_max =
                                ask->parts_max == INT64_MIN ? NEXT_PARTS : (int)ask->parts_max,
                            .read_sd = palette_reading_sd(ask->read)};
    if (!palette_mix(&p, volume, &q.recipe))
        return why_say(why, E_DOMAIN, "/items", "Name 1 to %d paints with parts above 0.",
                       SAMPLE_ITEMS_MAX);
    q.white = whitest(&p, &q.recipe);
    struct sample_candidate best[NEXT_ROWS];
    size_t found = sample_next_best(p.model, &q, best, NEXT_ROWS);
    struct next_answer r = {.rows = arena_array(a, found, sizeof *r.rows),
                            .rows_n = found,
                            .samples = (int64_t)p.samples_n};
    if (!r.rows || recipe_fill(&p, items, n, a, &r)) return why_no_memory(why);
    for (size_t i = 0; i < found; i++)
        if (next_row_fill(t, &p, ask, &best[i], a, &r.rows[i])) return why_no_memory(why);
    if (found) {
        r.items = r.rows[0].items;
        r.items_n = r.rows[0].items_n;
        r.hex = r.rows[0].hex;
        r.text = arena_print(a, "%s%s", r.rows[0].text,
                             r.rows[0].gain < LITTLE ? " That is little: as well mix a small first "
                                                       "batch and read that."
                                                     : "");
        if (!r.text) return why_no_memory(why);
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

/* ---- descriptions ---- */

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
    F_INT(struct next_answer, samples, 0, 0, "samples learned from so far"),
    F_LIST(struct next_answer, rows, &desc_next_row, 16, "most useful first"),
};
DESC(desc_next_answer, struct next_answer, "next_sample", "The next sample worth making.",
     next_fields);
