#include "app/steps.h"

#include "codec/text_wrap.h"
#include "codec/units_text.h"
#include "core/work/palette.h"

#include <math.h>
#include <string.h>

/* Shares closer than this cannot be told from each other by any measure. */
#define FINEST_SHARE 1000.0
#define MORE_FRAC 0.1      /* so much more may be mixed to get the shares right */
#define MUCH_MORE_FRAC 0.3 /* beyond this it is said */

struct pouring {
    const struct tables *t;
    const struct steps_ask *ask;
    struct palette palette;
    struct measure_item items[MEASURE_ITEMS_MAX];
    const struct paint *paints[MEASURE_ITEMS_MAX];
    const char *hex[MEASURE_ITEMS_MAX];
    size_t n;
    struct measure_plan plan;
};

/* Whole parts as they are; others in thousandths of the batch. */
static int whole_parts(double parts, double sum, bool whole) {
    return whole ? (int)lround(parts) : (int)lround(parts / sum * FINEST_SHARE);
}

static enum status items_fill(struct pouring *p, struct arena *a, struct why *why) {
    const struct steps_ask *ask = p->ask;
    double sum = 0;
    bool whole = true;
    for (size_t i = 0; i < ask->items_n; i++) {
        double parts = ask->items[i].parts;
        if (!(parts >= 0 && parts <= 1e6))
            return why_say(why, E_DOMAIN, arena_print(a, "/items/%zu/parts", i),
                           "%g parts: write a number from 0 to 1,000,000.", parts);
        sum += parts;
        whole = whole && fabs(parts - round(parts)) < 1e-9;
    }
    for (size_t i = 0; i < ask->items_n; i++) {
        int row;
        enum status s = palette_need(&p->palette, ask->items[i].paint,
                                     arena_print(a, "/items/%zu/paint", i), &row, why);
        if (s) return s;
        int parts = whole_parts(ask->items[i].parts, sum, whole);
        if (parts < 1) continue;
        if (p->n == MEASURE_ITEMS_MAX)
            return why_say(why, E_TOO_LARGE, "/items", "At most %d paints.", MEASURE_ITEMS_MAX);
        const struct palette_paint *q = &p->palette.paints[row];
        p->paints[p->n] = q->paint;
        if (!(p->hex[p->n] = color_swatch(a, q->lab))) return why_no_memory(why);
        p->items[p->n++] = (struct measure_item){parts, measuring_density(p->t, q->paint),
                                                 pigment_tinting(&q->pigment)};
    }
    return p->n ? OK : why_say(why, E_DOMAIN, "/items", "At least one paint needs parts above 0.");
}

static const char *name_of(const struct paint *p) {
    return p->name ? p->name : p->id;
}

static enum status steps_fill(const struct pouring *p, struct arena *a, struct steps_answer *out) {
    out->items = arena_array(a, p->n, sizeof *out->items);
    out->steps = arena_array(a, p->plan.pours_n, sizeof *out->steps);
    out->short_of = arena_array(a, p->n, sizeof *out->short_of);
    out->poured = "";
    if (!out->items || !out->steps || !out->short_of) return E_MEMORY;
    for (size_t i = 0; i < p->n; i++) {
        const struct measure_amount *m = &p->plan.amounts[i];
        const struct paint *q = p->paints[i];
        out->items[out->items_n++] =
            (struct recipe_answer_item){q->id, name_of(q), m->steps, m->ml, m->text};
        out->poured = arena_print(a, "%s%s%s=%.6g", out->poured, i ? "," : "", q->id, m->ml);
        if (!out->poured) return E_MEMORY;
        bool priced = q->size_ml > 0 && !isnan(q->cost_cent);
        out->cost_cent += priced ? q->cost_cent / q->size_ml * m->ml : q->leftover_of_n ? 0 : NAN;
        if (q->stock_ml < m->ml - 0.5) out->short_of[out->short_of_n++] = name_of(q);
    }
    for (size_t i = 0; i < p->plan.pours_n; i++) {
        const struct measure_pour *m = &p->plan.pours[i];
        const struct paint *q = p->paints[m->item];
        out->steps[out->steps_n++] = (struct step_row){
            q->id, name_of(q), p->hex[m->item], m->text, m->mark, m->ml, m->mark_ml, m->check};
    }
    return OK;
}

/* What a person should know before pouring. */
static enum status remarks_fill(const struct pouring *p, struct arena *a,
                                struct steps_answer *out) {
    double volume[SAMPLE_PAINTS_MAX] = {0};
    size_t one, other;
    for (size_t i = 0; i < p->n; i++) {
        const int row = palette_find(&p->palette, p->paints[i]->id);
        volume[row] = p->plan.amounts[i].ml;
    }
    if (palette_apart(&p->palette, volume, &one, &other) &&
        !(out->apart = arena_print(a,
                                   "%s and %s are of two kinds of paint that do not mix: they "
                                   "curdle, or stay soft.",
                                   name_of(p->palette.paints[one].paint),
                                   name_of(p->palette.paints[other].paint))))
        return E_MEMORY;
    if (p->plan.batch_ml <= p->ask->amount_ml * (1 + MUCH_MORE_FRAC)) return OK;
    const char *amount = measuring_amount(&p->ask->measuring, p->ask->amount_ml, a),
               *made = measuring_amount(&p->ask->measuring, p->plan.batch_ml, a);
    if (!amount || !made) return E_MEMORY;
    out->larger = arena_print(a,
                              "With less than %s the measure cannot show the smallest share. For "
                              "%s, measure finer.",
                              made, amount);
    return out->larger ? OK : E_MEMORY;
}

