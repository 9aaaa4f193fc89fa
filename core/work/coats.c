#include "core/work/coats_build.h"
#include "core/work/coats_dry.h"
#include "core/work/learn.h"
#include "core/work/method.h"
#include "core/work/surface.h"

#include <math.h>
#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

/* ---- one row ---- */

static const char *coat_id(struct build *b, const struct lot *lot, const char *operation) {
    static const char *kinds[] = {"", "-clear", "-stain", "-wax", "-seal"};
    const struct coats *c = &b->p->coats;
    const struct room *r = b->r;
    char *id = ROOM_TEXT(r, "%s-%s%s-%s", r->piece->id ? r->piece->id : "piece", lot->group->id,
                         lot->shares_group ? kinds[lot->kind] : "", operation);
    if (!id) return NULL;
    const char *base = id;
    /* rows of one lot follow each other: the last few are enough to look at */
    for (int again = 2; again < 9; again++) {
        bool taken = false;
        for (size_t i = c->n; i > 0 && c->n - i < 24; i--) taken |= same(c->rows[i - 1].id, id);
        if (!taken) break;
        id = ROOM_TEXT(r, "%s-%d", base, again);
    }
    return id;
}

/* "Scuff by hand, 220 grit" or "Clear coat: waterborne clear"; how often says coats. */
static const char *coat_text(const struct build *b, const struct operations_row *op,
                             const struct coat_kinds_row *k, const struct paint *can) {
    const struct room *r = b->r;
    const char *what = can && can->name ? can->name : k ? k->name : NULL;
    if (what) return ROOM_TEXT(r, "%s: %s", op->name, what);
    return op->grit ? ROOM_TEXT(r, "%s, %d grit", op->name, op->grit) : op->name;
}

static void coat_times(struct build *b, struct coat *c, const struct paint *can) {
    if (!c->class) return;
    struct coat_dry d = coat_dry(b->r, c->class, can);
    c->dries_as = can;
    c->touch_min = d.touch_min, c->recoat_min = d.recoat_min;
    c->recoat_until_min = d.recoat_until_min;
    c->handle_min = d.handle_min, c->cure_min = d.cure_min, c->film_um = d.film_um;
}

/* Films go on with the group's tool, but where a roller spoils them; what is wiped is wiped with a
 * cloth, spots are touched. */
static const char *tool_of(const struct build *b, const struct lot *lot,
                           const struct operations_row *op, enum coat_role role,
                           const char *class) {
    const struct coat_kinds_row *k = coat_kind_of(b->r->t, class);
    const char *group = lot->group->tool;
    if (!k) return op->tool;
    if (same(k->tool, "cloth")) return k->tool;
    if (role == ROLE_SPOT_SEAL || role == ROLE_EFFECT || !group || same(group, "cloth"))
        return "brush";
    return *k->tool && !method_sprays(b->r->t, group) ? k->tool : group;
}

/* A gun reaches what a roller leaves to the brush. */
static const char *tool_on_curves(const struct build *b, const struct lot *lot,
                                  const struct operations_row *op, const char *tool) {
    bool gun = method_sprays(b->r->t, tool);
    return lot->curves && *op->tool_curves && !gun ? op->tool_curves : NULL;
}

