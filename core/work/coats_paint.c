/* Painted lots: color, effects, clear and last coats, in this order. */
#include "core/color/difference.h"
#include "core/work/coats_build.h"
#include "core/work/color_plan.h"
#include "core/work/mix_film.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

/* ---- how many coats of color ---- */

enum { COATS_TRIED = 5 };

/* What the first color coat lies on: the primer, what one sees now, or the wood. */
struct ground {
    double lab[3];
    const char *what;
};

static bool known(const struct color_said *c) {
    return c->text && !isnan(c->lab[0]);
}

static struct ground ground_below(const struct build *b, const struct lot *lot,
                                  const struct stack *s) {
    const char *under = s->under_n ? s->under[s->under_n - 1] : NULL;
    const struct piece *p = b->r->piece;
    if (under && !same(under, "shellac_clear")) {
        const struct paint *can = lot_can(b, lot, under);
        struct ground primer = {{95, 0, 2}, "white primer"};
        if (can && known(&can->color)) {
            memcpy(primer.lab, can->color.lab, sizeof primer.lab);
            primer.what = can->name ? can->name : "the primer";
        }
        return primer;
    }
    bool bare = same(s->ground, "bare") || s->prep & PREP(STRIP);
    if (known(&p->now_color) && !bare) {
        struct ground now = {.what = "the old color"};
        memcpy(now.lab, p->now_color.lab, sizeof now.lab);
        return now;
    }
    const struct wood_traits_row *w = wood_trait_of(b->r->t, p->wood);
    if (w && w->bleed == 2) return (struct ground){{40, 14, 20}, "dark wood"};
    return (struct ground){{70, 8, 26}, "wood"};
}

/* The color itself, of the lot, its can, the piece or its can; NULL: not known. */
static const struct color_said *color_over(const struct build *b, const struct lot *lot) {
    const struct shelf *shelf = b->r->shelf;
    const struct wanted *w = &b->r->piece->wanted;
    const struct paint *own = shelf_paint(shelf, lot->product),
                       *can = shelf_paint(shelf, w->product);
    const struct color_said *order[] = {lot->color, own ? &own->color : NULL,
                                        own ? NULL : &w->color, can && !own ? &can->color : NULL};
    for (size_t i = 0; i < sizeof order / sizeof *order; i++)
        if (order[i] && known(order[i])) return order[i];
    return NULL;
}

/* Coats that the jar of this color took over black and white, where it is used as it is; INT64_MIN:
 * it is mixed, or nobody tried. */
static int64_t jar_hides_in(const struct build *b, const struct color_said *c, const char *class) {
    const struct shelf *shelf = b->r->shelf;
    const struct lab want = {c->lab[0], c->lab[1], c->lab[2]};
    for (size_t i = 0; i < shelf->paints_n; i++) {
        const struct paint *p = &shelf->paints[i];
        const struct lab have = {p->color.lab[0], p->color.lab[1], p->color.lab[2]};
        if (p->hides_in > 0 && known(&p->color) && same(p->class, class) &&
            ciede2000(have, want) <= COLOR_AS_IT_IS)
            return p->hides_in;
    }
    return INT64_MIN;
}

/* The mix of this lot's color, where its recipe is known and one of its jars was tried. */
static const struct mix_film *mix_of(const struct room *r, const struct lot *lot) {
    const size_t row = lot->color_row > 0 ? (size_t)lot->color_row : 0;
    return row < r->mixes_n && r->mixes[row].jars ? &r->mixes[row] : NULL;
}

