#include "core/work/complete.h"

#include "core/base/units.h"
#include "core/work/lookup.h"

#include <math.h>
#include <string.h>

/* ---- one value at a time ---- */

struct fill {
    const struct tables *t;
    struct ledger *l;
    const char *at;
};

static const char *pointer(const struct fill *f, const char *name) {
    return arena_print(f->l->arena, "%s/%s", f->at, name);
}

static void number(const struct fill *f, double *value, const char *name, double taken,
                   enum dimension unit, const char *why, const char *source) {
    if (!isnan(*value)) return;
    *value = taken;
    assume_number(f->l, pointer(f, name), taken, unit, why, source);
}

static void usual(const struct fill *f, double *value, const char *name, enum dimension unit,
                  enum figures_place which) {
    const struct figures_row *row = &f->t->figures[which];
    number(f, value, name, row->value, unit, row->what, row->source);
}

static void whole(const struct fill *f, int64_t *value, const char *name, int64_t usual,
                  const char *why) {
    if (*value != INT64_MIN) return;
    *value = usual;
    assume_number(f->l, pointer(f, name), (double)usual, DIM_NONE, why, "CP");
}

/* Enums are ints to the compiler; a macro keeps the types apart. */
#define WORD(f, value, name, usual, word, why)                                                     \
    do {                                                                                           \
        if (!(value)) {                                                                            \
            (value) = (usual);                                                                     \
            assume_word((f)->l, pointer(f, name), word, why, "CP");                                \
        }                                                                                          \
    } while (0)

/* ---- shop ---- */

static void hours_fill(const struct fill *f, struct shop *s) {
    if (s->hours_n) return;
    static const struct shop_hours usual[] = {{WEEKDAYS, 8 * 60, 12 * 60},
                                              {WEEKDAYS, 13 * 60, 17 * 60}};
    struct shop_hours *h = arena_array(f->l->arena, 2, sizeof *h);
    if (!h) {
        f->l->failed = true;
        return;
    }
    h[0] = usual[0];
    h[1] = usual[1];
    s->hours = h;
    s->hours_n = 2;
    assume_word(f->l, pointer(f, "hours"), "weekdays 8:00 am to noon and 1:00 to 5:00 pm",
                "usual shop hours", "CP");
}

static enum status hours_check(const struct shop *s, struct ledger *l, struct why *why) {
    for (size_t i = 0; i < s->hours_n; i++)
        if (s->hours[i].close_min <= s->hours[i].open_min)
            return why_say(why, E_DOMAIN, arena_print(l->arena, "/shop/hours/%zu/close", i),
                           "The shop closes before it opens. Write a closing time later than the "
                           "opening time.");
    return OK;
}

double measure_usual_ml(enum measure m) {
    switch (m) {
    case MEASURE_TSP: return ML_PER_US_TSP / 4;
    case MEASURE_ML: return 5;
    case MEASURE_DROP: return ML_PER_DROP;
    case MEASURE_GRAM: return 1 / PAINT_USUAL_G_PER_ML;
    default: return ML_PER_US_FL_OZ / 4;
    }
}

const char *smallest_words(struct arena *a, const char *was) {
    return arena_print(a, "the shop says %s; no more than a cup is taken as the smallest amount",
                       was);
}

enum status complete_shop(const struct tables *t, const struct shop *said, struct ledger *l,
                          struct shop *out, struct why *why) {
    struct shop s = *said;
    struct fill f = {t, l, "/shop"};
    WORD(&f, s.units, "units", UNITS_US, "US", "nothing was said");
    hours_fill(&f, &s);
    enum status st = hours_check(&s, l, why);
    if (st) return st;
    whole(&f, &s.people, "people", 1, "one person works alone");
    usual(&f, &s.rate_cent_per_h, "rate", DIM_RATE, FIGURES_USUAL_RATE_CENT_PER_H);
    usual(&f, &s.overhead_frac, "overhead", DIM_FRACTION, FIGURES_USUAL_OVERHEAD_FRAC);
    usual(&f, &s.margin_frac, "margin", DIM_FRACTION, FIGURES_USUAL_MARGIN_FRAC);
    number(&f, &s.sale_fee_frac, "sale_fee", 0, DIM_FRACTION, "no seller's fee was named", "CP");
    usual(&f, &s.deposit_frac, "deposit", DIM_FRACTION, FIGURES_USUAL_DEPOSIT_FRAC);
    usual(&f, &s.minimum_cent, "minimum", DIM_MONEY, FIGURES_USUAL_MINIMUM_CENT);
    usual(&f, &s.day_degc, "day_temperature", DIM_TEMPERATURE, FIGURES_USUAL_DAY_DEGC);
    usual(&f, &s.night_degc, "night_temperature", DIM_TEMPERATURE, FIGURES_USUAL_NIGHT_DEGC);
    usual(&f, &s.humidity_frac, "humidity", DIM_FRACTION, FIGURES_USUAL_HUMIDITY_FRAC);
    usual(&f, &s.drying_area_m2, "drying_area", DIM_AREA, FIGURES_USUAL_DRYING_M2);
    if (!s.measure) {
        bool us = s.units == UNITS_US;
        WORD(&f, s.measure, "measure", us ? MEASURE_FL_OZ : MEASURE_ML, us ? "fl oz" : "ml",
             "cups with marks are what most shops pour with");
    }
    number(&f, &s.smallest_ml, "smallest", measure_usual_ml(s.measure), DIM_VOLUME,
           "smallest mark that can be read well", "CP");
    if (s.smallest_was)
        assume_number(l, "/shop/smallest", s.smallest_ml, DIM_VOLUME,
                      smallest_words(l->arena, s.smallest_was), "CP");
    *out = s;
    return OK;
}