struct coat *coat_add(struct build *b, const struct lot *lot, enum coat_role role,
                      const char *operation, const char *class, double area_m2, int64_t coats) {
    struct coats *to = &b->p->coats;
    const struct room *r = b->r;
    const struct operations_row *op = operation_row(r->t, operation);
    struct coat *rows = ledger_grow(r->ledger, to->rows, to->n, &to->cap, sizeof *rows);
    if (!rows || !op) return &b->scratch;
    to->rows = rows;
    const struct paint *can = class ? lot_can(b, lot, class) : NULL;
    const char *as_is = lot->product ? lot->product : lot->color ? NULL : r->piece->wanted.product;
    bool mixed = role == ROLE_COLOR && !same(as_is, can ? can->id : NULL);
    const char *tool = tool_of(b, lot, op, role, class);
    rows[to->n] = (struct coat){
        .id = coat_id(b, lot, operation),
        .group = lot->group->id,
        .role = role,
        .operation = op->id,
        .product = can && !mixed ? can->id : NULL,
        .class = class,
        .coats = coats,
        .area_m2 = area_m2,
        .grit = op->grit,
        .grit_curves = lot->curves ? op->grit_curves : 0,
        .tool = tool,
        .tool_curves = tool_on_curves(b, lot, op, tool),
        .verdict = VERDICT_HOLDS,
        .text = coat_text(b, op, coat_kind_of(r->t, class), mixed ? NULL : can),
        .why = op->how,
        .how = op->how,
        .hands_min = effort_min(b, lot, op, area_m2),
        .touch_min = NAN,
        .recoat_min = op->wait_min,
        .recoat_until_min = NAN,
        .handle_min = NAN,
        .cure_min = NAN,
        .film_um = class ? NAN : 0,
        .color = {.lab = {NAN, NAN, NAN}},
        .source = op->source,
        .certainty = CERTAINTY_COMMON,
    };
    if (rows[to->n].hands_min > 0)
        rows[to->n].alone_frac = effort_alone_min(b, lot, op, area_m2) / rows[to->n].hands_min;
    if (role == ROLE_COLOR) rows[to->n].color_row = lot->color_row;
    if (role == ROLE_COLOR && lot->color) rows[to->n].color = *lot->color;
    rows[to->n].ready_min = effort_ready_min(b, lot, op, area_m2, &rows[to->n].session_min);
    coat_times(b, &rows[to->n], can);
    return &rows[to->n++];
}

void rub_between(struct build *b, const struct lot *lot, struct coat *c, const char *rub) {
    const struct operations_row *op = operation_row(b->r->t, rub);
    if (!op || (c->coats < 2 && !c->again)) return;
    double each = effort_min(b, lot, op, c->area_m2);
    double coats = (double)c->coats, rubs = c->again ? coats : coats - 1;
    c->hands_min += each * rubs / coats;
    c->rub_min = each;
    c->why = ROOM_TEXT(b->r, "%s Rub down with %d grit %s.", c->why, op->grit,
                       c->again ? "before it" : "between coats");
}

void coat_judged(struct coat *c, const struct judgment *j) {
    c->verdict = j->verdict;
    if (!j->rule) {
        c->why = "No rule speaks of this pair. Make a test patch and wait two days.";
        c->certainty = CERTAINTY_ASSUMED;
        return;
    }
    c->rule = j->rule->id;
    c->why = j->rule->text;
    c->remedy = *j->rule->remedy ? j->rule->remedy : NULL;
    c->source = j->rule->source;
    c->certainty = certainty_of(j->rule->certainty);
}

/* ---- clear coats ---- */

/* Wood that is seen may want more coats than a barrier of the same, a sound old coat of its own
 * kind fewer. */
static int64_t clear_coats(const struct build *b, const struct lot *lot,
                           const struct coat_kinds_row *k) {
    if (same(b->under, k->becomes)) return k->renewed;
    return lot->kind != LOT_PAINT && k->seen > 0 ? k->seen : k->coats;
}