/* What tells how the color hides: a jar's own test, or those of the jars in its mix. */
static void hides_explain(struct ledger *l, struct basis *e, const struct hides *h,
                          int64_t hides_in, const struct mix_film *mix) {
    const char *scale = "so it hides against what its lightness tells";
    if (!mix && hides_in < 0) return;
    if (!mix) basis_number(l, e, "coats that hid black and white", (double)hides_in, DIM_NONE);
    for (size_t i = 0; mix && i < mix->jars && i < MIX_FILM_JARS; i++) {
        const struct mix_film_jar *jar = &mix->jar[i];
        const char *name = jar->paint->name ? jar->paint->name : jar->paint->id;
        basis_number(
            l, e, arena_print(l->arena, "share of %s in what the mix scatters and absorbs", name),
            jar->share, DIM_FRACTION);
        if (jar->hides_in <= 0) continue; /* nobody tried: it is what its lightness tells */
        basis_number(l, e, arena_print(l->arena, "coats of %s that hid black and white", name),
                     (double)jar->hides_in, DIM_NONE);
        basis_number(l, e,
                     arena_print(l->arena, "so %s hides against what its lightness tells", name),
                     jar->scale, DIM_FRACTION);
        scale = "so the mix hides, by these shares";
    }
    basis_number(l, e, scale, h->scale, DIM_FRACTION);
}

/* Coats of color that the ground below and the color want. reason: in words, or NULL */
static int64_t color_coats(struct build *b, const struct lot *lot, const struct stack *s,
                           const char **reason) {
    const struct coat_kinds_row *k = coat_kind_of(b->r->t, lot->color_class);
    const struct room *r = b->r;
    const struct color_said *c = color_over(b, lot);
    int64_t said = r->piece->wanted.color_coats;
    *reason = NULL;
    if (!c) return said > 0 ? said : k->coats;
    struct ground g = ground_below(b, lot, s);
    const struct mix_film *mix = mix_of(r, lot);
    const int64_t hides_in = mix ? INT64_MIN : jar_hides_in(b, c, k->id);
    struct hides h = mix ? coats_hide_mix(r->t, mix, g.lab, COATS_TRIED)
                         : coats_hide(r->t, k->id, c->lab, hides_in, g.lab, COATS_TRIED);
    int64_t coats = h.coats > k->coats ? h.coats : k->coats;
    bool clean_warm = c->lab[2] > 45 || (c->lab[1] > 45 && c->lab[0] < 60);
    if (h.coats > COATS_TRIED)
        *reason = ROOM_TEXT(r, "It does not hide %s in %d coats: %s.", g.what, COATS_TRIED,
                            s->under_n ? "have the primer tinted toward the color"
                                       : "prime it white or gray first");
    else if (h.coats > k->coats)
        *reason = ROOM_TEXT(r, "%d coats until %s no longer shows through.", h.coats, g.what);
    if (h.coats > COATS_TRIED) coats = COATS_TRIED;
    const bool tried = mix ? mix->tried == mix->jars : hides_in > 0;
    if (clean_warm && coats == k->coats && !tried) {
        coats++; /* their pigments scatter less than the lightness tells */
        *reason = "Clean reds and yellows hide badly: one coat more.";
    }
    struct ledger *l = r->ledger;
    struct basis *e =
        ledger_basis(l, ROOM_TEXT(r, "%s/coats/rows/%zu/coats", r->at, b->p->coats.n),
                     said > 0 ? "as asked"
                              : "usual number of the class, or as many as it takes until the thin "
                                "places of the film over what lies below reach the contrast ratio "
                                "0.98; one more for clean reds and yellows of which nobody tried "
                                "how they hide",
                     "KM1931; ISO6504", CERTAINTY_COMMON);
    if (mix && said <= 0)
        e->rule =
            "usual number of the class, or as many as it takes until the thin places of the "
            "film over what lies below reach the contrast ratio 0.98; the mix scatters and "
            "absorbs as its jars together, by volume, and hides as they do, each by its share "
            "of that; a jar that nobody tried as its lightness tells, and one coat more for "
            "clean reds and yellows with such a jar";
    basis_number(l, e, "usual number", k->coats, DIM_NONE);
    basis_number(l, e, "until it hides", h.coats, DIM_NONE);
    basis_word(l, e, "over", g.what);
    basis_number(l, e, "contrast ratio then", h.contrast, DIM_NONE);
    basis_number(l, e, "dry film of one coat", h.film_um, DIM_FILM);
    basis_number(l, e, "of it in thin places", h.thin, DIM_FRACTION);
    hides_explain(l, e, &h, hides_in, mix);
    if (said <= 0) return coats;
    *reason = said < h.coats ? ROOM_TEXT(r, "As asked; %s will show through: it takes %d coats.",
                                         g.what, h.coats)
                             : NULL;
    return said;
}

