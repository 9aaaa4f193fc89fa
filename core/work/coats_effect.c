/* Effects asked for on painted parts, each at its place in the order: before the clear what must
 * be locked in, after everything what nothing holds on. */
#include "core/work/coats_build.h"

#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

/* The order of the work; a resist must come first and be washed off before any clear. */
static const struct {
    const char *operation, *class;
    bool last;
    double share; /* of the lot's area that it covers */
    const char *why;
} effects[] = {
    {"spot_wax", NULL, false, 0.05,
     "Between two color coats; every trace is washed off before the clear."},
    {"two_tone", NULL, false, 0.3,
     "The lighter color first; tape only on paint that is a day old."},
    {"stencil", NULL, false, 0.1, "Before the clear, which locks it in."},
    {"distress", NULL, false, 0.2,
     "After the color is hard, before the clear: raw edges must be sealed."},
    {"glaze", "glaze", false, 1, "On a sealed coat; the clear locks it in."},
    {"tone", NULL, false, 1, "In the clear, before its last coat."},
    {"gilding", "gilding_wax", true, 0.05, "Last of all: it is wax, nothing holds on it."},
    {"wax", "wax", true, 1, "Last of all: nothing can go over wax later."},
};

bool coats_effect_known(const char *operation) {
    for (size_t i = 0; i < sizeof effects / sizeof *effects; i++)
        if (same(operation, effects[i].operation)) return true;
    return false;
}

/* Parts that were given a color of their own are the second color. */
static bool parts_differ(const struct build *b) {
    for (size_t i = 0; i < b->lots_n; i++)
        if (b->lots[i].kind == LOT_PAINT && b->lots[i].color) return true;
    return false;
}

void edge_row(struct build *b, const struct lot *lot) {
    const struct operations_row *op = operation_row(b->r->t, "mask_edge");
    if (!lot->color || !(lot->edge_m > 0) || !op) return;
    struct coat *c = coat_add(b, lot, ROLE_EFFECT, "mask_edge", NULL, lot->area_m2, 1);
    c->hands_min += op->each_min * lot->edge_m;
    c->tool = op->tool;
    c->why = "A clean line: what is beside it keeps its color.";
}

void effect_rows(struct build *b, const struct lot *lot, bool last) {
    const struct wanted *w = &b->r->piece->wanted;
    struct facts f = lot_facts(b, lot);
    f.ours = true;
    for (size_t i = 0; i < sizeof effects / sizeof *effects; i++) {
        bool asked = false;
        for (size_t k = 0; k < w->effects_n; k++)
            asked |= same(w->effects[k], effects[i].operation);
        if (!asked || effects[i].last != last) continue;
        if (same(effects[i].operation, "two_tone") && parts_differ(b)) continue;
        if (same(effects[i].operation, "wax") && (lot->last_class || fact_holds(&f, "kitchen")))
            continue;
        const char *film =
            coat_kind_of(b->r->t, last && lot->clear_class ? lot->clear_class : lot->color_class)
                ->becomes;
        struct judgment j = {.verdict = VERDICT_HOLDS};
        if (effects[i].class) j = coats_judge(&f, film, effects[i].class);
        if (j.verdict == VERDICT_NEVER) {
            refusal_note(b, effects[i].class, j.rule, NULL);
            continue;
        }
        if (j.prep & PREP(SEAL) && lot->clear_class)
            coat_add(b, lot, ROLE_CLEAR, "clear", lot->clear_class, lot->area_m2, 1)->why =
                j.rule->text;
        bool waxes = same(effects[i].class, "wax");
        struct coat *c = coat_add(b, lot, waxes ? ROLE_WAX : ROLE_EFFECT, effects[i].operation,
                                  effects[i].class, lot->area_m2 * effects[i].share, 1);
        if (j.rule) coat_judged(c, &j);
        c->why = effects[i].why;
    }
}

enum status wishes_check(const struct build *b, struct why *why) {
    const struct room *r = b->r;
    const struct wanted *w = &r->piece->wanted;
    const struct {
        const char *field, *text;
    } wishes[] = {{"product", w->product}, {"clear", w->clear}, {"primer", w->primer}};
    for (size_t i = 0; i < 3; i++) {
        const char *class = class_wanted(r->shelf, wishes[i].text);
        if (!class || same(class, "none") || coat_kind_of(r->t, class)) continue;
        return why_say(why, E_REFERENCE, ROOM_TEXT(r, "%s/wanted/%s", r->at, wishes[i].field),
                       "\"%s\" is neither on the shelf nor a kind of paint I know. Write a paint "
                       "that stands there, or a kind, such as waterborne enamel (wb_enamel).",
                       wishes[i].text);
    }
    const struct coat_kinds_row *product = coat_kind_of(r->t, class_wanted(r->shelf, w->product));
    if (product && w->color.text && !same(product->role, "color"))
        return why_say(
            why, E_REFERENCE, ROOM_TEXT(r, "%s/wanted/product", r->at),
            "\"%s\" is %s and has no color of its own to paint with. Leave the color out "
            "to keep the wood, or write a color paint like wb_enamel, chalk, "
            "alkyd_enamel here and this one as \"clear\".",
            w->product, product->name);
    if (product && !w->color.text && !product->seen && !same(product->role, "color"))
        return why_say(why, E_REFERENCE, ROOM_TEXT(r, "%s/wanted/product", r->at),
                       "\"%s\" is %s, which is no finish. Write a paint or class that may stay the "
                       "last coat, like wb_enamel, oil, wax or shellac_clear.",
                       w->product, product->name);
    for (size_t i = 0; i < r->piece->parts_n; i++) {
        const struct part *part = &r->piece->parts[i];
        const struct {
            const char *field, *text;
        } said[] = {{"product", part->product}, {"clear", part->clear}};
        for (size_t k = 0; k < 2; k++) {
            const char *class = class_wanted(r->shelf, said[k].text);
            const struct coat_kinds_row *row = coat_kind_of(r->t, class);
            if (!class || (k && same(class, "none"))) continue;
            bool stain = k == 0 && part->treatment == TREAT_STAIN;
            if (row && stain && same(row->role, "stain")) continue;
            if (row && !stain && same(row->role, "color") == (k == 0)) continue;
            return why_say(why, E_REFERENCE,
                           ROOM_TEXT(r, "%s/parts/%zu/%s", r->at, i, said[k].field),
                           "\"%s\" is no %s on the shelf and no such class. Write the id of one on "
                           "the shelf, or a class like %s.",
                           said[k].text,
                           k       ? "clear, wax or oil"
                           : stain ? "stain"
                                   : "color paint",
                           k       ? "wb_clear, wax, oil, none"
                           : stain ? "wood_stain"
                                   : "wb_enamel, chalk, alkyd_enamel");
        }
    }
    for (size_t k = 0; k < w->effects_n; k++) {
        if (coats_effect_known(w->effects[k])) continue;
        return why_say(
            why, E_REFERENCE, ROOM_TEXT(r, "%s/wanted/effects/%zu", r->at, k),
            "\"%s\" is no effect I know. Write stencil, glaze, distress, two_tone, tone, "
            "spot_wax, gilding or wax.",
            w->effects[k]);
    }
    return OK;
}
