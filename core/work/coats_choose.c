/* Which class of color, clear and last coat: what was asked where it holds, else the next good
 * choice, with a note of what was refused and why. */
#include "core/work/coats_build.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
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
        if (!same(p->class, class)) continue;
        if (!best || (isnan(best->stock_ml) ? 0 : best->stock_ml) < p->stock_ml) best = p;
    }
    return best;
}

static const char *role_of(const struct build *b, const char *class) {
    const struct coat_kinds_row *k = coat_kind_of(b->r->t, class);
    return k ? k->role : "";
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
    assume_word(r->ledger, ROOM_TEXT(r, "%s/wanted/%s", r->at, field), class, why, "CP");
}

/* ---- color ------------------------------------------------------------------------------------
 */

static const struct coat_rules_row *color_fails(const struct build *b, const char *class) {
    for (size_t i = 0; i < b->lots_n; i++) {
        if (b->lots[i].kind != LOT_PAINT) continue;
        struct stack s = stack_try(b, &b->lots[i], class);
        if (s.failed) return s.failed;
    }
    return NULL;
}

static bool any_lot(const struct build *b, enum lot_kind kind) {
    for (size_t i = 0; i < b->lots_n; i++)
        if (b->lots[i].kind == kind) return true;
    return false;
}

static void choose_color(struct build *b) {
    if (!any_lot(b, LOT_PAINT)) return;
    const char *asked = same(role_of(b, b->f.color), "color") ? b->f.color : NULL;
    const char *place = fact_holds(&b->f, "outdoor") ? "exterior_paint" : NULL;
    const char *order[] = {asked,       place,          asked ? NULL : color_on_shelf(b),
                           "wb_enamel", "alkyd_enamel", "exterior_paint"};
    const struct coat_rules_row *refused = NULL;
    for (size_t i = 0; i < sizeof order / sizeof *order && !b->color; i++) {
        if (!order[i]) continue;
        const struct coat_rules_row *why = color_fails(b, order[i]);
        if (!why)
            b->color = order[i];
        else if (same(order[i], asked))
            refused = why;
    }
    if (refused) refusal_note(b, asked, refused, b->color);
    if (!asked && b->color)
        assume_class(b, "product", b->color,
                     place ? "Outdoors only an exterior system lasts."
                           : "The shelf holds paints of this class; it fits the place.");
    b->f.color = b->color; /* the facts speak of what is planned from here on */
}

/* ---- clear and last coat over the color
 * ---------------------------------------------------------- */

static struct judgment over_color(const struct build *b, const char *class) {
    struct facts f = b->f;
    f.treatment = TREAT_PAINT;
    f.ours = true;
    for (size_t i = 0; i < b->lots_n; i++)
        if (b->lots[i].kind == LOT_PAINT && b->lots[i].top_m2 > 0) f.top_surface = true;
    return coats_judge(&f, coat_kind_of(b->r->t, b->color)->becomes, class);
}

/* What one would put on if nobody said: nothing over enamel on kitchen doors or oil enamel, a
 * waterborne clear elsewhere. */
static const char *clear_default(const struct build *b) {
    if (fact_holds(&b->f, "outdoor") || same(b->color, "alkyd_enamel")) return "none";
    bool doors_only = b->r->piece->template && strstr(b->r->piece->template, "door");
    if (same(b->color, "wb_enamel") && (doors_only || fact_holds(&b->f, "kitchen !table")))
        return "none";
    return "wb_clear";
}

static void choose_clear(struct build *b) {
    if (!b->color) return;
    const char *said = b->r->piece->wanted.clear;
    const char *asked = said ? class_wanted(b->r->shelf, said) : NULL;
    const char *want = asked ? asked : clear_default(b);
    struct judgment j = over_color(b, want);
    if (j.verdict == VERDICT_NEVER) {
        const char *next = over_color(b, "wb_clear").verdict == VERDICT_NEVER ? "none" : "wb_clear";
        if (asked) refusal_note(b, want, j.rule, same(next, "none") ? NULL : next);
        want = next;
    } else if (same(want, "none") && j.verdict == VERDICT_PREPARE && asked) {
        struct notice *n =
            notice_add(b->r->ledger, &b->p->coats.refused, RANK_MIND, "clear", j.rule->text,
                       j.rule->source, certainty_of(j.rule->certainty));
        if (n && *j.rule->remedy) n->remedy = j.rule->remedy;
    }
    if (!asked) assume_class(b, "clear", want, "What the color and the use want.");
    if (same(want, "none")) return;
    if (same(role_of(b, want), "last"))
        b->last = want;
    else
        b->clear = want;
}

enum status coats_choose(struct build *b) {
    choose_color(b);
    choose_clear(b);
    return b->r->ledger->failed ? E_MEMORY : OK;
}
