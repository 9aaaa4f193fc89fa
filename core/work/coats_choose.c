/* Which class of color, clear and last coat: what was asked where it holds, else the next good
 * choice, with a note of what was refused and why. */
#include "core/work/coats_build.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

static const char *role_of(const struct build *b, const char *class) {
    const struct coat_kinds_row *k = coat_kind_of(b->r->t, class);
    return k ? k->role : "";
}

bool can_tints(const struct build *b, const struct paint *can) {
    return can && (can->color.text || can->spectrum.values_n) &&
           same(role_of(b, can->class), "clear");
}

const struct paint *can_of_class(const struct build *b, const char *class) {
    const struct wanted *w = &b->r->piece->wanted;
    const char *asked[] = {w->product, w->clear, w->primer};
    for (size_t i = 0; i < 3; i++) {
        const struct paint *p = shelf_paint(b->r->shelf, asked[i]);
        if (p && same(p->class, class)) return p;
    }
    const struct paint *best = NULL;
    for (size_t i = 0; b->r->shelf && i < b->r->shelf->paints_n; i++) {
        const struct paint *p = &b->r->shelf->paints[i];
        if (!same(p->class, class) || can_tints(b, p)) continue; /* those only where named */
        if (!best || (isnan(best->stock_ml) ? 0 : best->stock_ml) < p->stock_ml) best = p;
    }
    return best;
}

/* The class of color paint of which the shelf holds most kinds; NULL if it holds none. */
static const char *color_on_shelf(const struct build *b) {
    const char *best = NULL;
    size_t best_n = 0;
    for (size_t i = 0; i < b->r->t->coat_kinds_n; i++) {
        const struct coat_kinds_row *k = &b->r->t->coat_kinds[i];
        size_t n = 0;
        if (!same(k->role, "color")) continue;
        for (size_t s = 0; b->r->shelf && s < b->r->shelf->paints_n; s++)
            n += same(b->r->shelf->paints[s].class, k->id);
        if (n > best_n) best = k->id, best_n = n;
    }
    return best;
}

void refusal_note(struct build *b, const char *what, const struct coat_rules_row *why,
                  const char *instead) {
    const struct coat_kinds_row *k = coat_kind_of(b->r->t, what),
                                *i = coat_kind_of(b->r->t, instead);
    const struct room *r = b->r;
    struct notice *n =
        notice_add(r->ledger, &b->p->coats.refused, RANK_NOTE, "refused",
                   ROOM_TEXT(r, "Not planned: %s. %s", k ? k->name : what, why->text), why->source,
                   certainty_of(why->certainty));
    if (!n) return;
    n->remedy =
        i ? ROOM_TEXT(r, "%s%sPlanned instead: %s.", why->remedy, *why->remedy ? " " : "", i->name)
        : *why->remedy ? why->remedy
                       : NULL;
}

static void assume_class(struct build *b, const char *field, const char *class, const char *why) {
    const struct room *r = b->r;
    const struct coat_kinds_row *kind = coat_kind_of(r->t, class);
    assume_word(r->ledger, ROOM_TEXT(r, "%s/wanted/%s", r->at, field), kind ? kind->name : class,
                why, "CP");
}

const struct paint *lot_can(const struct build *b, const struct lot *lot, const char *class) {
    const char *said[] = {lot->product, lot->clear_said};
    for (size_t i = 0; i < 2; i++) {
        const struct paint *p = shelf_paint(b->r->shelf, said[i]);
        if (p && same(p->class, class)) return p;
    }
    return can_of_class(b, class);
}

/* ---- color ---- */

/* Why this class does not hold on one of the lots that say nothing of their own (lot NULL), or on
 * this lot; NULL: it holds. */
static const struct coat_rules_row *color_fails(const struct build *b, const struct lot *lot,
                                                const char *class) {
    for (size_t i = 0; i < b->lots_n; i++) {
        const struct lot *at = &b->lots[i];
        if (at->kind != LOT_PAINT || (lot ? at != lot : at->product != NULL)) continue;
        struct stack s = stack_try(b, at, class);
        if (s.failed) return s.failed;
    }
    return NULL;
}

static bool any_lot(const struct build *b, enum lot_kind kind) {
    for (size_t i = 0; i < b->lots_n; i++)
        if (b->lots[i].kind == kind) return true;
    return false;
}

/* The first class that holds: asked, then what suits the place, the shelf, and the next good one.
 */
static const char *color_that_holds(struct build *b, const struct lot *lot, const char *asked) {
    const char *place = fact_holds(&b->f, "outdoor") ? "exterior_paint" : NULL;
    const char *order[] = {asked,       place,          asked ? NULL : color_on_shelf(b),
                           "wb_enamel", "alkyd_enamel", "exterior_paint"};
    const struct coat_rules_row *refused = NULL;
    const char *class = NULL;
    for (size_t i = 0; i < sizeof order / sizeof *order && !class; i++) {
        if (!order[i]) continue;
        const struct coat_rules_row *why = color_fails(b, lot, order[i]);
        if (!why)
            class = order[i];
        else if (same(order[i], asked))
            refused = why;
    }
    if (refused) refusal_note(b, asked, refused, class);
    return class;
}

static void choose_color(struct build *b) {
    if (!any_lot(b, LOT_PAINT)) return;
    const char *asked = same(role_of(b, b->f.color), "color") ? b->f.color : NULL;
    b->color = color_that_holds(b, NULL, asked);
    if (!asked && b->color)
        assume_class(b, "product", b->color,
                     fact_holds(&b->f, "outdoor") ? "outdoors only an exterior system lasts"
                     : same(color_on_shelf(b), b->color)
                         ? "the shelf holds paints of this class; it fits the place"
                         : "it fits the place");
    b->f.color = b->color; /* the facts speak of what is planned from here on */
}

