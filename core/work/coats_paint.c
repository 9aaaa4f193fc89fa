/* Painted lots: color, effects, clear and last coats, in this order. */
#include "core/work/coats_build.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

/* ---- how many coats of color -------------------------------------------------------------------
 */

/* Lightness below the first color coat: a white primer, what one sees now, or the wood. */
static double ground_lightness(const struct build *b, const struct stack *s) {
    const char *under = s->under_n ? s->under[s->under_n - 1] : NULL;
    if (under && !same(under, "shellac_clear")) return 92;
    const struct piece *p = b->r->piece;
    if (p->now_color.text && !isnan(p->now_color.lab[0])) return p->now_color.lab[0];
    const struct wood_traits_row *w = wood_trait_of(b->r->t, p->wood);
    return w && w->bleed == 2 ? 40 : 70;
}

int64_t color_coats(const struct build *b, const struct lot *lot, const struct stack *s,
                    const char **reason) {
    const struct coat_kinds_row *k = coat_kind_of(b->r->t, b->color);
    const struct color_said *c = lot->color ? lot->color : &b->r->piece->wanted.color;
    int64_t said = b->r->piece->wanted.color_coats;
    *reason = NULL;
    if (said > 0) return said;
    if (!c->text || isnan(c->lab[0])) return k->coats;
    bool clean_warm = c->lab[2] > 45 || (c->lab[1] > 45 && c->lab[0] < 60);
    if (clean_warm) {
        *reason = "Clean reds and yellows hide badly: one coat more.";
        return k->coats + 1;
    }
    if (c->lab[0] - ground_lightness(b, s) > 35) {
        *reason = "Light over dark without a white primer: one coat more.";
        return k->coats + 1;
    }
    return k->coats;
}

/* ---- rows
 * ------------------------------------------------------------------------------------------ */

struct lot_plan paint_plan(struct build *b, const struct lot *lot) {
    struct lot_plan lp = {.lot = lot, .over = b->color};
    if (!b->color) return lp;
    lp.stack = stack_try(b, lot, b->color);
    if (!lp.stack.failed) return lp;
    lp.over = NULL; /* only where no class at all holds */
    struct notice *n =
        notice_add(b->r->ledger, &b->p->coats.refused, RANK_STOP, "refused",
                   ROOM_TEXT(b->r, "%s: not planned. %s", lot->group->name, lp.stack.failed->text),
                   lp.stack.failed->source, certainty_of(lp.stack.failed->certainty));
    if (n && *lp.stack.failed->remedy) n->remedy = lp.stack.failed->remedy;
    return lp;
}

static void color_rows(struct build *b, const struct lot *lot, const struct stack *s) {
    const struct room *r = b->r;
    const struct coat_kinds_row *k = coat_kind_of(r->t, b->color);
    const char *reason;
    int64_t coats = color_coats(b, lot, s, &reason);
    struct coat *c = coat_add(b, lot, ROLE_COLOR, "color", k->id, lot->area_m2, coats);
    coat_judged(c, &s->top);
    if (reason) c->why = ROOM_TEXT(r, "%s %s", reason, c->why);
    if (lot->color) c->text = ROOM_TEXT(r, "%s, its own color %s", c->text, lot->color->text);
    rub_between(b, lot, c, "nib");
}

static void over_color(struct build *b, const struct lot *lot) {
    struct facts f = lot_facts(b, lot);
    f.ours = true;
    const char *film = coat_kind_of(b->r->t, b->color)->becomes;
    if (b->clear) {
        coat_add(b, lot, ROLE_RUB, "nib", NULL, lot->clear_m2, 1)->why =
            "Clear shows every nib that is left in the color.";
        struct judgment j = coats_judge(&f, film, b->clear);
        b->wants_test |= (j.prep & PREP(TEST)) != 0;
        clear_rows(b, lot, &j, b->clear);
        film = coat_kind_of(b->r->t, b->clear)->becomes;
    }
    if (b->last) {
        struct judgment j = coats_judge(&f, film, b->last);
        clear_rows(b, lot, &j, b->last);
    }
}

void paint_rows(struct build *b, const struct lot_plan *lp) {
    const struct lot *lot = lp->lot;
    if (!lp->over) return;
    b->wants_test |= (lp->stack.prep & PREP(TEST)) != 0;
    seal_rows(b, lot, &lp->stack);
    color_rows(b, lot, &lp->stack);
    effect_rows(b, lot, false);
    if (lot->clear_m2 > 0) over_color(b, lot);
    effect_rows(b, lot, true);
}