/* ---- rows ---- */

struct lot_plan paint_plan(struct build *b, const struct lot *lot) {
    struct lot_plan lp = {.lot = lot, .over = lot->color_class};
    if (!lot->color_class) return lp;
    lp.stack = stack_try(b, lot, lot->color_class);
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
    const struct coat_kinds_row *k = coat_kind_of(r->t, lot->color_class);
    const char *reason;
    int64_t coats = color_coats(b, lot, s, &reason);
    struct coat *c = coat_add(b, lot, ROLE_COLOR, "color", k->id, lot->area_m2, coats);
    coat_judged(c, &s->top);
    if (reason) c->why = ROOM_TEXT(r, "%s %s", reason, c->why);
    if (lot->color && !shelf_paint(r->shelf, lot->product))
        c->text = ROOM_TEXT(r, "%s, its own color %s", c->text, lot->color->text);
    rub_between(b, lot, c, "nib");
}

static void over_color(struct build *b, const struct lot *lot) {
    struct facts f = lot_facts(b, lot);
    f.ours = true;
    const char *film = coat_kind_of(b->r->t, lot->color_class)->becomes;
    if (lot->clear_class) {
        coat_add(b, lot, ROLE_RUB, "nib", NULL, lot->clear_m2, 1)->why =
            "Clear shows every nib that is left in the color.";
        struct judgment j = coats_judge(&f, film, lot->clear_class);
        b->wants_test |= (j.prep & PREP(TEST)) != 0;
        clear_rows(b, lot, &j, lot->clear_class);
        film = coat_kind_of(b->r->t, lot->clear_class)->becomes;
    }
    if (lot->last_class) {
        struct judgment j = coats_judge(&f, film, lot->last_class);
        clear_rows(b, lot, &j, lot->last_class);
    }
}

static void spot_lot(struct build *b, const struct lot_plan *lp) {
    size_t before = b->p->coats.n;
    b->test_below |= (lp->stack.prep & PREP(TEST)) != 0;
    b->wants_test |= lp->stack.under_n && lp->stack.top.prep & PREP(TEST); /* on its own primer */
    spot_rows(b, lp->lot, &lp->stack);
    merge_rows(b, before);
}

static void prime_lot(struct build *b, const struct lot_plan *lp) {
    size_t before = b->p->coats.n;
    under_rows(b, lp->lot, &lp->stack);
    merge_rows(b, before);
}

static void color_lot(struct build *b, const struct lot_plan *lp) {
    edge_row(b, lp->lot);
    color_rows(b, lp->lot, &lp->stack);
    effect_rows(b, lp->lot, false);
}

static void clear_lot(struct build *b, const struct lot_plan *lp) {
    size_t before = b->p->coats.n;
    if (lp->lot->clear_m2 > 0) over_color(b, lp->lot);
    merge_rows(b, before);
    effect_rows(b, lp->lot, true);
}

void paint_rows(struct build *b, const struct lot_plan *lots, size_t n) {
    typedef void lot_fn(struct build * b, const struct lot_plan *lp);
    static lot_fn *const phases[] = {spot_lot, prime_lot, color_lot, clear_lot};
    for (size_t k = 0; k < sizeof phases / sizeof *phases; k++)
        for (size_t i = 0; i < n; i++)
            if (lots[i].lot->kind == LOT_PAINT && lots[i].over) phases[k](b, &lots[i]);
}