/* ---- clear and last coat over the color ---- */

/* Over the color of one lot, or of all painted lots that say nothing of their own. */
static struct judgment over_color(const struct build *b, const struct lot *lot, const char *color,
                                  const char *class) {
    struct facts f = lot ? lot_facts(b, lot) : b->f;
    f.treatment = TREAT_PAINT;
    f.ours = true;
    for (size_t i = 0; i < b->lots_n && !lot; i++)
        if (b->lots[i].kind == LOT_PAINT && b->lots[i].top_m2 > 0) f.top_surface = true;
    return coats_judge(&f, coat_kind_of(b->r->t, color)->becomes, class);
}

/* What one would put on if nobody said: nothing over enamel on kitchen doors or oil enamel, a
 * waterborne clear elsewhere. */
static const char *clear_default(const struct build *b, const char *color) {
    if (fact_holds(&b->f, "outdoor") || same(color, "alkyd_enamel")) return "none";
    bool doors_only = b->r->piece->template && strstr(b->r->piece->template, "door");
    if (same(color, "wb_enamel") && (doors_only || fact_holds(&b->f, "kitchen !table")))
        return "none";
    return "wb_clear";
}

static const char *clear_that_holds(struct build *b, const struct lot *lot, const char *color,
                                    const char *asked) {
    const char *want = asked ? asked : clear_default(b, color);
    struct judgment j = over_color(b, lot, color, want);
    if (j.verdict == VERDICT_NEVER) {
        const char *next =
            over_color(b, lot, color, "wb_clear").verdict == VERDICT_NEVER ? "none" : "wb_clear";
        if (asked) refusal_note(b, want, j.rule, same(next, "none") ? NULL : next);
        return next;
    }
    if (same(want, "none") && j.verdict == VERDICT_PREPARE && asked) {
        struct notice *n =
            notice_add(b->r->ledger, &b->p->coats.refused, RANK_MIND, "clear", j.rule->text,
                       j.rule->source, certainty_of(j.rule->certainty));
        if (n && *j.rule->remedy) n->remedy = j.rule->remedy;
    }
    return want;
}

/* Files the class under clear or last coat; "none" under neither. */
static void clear_file(const struct build *b, const char *class, const char **clear,
                       const char **last) {
    *clear = *last = NULL;
    if (same(class, "none")) return;
    *(same(role_of(b, class), "last") ? last : clear) = class;
}

static void choose_clear(struct build *b) {
    if (!b->color) return;
    const char *said = b->r->piece->wanted.clear;
    const char *asked = said ? class_wanted(b->r->shelf, said) : NULL;
    const char *want = clear_that_holds(b, NULL, b->color, asked);
    if (!asked) assume_class(b, "clear", want, "what the color and the use want");
    clear_file(b, want, &b->clear, &b->last);
}

/* ---- parts that are to be otherwise than the piece: two-tone, a waxed top ---- */

static bool own_system(const struct build *b, const struct lot *lot) {
    if (lot->product || lot->clear_said) return true;
    /* a light part of a dark piece may not carry the piece's clear */
    return lot->color && b->clear &&
           over_color(b, lot, lot->color_class, b->clear).verdict == VERDICT_NEVER;
}

static void choose_lot(struct build *b, struct lot *lot) {
    lot->color_class = b->color, lot->clear_class = b->clear, lot->last_class = b->last;
    if (lot->product)
        lot->color_class = color_that_holds(b, lot, class_wanted(b->r->shelf, lot->product));
    if (!lot->color_class || !own_system(b, lot)) return;
    const char *said = lot->clear_said ? lot->clear_said : b->r->piece->wanted.clear;
    const char *asked = said ? class_wanted(b->r->shelf, said) : NULL;
    clear_file(b, clear_that_holds(b, lot, lot->color_class, asked), &lot->clear_class,
               &lot->last_class);
}

/* The row of the piece's further colors that this lot is painted in; added when it is new. */
static int64_t color_row(struct build *b, struct lot *lot) {
    struct piece_plan *p = b->p;
    const struct paint *can = shelf_paint(b->r->shelf, lot->product);
    const struct color_said *color = can && !lot->color ? &can->color : lot->color;
    bool other_class = lot->color_class && b->color && !same(lot->color_class, b->color);
    if (!color && !other_class) return 0;
    if (!color) color = &b->r->piece->wanted.color;
    const char *product = can ? can->id : NULL;
    for (size_t i = 0; i < b->lots_n; i++) { /* the same color of the same class is one batch */
        const struct lot *l = &b->lots[i];
        if (l == lot || !l->color_row || !same(l->color_class, lot->color_class)) continue;
        const struct color_plan *c = &p->colors[l->color_row - 1];
        bool one_can = c->product == product || same(c->product, product);
        if (one_can && same(c->target.text, color->text)) return l->color_row;
    }
    p->colors[p->colors_n++] = (struct color_plan){.target = *color, .product = product};
    return (int64_t)p->colors_n;
}

static enum status choose_lots(struct build *b) {
    b->p->colors_n = 0;
    b->p->colors = arena_array(b->r->ledger->arena, b->lots_n + 1, sizeof *b->p->colors);
    if (!b->p->colors) return E_MEMORY;
    for (size_t i = 0; i < b->lots_n; i++) {
        if (b->lots[i].kind != LOT_PAINT) continue;
        choose_lot(b, &b->lots[i]);
        b->lots[i].color_row = color_row(b, &b->lots[i]);
    }
    return OK;
}

enum status coats_choose(struct build *b) {
    choose_color(b);
    choose_clear(b);
    enum status s = choose_lots(b);
    return b->r->ledger->failed ? E_MEMORY : s;
}
