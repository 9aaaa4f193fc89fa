/* Wood that stays to be seen: clear, stain and clear, wax or oil. */
#include "core/work/coats_build.h"

#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

static const char *last_said(const struct build *b, const struct lot *lot) {
    return lot->clear_said ? class_wanted(b->r->shelf, lot->clear_said)
           : b->f.clear    ? b->f.clear
                           : b->f.color;
}

static const char *last_wanted(const struct build *b, const struct lot *lot) {
    const char *said = last_said(b, lot);
    const struct coat_kinds_row *k = coat_kind_of(b->r->t, said);
    if (lot->kind == LOT_WAX)
        return same(said, "oil") || fact_holds(&b->f, "oiled") ? "oil" : "wax";
    return k && k->seen > 0 && !same(k->role, "stain") ? k->id : "wb_clear";
}

/* Under wood that is to be seen only shellac may lie: a primer would hide it. */
static bool hides_wood(const struct build *b, const struct stack *s) {
    for (size_t i = 0; i < s->under_n; i++)
        if (!same(coat_kind_of(b->r->t, s->under[i])->role, "barrier")) return true;
    return false;
}

/* Paint hides the wood: where wood is to be seen it comes off. So does an old clear film so weak
 * that only a primer would tie the next coat to it. */
static struct stack natural_stack(const struct build *b, const struct lot *lot, const char *over,
                                  const char *last) {
    const struct materials_row *m = material_of(b->r->t, lot->material);
    bool film = m && same(m->kind, "film");
    struct lot tried = *lot;
    tried.clear_said = last; /* what lies below is judged by this last coat, not by the wish */
    struct stack s = stack_try(b, &tried, over);
    if (!(m && m->opaque == 1) && !(film && !s.failed && hides_wood(b, &s))) return s;
    tried.material = tried.below;
    s = stack_try(b, &tried, over);
    s.prep |= PREP(STRIP);
    return s;
}

/* The first that holds of what was asked and what comes next; "" when nothing does. Outdoors that
 * is a stain that goes in; what was asked for and fails there is refused aloud. */
static const char *choose(struct build *b, const struct lot *lot, struct stack *out) {
    bool out_there = fact_holds(&b->f, "outdoor");
    const struct coat_kinds_row *said = coat_kind_of(b->r->t, last_said(b, lot));
    bool asked = said && said->seen > 0 && !same(said->role, "stain");
    const char *want = out_there && !asked ? "exterior_stain" : last_wanted(b, lot);
    const char *order[] = {want, out_there ? "exterior_stain" : "wb_clear", "oil_clear"};
    const struct coat_rules_row *refused = NULL;
    for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
        *out = natural_stack(b, lot, order[i], order[i]);
        if (!out->failed && hides_wood(b, out)) out->failed = out->top.rule;
        if (!out->failed) {
            if (refused) refusal_note(b, want, refused, order[i]);
            return order[i];
        }
        if (i == 0) refused = out->failed;
    }
    refusal_note(b, want, refused, NULL);
    return NULL;
}

struct lot_plan natural_plan(struct build *b, const struct lot *lot) {
    struct lot_plan lp = {.lot = lot};
    const char *want = choose(b, lot, &lp.stack);
    lp.over = lp.clear = want;
    if (!want || lot->kind != LOT_STAIN || same(want, "exterior_stain")) return lp;
    lp.over = "wood_stain";
    lp.stack = natural_stack(b, lot, "wood_stain", lp.clear);
    if (lp.stack.failed) {
        refusal_note(b, "wood_stain", lp.stack.failed, NULL);
        lp.over = NULL;
    }
    return lp;
}

static void stain_rows(struct build *b, const struct lot_plan *lp) {
    const struct lot *lot = lp->lot;
    struct coat *c = coat_add(b, lot, ROLE_STAIN, "stain", "wood_stain", lot->area_m2, 1);
    coat_judged(c, &lp->stack.top);
    struct facts f = lot_facts(b, lot);
    f.ours = true;
    struct judgment j = coats_judge(&f, "stain", lp->clear);
    if (j.prep & PREP(DEWAXED)) {
        c = coat_add(b, lot, ROLE_BARRIER, "barrier", "shellac_clear", lot->area_m2, 1);
        coat_judged(c, &j);
        j = coats_judge(&f, "shellac", lp->clear);
    }
    clear_rows(b, lot, &j, lp->clear);
}

void natural_rows(struct build *b, const struct lot_plan *lp) {
    if (!lp->over) return;
    const struct lot *lot = lp->lot;
    const struct coat_kinds_row *k = coat_kind_of(b->r->t, lp->over);
    b->test_below |= (lp->stack.prep & PREP(TEST)) != 0;
    spot_rows(b, lot, &lp->stack);
    under_rows(b, lot, &lp->stack);
    if (same(lp->over, "wood_stain")) {
        stain_rows(b, lp);
    } else if (same(k->role, "stain")) {
        struct coat *c = coat_add(b, lot, ROLE_STAIN, "stain", k->id, lot->area_m2, k->coats);
        coat_judged(c, &lp->stack.top);
    } else {
        b->under = lp->stack.under_n ? NULL : lp->stack.ground;
        clear_rows(b, lot, &lp->stack.top, lp->over);
        b->under = NULL;
    }
}

struct lot_plan seal_plan(const struct lot *lot) {
    return (struct lot_plan){
        .lot = lot, .over = "shellac_clear", .stack = {.over = "shellac_clear", .ground = "bare"}};
}

void seal_rows(struct build *b, const struct lot_plan *lp) {
    size_t before = b->p->coats.n;
    bool light = fact_holds(&b->f, "musty"); /* smoke and urine want it twice */
    struct coat *c = coat_add(b, lp->lot, ROLE_BARRIER, "seal_inside", lp->over, lp->lot->area_m2,
                              light ? 1 : 2);
    c->why = "What smells sits in the bare wood, and nothing but shellac keeps it there. Clear, so "
             "that it stays wood to see.";
    merge_rows(b, before);
}