void clear_rows(struct build *b, const struct lot *lot, const struct judgment *j,
                const char *class) {
    const struct coat_kinds_row *k = coat_kind_of(b->r->t, class);
    if (!k || !(lot->clear_m2 > 0)) return;
    bool last = same(k->role, "last");
    const char *op = !last ? "clear" : same(k->id, "oil") ? "oil" : "wax";
    int64_t said = b->r->piece->wanted.clear_coats;
    int64_t coats = said > 0 ? said : clear_coats(b, lot, k);
    struct coat *c =
        coat_add(b, lot, last ? ROLE_WAX : ROLE_CLEAR, op, k->id, lot->clear_m2, coats);
    coat_judged(c, j);
    if (can_tints(b, lot_can(b, lot, k->id)))
        c->why = ROOM_TEXT(b->r,
                           "%s This one is tinted and shifts the color below: read a card with "
                           "both on it before it goes on.",
                           c->why);
    bool raises = !last && same(k->thinner, "water") && c->coats > 1 && same(b->under, "bare");
    if (raises)
        c->why = ROOM_TEXT(b->r, "%s The first one raises the grain: rub it smooth.", c->why);
    if (!last) rub_between(b, lot, c, "rub_clear");
    bool tops = said <= 0 && same(k->role, "clear") && lot->top_m2 > 0 && k->coats_worn > k->coats;
    if (!tops) return;
    c = coat_add(b, lot, ROLE_CLEAR, "clear", k->id, lot->top_m2, k->coats_worn - k->coats);
    c->again = true;
    c->why = fact_holds(&b->f, "seat")
                 ? "A seat wears through before the rest: one thin coat more there."
                 : "Tops take the cups and the keys: one thin coat more there.";
    c->verdict = VERDICT_HOLDS;
    rub_between(b, lot, c, "rub_clear");
}

/* ---- the whole ---- */

static void total_film(struct build *b) {
    const struct coats *c = &b->p->coats;
    double lot_um = 0, most = 0;
    for (size_t i = 0; i < c->n; i++) {
        if (i && !same(c->rows[i].group, c->rows[i - 1].group)) lot_um = 0;
        bool inside = same(c->rows[i].operation, "seal_inside"); /* on faces of its own */
        const struct coat_kinds_row *k = coat_kind_of(b->r->t, c->rows[i].class);
        bool sinks = k && material_of(b->r->t, k->becomes)->film != 1; /* oil, stain, wax */
        if (c->rows[i].film_um > 0 && c->rows[i].role != ROLE_SPOT_SEAL && !inside && !sinks)
            lot_um += c->rows[i].film_um * (double)c->rows[i].coats;
        most = fmax(most, lot_um);
    }
    b->p->coats.film_um = most;
}

static const char *board_reason(struct build *b) {
    const struct coats *c = &b->p->coats;
    if (fact_holds(&b->f, "board_passed")) return NULL;
    if (fact_holds(&b->f, "board_failed"))
        return "The last board failed. Change the system and make another.";
    if (fact_holds(&b->f, "light bleed_high"))
        return "A light color over what may bleed: see it on a board first.";
    if (fact_holds(&b->f, "finish_unknown coated"))
        return "Nobody knows what is on it: see on a board or a hidden place that it holds.";
    for (size_t i = 0; i < c->n; i++)
        if (c->rows[i].verdict == VERDICT_UNKNOWN)
            return "No rule speaks of one of these coats: see on a board that it holds.";
    if (b->wants_test || b->test_below)
        return "One of these coats holds only sometimes: see it on a board first.";
    if (fact_holds(&b->f, "laminate !film_fails"))
        return "Primer on laminate is taped before the color: 24 to 72 hours.";
    return NULL;
}

/* A part to be waxed or oiled that gets a clear or a stain after all is a cleared or stained part,
 * with the tool of that. */
static void wax_refused(struct build *b, const struct lot *lot, const char *instead) {
    const struct coat_kinds_row *k = coat_kind_of(b->r->t, instead);
    struct surfaces *s = &b->p->surfaces;
    if (lot->kind != LOT_WAX || !k || same(k->role, "last")) return;
    for (size_t i = 0; i < s->rows_n; i++)
        if (b->lot_of[i] == lot)
            s->rows[i].part.treatment = same(k->role, "stain") ? TREAT_STAIN : TREAT_CLEAR;
    surface_tools(b->r, s);
}

/* One group: dry work in all its lots, then what is painted, then what stays natural, so that
 * nothing is sanded beside fresh film and no clear is taped over. */