/* What the batch as it is really poured dries to. */
static enum status color_fill(const struct pouring *p, const struct shelf *shelf, struct arena *a,
                              struct steps_answer *out, struct why *why) {
    struct mix_item items[MEASURE_ITEMS_MAX];
    struct mix_answer seen;
    for (size_t i = 0; i < p->n; i++)
        items[i] = (struct mix_item){p->paints[i]->id, p->plan.amounts[i].ml};
    struct mix_ask ask = {.items = items, .items_n = p->n, .target = p->ask->target};
    enum status s = color_mix(p->t, shelf, &ask, a, &seen, why);
    if (s) return s;
    memcpy(out->lab, seen.lab, sizeof out->lab);
    out->hex = seen.hex;
    out->difference = seen.difference;
    out->expected_difference = seen.expected_difference;
    out->difference_90 = seen.difference_90;
    return OK;
}

enum status steps_make(const struct tables *t, const struct shelf *shelf,
                       const struct steps_ask *ask, struct arena *arena, struct steps_answer *out,
                       struct why *why) {
    struct pouring p = {.t = t, .ask = ask};
    struct steps_answer r = {.cost_cent = 0};
    struct measure_kit kit = measuring_kit(&ask->measuring);
    enum status s = palette_make(t, shelf, NULL, arena, &p.palette, why);
    if (!s) s = items_fill(&p, arena, why);
    if (!s) s = measure_make(&kit, p.items, p.n, ask->amount_ml, MORE_FRAC, arena, &p.plan, why);
    if (s) return s;
    if (steps_fill(&p, arena, &r) || remarks_fill(&p, arena, &r)) return why_no_memory(why);
    r.amount_ml = p.plan.batch_ml;
    r.error_frac = p.plan.ratio_error;
    s = color_fill(&p, shelf, arena, &r, why);
    if (!s) *out = r;
    return s;
}

void steps_print(const struct steps_answer *a, struct text *out) {
    char amount[64];
    units_print(DIM_VOLUME, UNITS_US, a->amount_ml, amount, sizeof amount);
    text_print(out, "Makes %s.\n", amount);
    for (size_t i = 0; i < a->steps_n; i++)
        text_print(out, "%2zu  ", i + 1),
            text_wrap_print(out, 4, 4, "pour %s of %s: %s %s%s", a->steps[i].text, a->steps[i].name,
                            strstr(a->steps[i].mark, " drop") ? "in all" : "the vessel shows",
                            a->steps[i].mark,
                            a->steps[i].check ? "; stir, compare with the target" : "");
    text_print(out, "Dries to %s.", a->hex);
    if (!isnan(a->difference))
        text_print(out, " %.1f from the target; expect %.1f.", a->difference,
                   a->expected_difference);
    text_print(out, "\n");
    if (a->apart) text_wrap(out, 0, 0, a->apart);
    if (a->larger) text_wrap(out, 0, 0, a->larger);
    for (size_t i = 0; i < a->short_of_n; i++)
        text_print(out, "There is too little %s on the shelf.\n", a->short_of[i]);
}

static const struct field step_fields[] = {
    F_TEXT(struct step_row, paint, "id of the paint"),
    F_TEXT(struct step_row, name, "its name"),
    F_TEXT(struct step_row, hex, "its color, #rrggbb"),
    F_TEXT(struct step_row, text, "how much to pour, as it is measured"),
    F_TEXT(struct step_row, mark, "what the vessel shows then"),
    F_QTY(struct step_row, amount, amount_ml, DIM_VOLUME, 0, 0, "how much"),
    F_QTY(struct step_row, mark_amount, mark_ml, DIM_VOLUME, 0, 0, "in the vessel then"),
    F_BOOL(struct step_row, check, "stir and compare with the target before going on"),
};
static DESC(desc_step, struct step_row, "pour", "One pour.", step_fields);

static const struct field answer_fields[] = {
    F_LIST(struct steps_answer, items, &desc_recipe_item, 16, "whole amounts; parts are steps"),
    F_LIST(struct steps_answer, steps, &desc_step, MEASURE_POURS_MAX, "pours, in order"),
    F_QTY(struct steps_answer, amount, amount_ml, DIM_VOLUME, 0, 0, "how much it makes"),
    F_QTY(struct steps_answer, error, error_frac, DIM_FRACTION, 0, 0,
          "worst error of a share through rounding to the measure"),
    F_TEXT(struct steps_answer, poured, "the mix as really poured, in milliliters"),
    F_FIXED(struct steps_answer, lab, 3, "what that dries to, CSS Lab D50"),
    F_TEXT(struct steps_answer, hex, "on a screen, #rrggbb"),
    F_NUM(struct steps_answer, difference, 0, 0, "CIEDE2000 to the target, where one was given"),
    F_NUM(struct steps_answer, expected_difference, 0, 0, "to expect, doubt included"),
    F_NUM(struct steps_answer, difference_90, 0, 0, "9 of 10 such mixes stay below"),
    F_QTY(struct steps_answer, cost, cost_cent, DIM_MONEY, 0, 0, "of all paint in it"),
    F_TEXTS(struct steps_answer, short_of, 16, "paints that there is too little of"),
    F_TEXT(struct steps_answer, apart, "why two of these paints do not go together"),
    F_TEXT(struct steps_answer, larger, "why it makes much more than was asked"),
};
DESC(desc_steps_answer, struct steps_answer, "steps", "How a mix is poured.", answer_fields);
