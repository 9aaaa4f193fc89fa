/* From the wood outward: what must be done to the ground and what goes between it and a coat. */
#include "core/work/coats_build.h"

#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

/* Does what a NEVER row says would lift it, as far as that is work on the old surface. */
static bool cure_ground(const struct lot *lot, struct stack *s, struct facts *f, unsigned cure) {
    if (cure & PREP(DEWAX) && !f->cleaned) {
        s->prep |= PREP(DEWAX);
        f->cleaned = true;
        if (same(s->ground, "wax")) { /* what wax is left in the wood is shut in by shellac */
            s->ground = "bare";
            s->prep |= PREP(DEWAXED);
        }
        return true;
    }
    if (cure & PREP(STRIP) && !(s->prep & PREP(STRIP))) {
        s->prep |= PREP(STRIP);
        s->ground = lot->below;
        return true;
    }
    return false;
}

/* Light opaque work is sealed with pigmented shellac, the rest with clear; what stands on the
 * shelf comes first. */
static const char *shellac_class(const struct build *b, const struct lot *lot) {
    bool pigmented = lot->kind == LOT_PAINT && fact_holds(&b->f, "light");
    const char *first = pigmented ? "shellac_pigmented" : "shellac_clear";
    const char *other = pigmented ? "shellac_clear" : "shellac_pigmented";
    if (can_of_class(b, first) || lot->kind != LOT_PAINT) return first;
    return can_of_class(b, other) ? other : first;
}

static void under_add(const struct build *b, const struct facts *f, struct stack *s,
                      const char *class) {
    if (s->under_n == 2 || !class) return;
    struct facts at = *f;
    const char *ground = s->ground;
    if (s->under_n) {
        ground = coat_kind_of(b->r->t, s->under[s->under_n - 1])->becomes;
        at.ours = true;
    }
    s->under_j[s->under_n] = coats_judge(&at, ground, class);
    s->under[s->under_n++] = class;
}

/* A primer that was asked for is taken if it holds here; else the rules choose. */
static const char *primer_wanted(const struct build *b, const struct facts *f,
                                 const struct stack *s) {
    const struct coat_kinds_row *k = coat_kind_of(b->r->t, b->f.primer);
    if (!k || (!same(k->role, "primer") && !same(k->role, "barrier"))) return NULL;
    return coats_judge(f, s->ground, k->id).verdict == VERDICT_NEVER ? NULL : k->id;
}

/* Shellac on the shelf may tie the coats where a bonding primer would have to be bought. */
static bool shellac_will_do(const struct build *b, const struct facts *f, const struct stack *s,
                            const char *over) {
    bool have = can_of_class(b, "shellac_pigmented") || can_of_class(b, "shellac_clear");
    if (!have || can_of_class(b, "wb_primer") || fact_holds(f, "outdoor")) return false;
    struct facts at = *f;
    at.ours = true;
    return coats_judge(f, s->ground, "shellac_clear").verdict <= VERDICT_PREPARE &&
           coats_judge(&at, "shellac", over).verdict == VERDICT_HOLDS;
}

static void undercoats(const struct build *b, const struct lot *lot, const struct facts *f,
                       struct stack *s, const char *over) {
    unsigned prep = s->prep | s->top.prep;
    const char *wanted = lot->kind == LOT_PAINT ? primer_wanted(b, f, s) : NULL;
    const char *barrier = NULL, *primer = NULL;
    bool outdoor = fact_holds(f, "outdoor");
    if (prep & (PREP(BARRIER) | PREP(DEWAXED)) && !outdoor) barrier = shellac_class(b, lot);
    if (prep & PREP(DEWAXED) && lot->kind != LOT_PAINT) barrier = "shellac_clear";
    if (prep & PREP(ALKYD_PRIMER))
        barrier = NULL, primer = "alkyd_primer";
    else if (prep & PREP(METAL_PRIMER))
        barrier = NULL, primer = "metal_primer";
    else if (prep & PREP(EXT_PRIMER) || (outdoor && prep & PREP(BARRIER)))
        primer = "exterior_primer";
    else if (prep & PREP(BOND_PRIMER))
        primer = "wb_primer";
    if (wanted && same(coat_kind_of(b->r->t, wanted)->role, "barrier"))
        barrier = wanted;
    else if (wanted)
        primer = wanted;
    if (!barrier && same(primer, "wb_primer") && !wanted && shellac_will_do(b, f, s, over))
        barrier = shellac_class(b, lot);
    if (barrier) {
        struct facts at = *f;
        at.ours = true;
        struct judgment on = coats_judge(&at, "shellac", over);
        /* shellac is itself a tie coat: a bonding primer over it only where the coat wants one */
        if (primer && !wanted && same(primer, "wb_primer") && !(on.prep & PREP(BOND_PRIMER)))
            primer = NULL;
        if (!primer && on.prep & PREP(BOND_PRIMER)) primer = "wb_primer";
    }
    under_add(b, f, s, barrier);
    under_add(b, f, s, primer);
}

struct stack stack_try(const struct build *b, const struct lot *lot, const char *over) {
    struct facts f = lot_facts(b, lot);
    struct stack s = {.over = over, .ground = lot->material};
    s.asked = s.top = coats_judge(&f, s.ground, over);
    for (int i = 0; i < 3 && s.top.verdict == VERDICT_NEVER; i++) {
        if (!cure_ground(lot, &s, &f, s.top.cure)) break;
        s.top = coats_judge(&f, s.ground, over);
    }
    if (s.top.verdict == VERDICT_NEVER) {
        s.failed = s.top.rule;
        return s;
    }
    if (s.top.verdict == VERDICT_UNKNOWN) s.prep |= PREP(SCUFF) | PREP(TEST);
    s.prep |= s.top.prep;
    s.cleaned = s.top;
    undercoats(b, lot, &f, &s, over);
    for (size_t i = 0; i < s.under_n; i++) {
        if (s.under_j[i].verdict == VERDICT_NEVER) {
            s.failed = s.under_j[i].rule;
            return s;
        }
        if (i == 0) s.prep |= s.under_j[i].prep;
    }
    if (s.under_n) {
        f.ours = true;
        s.top = coats_judge(&f, coat_kind_of(b->r->t, s.under[s.under_n - 1])->becomes, over);
        if (s.top.verdict == VERDICT_NEVER) s.failed = s.top.rule;
    }
    return s;
}