/* ---- piece ---- */

static enum status missing(const char *at, const char *name, struct why *why, const char *text) {
    why_say(why, E_MISSING, name, "%s", text);
    why_under(why, at);
    return E_MISSING;
}

static bool names_color(const struct piece *p) {
    if (p->wanted.color.text) return true;
    for (size_t i = 0; i < p->parts_n; i++)
        if (p->parts[i].color.text) return true;
    return false;
}

static bool wants_color(const struct piece *p) {
    return p->wanted.product || names_color(p);
}

/* Of a finish only the clear was said: the wood is to be seen under it. */
static bool clear_alone(const struct piece *p) {
    const struct wanted *w = &p->wanted;
    return w->clear && strcmp(w->clear, "none") != 0 && !w->top && !wants_color(p);
}

static bool all_natural(const struct piece *p) {
    if (p->wanted.top && !wants_color(p)) return true;
    if (!p->parts_n || p->template) return false;
    for (size_t i = 0; i < p->parts_n; i++)
        if (p->parts[i].treatment == TREAT_UNSAID || p->parts[i].treatment == TREAT_PAINT ||
            p->parts[i].treatment == TREAT_PAINT_NO_CLEAR)
            return false;
    return true;
}

static enum status needed(const struct piece *p, const char *at, struct why *why) {
    if (!p->template && !p->parts_n)
        return missing(at, "/template", why,
                       "What is it? Name a template such as chest, nightstand or side_chair, or "
                       "list its parts.");
    if (p->template) {
        if (isnan(p->width_mm))
            return missing(at, "/width", why,
                           "The width is missing. Say it as measured: 32 3/4 in.");
        if (isnan(p->height_mm))
            return missing(at, "/height", why, "The height is missing. Say it as measured: 41 in.");
    }
    if (p->wanted.color_coats == 0 && wants_color(p))
        return missing(at, "/wanted/color_coats", why,
                       "0 coats put on no color. Write 1 or more, or leave it out for the usual "
                       "number.");
    if (p->wanted.clear_coats == 0 && p->wanted.clear && strcmp(p->wanted.clear, "none") != 0)
        return missing(
            at, "/wanted/clear_coats", why,
            "0 coats of a clear that is named. Write 1 or more, or \"clear\": \"none\".");
    if (!wants_color(p) && !all_natural(p))
        return missing(at, "/wanted/color", why,
                       "Which color is wanted? Write one, as #1f5a60, or name a product on "
                       "the shelf.");
    return OK;
}

enum status complete_piece(const struct tables *t, const struct piece *said, const char *at,
                           struct ledger *l, struct piece *out, struct why *why) {
    struct piece p = *said;
    struct fill f = {t, l, at};
    if (clear_alone(&p)) {
        p.wanted.product = p.wanted.clear;
        const struct coat_kinds_row *kind = coat_kind_of(t, p.wanted.clear);
        assume_word(l, pointer(&f, "wanted/product"), kind ? kind->name : p.wanted.clear,
                    "only a clear was said: the wood is to be seen under it", "CP");
    }
    enum status st = needed(&p, at, why);
    if (st) return st;
    const struct figures_row *paints = &t->figures[FIGURES_USUAL_PAINTS];
    if (!p.title) p.title = p.template ? p.template : p.id;
    if (p.wanted.clear_coats == 0) p.wanted.clear = "none";
    whole(&f, &p.count, "count", 1, "one piece");
    WORD(&f, p.condition, "condition", CONDITION_WORN, "worn", "usual for a used piece");
    WORD(&f, p.place, "place", PLACE_INDOOR, "indoor", "nothing was said of outdoors");
    WORD(&f, p.agreement.purpose, "agreement/purpose",
         p.agreement.client ? PURPOSE_CLIENT : PURPOSE_OWN,
         p.agreement.client ? "client" : "own use", "nothing was said");
    if (names_color(&p)) /* else nothing is mixed */
        whole(&f, &p.wanted.paints_max, "wanted/paints_max", (int64_t)paints->value, paints->what);
    else if (p.wanted.paints_max == INT64_MIN)
        p.wanted.paints_max = (int64_t)paints->value;
    *out = p;
    return OK;
}