static void group_rows(struct build *b, const struct lot *lots, size_t n, struct lot_plan *plans) {
    for (size_t i = 0; i < n; i++) {
        plans[i] = lots[i].kind == LOT_PAINT  ? paint_plan(b, &lots[i])
                   : lots[i].kind == LOT_SEAL ? seal_plan(&lots[i])
                                              : natural_plan(b, &lots[i]);
        wax_refused(b, &lots[i], plans[i].clear);
    }
    dry_rows(b, plans, n);
    for (size_t i = 0; i < n; i++)
        if (lots[i].kind == LOT_SEAL) seal_rows(b, &plans[i]);
    paint_rows(b, plans, n);
    for (size_t i = 0; i < n; i++)
        if (lots[i].kind != LOT_PAINT && lots[i].kind != LOT_SEAL) natural_rows(b, &plans[i]);
}

/* What gets no clear after all is no clear area. */
static void clear_areas(struct build *b) {
    struct surfaces *s = &b->p->surfaces;
    s->clear_m2 = 0;
    for (size_t g = 0; g < s->groups_n; g++) s->groups[g].clear_m2 = 0;
    for (size_t g = 0; g < s->groups_n; g++)
        for (size_t i = s->groups[g].first; i < s->groups[g].first + s->groups[g].n; i++) {
            const struct lot *lot = b->lot_of[i];
            bool paint = lot && lot->kind == LOT_PAINT;
            if (paint && !lot->clear_class && !lot->last_class) s->rows[i].clear_m2 = 0;
            s->groups[g].clear_m2 += s->rows[i].clear_m2;
            s->clear_m2 += s->rows[i].clear_m2;
        }
    const struct room *r = b->r;
    struct basis *why = ledger_basis(
        r->ledger, ROOM_TEXT(r, "%s/surfaces/clear_m2", r->at),
        "sum over the parts that get a clear, wax or oil: area of one x profile factor x count x "
        "pieces",
        r->piece->template ? "CP, geometry of the usual piece" : "SP811, geometry",
        r->piece->template ? CERTAINTY_COMMON : CERTAINTY_EXACT);
    for (size_t g = 0; g < s->groups_n; g++)
        basis_number(r->ledger, why, s->groups[g].name, s->groups[g].clear_m2, DIM_AREA);
}

/* What a stain looks like nobody reckons: the wood is half of it. */
static void tint_note(struct build *b) {
    const struct room *r = b->r;
    if (!r->piece->wanted.tint) return;
    struct notice *n = notice_add(
        r->ledger, &b->p->coats.refused, RANK_MIND, "stain",
        ROOM_TEXT(r,
                  "Buy the stain tinted toward %s and try it on a hidden place. What is seen is "
                  "stain and wood together; no recipe is reckoned for it.",
                  r->piece->wanted.tint),
        "CP", CERTAINTY_COMMON);
    if (n) n->remedy = "To get just that color, an opaque paint: leave the stain out.";
}

enum status coats_make(const struct room *r, struct piece_plan *p, struct why *why) {
    struct build b = {.r = r, .p = p};
    p->coats = (struct coats){0};
    if (p->hazards.refused) return OK;
    fact_make(r, &p->inspection, &b.f);
    enum status s = wishes_check(&b, why);
    if (s == OK) s = lots_make(&b);
    if (s == OK) s = coats_choose(&b);
    if (s != OK) return s;
    struct lot_plan *plans = arena_array(r->ledger->arena, b.lots_n + 1, sizeof *plans);
    if (!plans) return E_MEMORY;
    /* natural wood is finished last: no wax beside what is still to be coated */
    for (int natural = 0; natural < 2; natural++)
        for (size_t i = 0, n; i < b.lots_n; i += n) {
            bool paint = false;
            for (n = 0; i + n < b.lots_n && b.lots[i + n].group == b.lots[i].group; n++)
                paint |= b.lots[i + n].kind == LOT_PAINT;
            if (paint != natural) group_rows(&b, &b.lots[i], n, plans);
        }
    tint_note(&b);
    coats_explain(&b);
    clear_areas(&b);
    total_film(&b);
    sheen_notes(&b);
    p->coats.test_board_why = board_reason(&b);
    p->coats.test_board = p->coats.test_board_why != NULL;
    bool unknown = fact_holds(&b.f, "finish_unknown coated");
    p->coats.test_first = p->coats.test_board && (b.test_below || unknown);
    return r->ledger->failed ? E_MEMORY : OK;
}
