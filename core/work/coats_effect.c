/* Effects asked for on painted parts, each at its place in the order: before the clear what must
 * be locked in, after everything what nothing holds on (data/effects.tsv). */
#include "core/work/coats_build.h"

#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
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
    for (size_t i = 0; i < b->r->t->effects_n; i++) {
        const struct effects_row *e = &b->r->t->effects[i];
        const char *class = *e->class ? e->class : NULL;
        bool asked = false;
        for (size_t k = 0; k < w->effects_n; k++) asked |= same(w->effects[k], e->id);
        if (!asked || (e->last == 1) != last) continue;
        if (same(e->id, "two_tone") && parts_differ(b)) continue;
        if (same(e->id, "wax") && (lot->last_class || fact_holds(&f, "kitchen"))) continue;
        const char *film =
            coat_kind_of(b->r->t, last && lot->clear_class ? lot->clear_class : lot->color_class)
                ->becomes;
        struct judgment j = {.verdict = VERDICT_HOLDS};
        if (class) j = coats_judge(&f, film, class);
        if (j.verdict == VERDICT_NEVER) {
            refusal_note(b, class, j.rule, NULL);
            continue;
        }
        if (j.prep & PREP(SEAL) && lot->clear_class)
            coat_add(b, lot, ROLE_CLEAR, "clear", lot->clear_class, lot->area_m2, 1)->why =
                j.rule->text;
        bool waxes = same(class, "wax");
        struct coat *c = coat_add(b, lot, waxes ? ROLE_WAX : ROLE_EFFECT, e->id, class,
                                  lot->area_m2 * e->share_frac, 1);
        if (j.rule) coat_judged(c, &j);
        c->why = e->why;
    }
}
