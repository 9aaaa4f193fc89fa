/* Where the figures of a coat come from: its minutes, how many coats, when the next may follow.
 * Done when all rows stand, for rows are merged and minutes added while they are chosen. */
#include "core/work/coats_build.h"
#include "core/work/coats_dry.h"
#include "core/work/learn.h"
#include "core/work/method.h"

#include <math.h>
#include <string.h>

static const struct learnt *taught(const struct build *b, const char *what, const char *of) {
    return learnt_of(b->r->shop, b->r->piece->id, what, of, NULL);
}

static void records(struct ledger *l, struct basis *e, const struct learnt *by) {
    if (!by) return;
    basis_number(l, e, "your shop against what is usual", by->factor, DIM_NONE);
    basis_number(l, e, "records", (double)by->records, DIM_NONE);
}

/* ---- when the next coat may follow ---- */

static void drying_inputs(const struct build *b, const struct coat *k, struct basis *e) {
    const struct room *r = b->r;
    struct ledger *l = r->ledger;
    const struct product_classes_row *row = product_class_of(r->t, k->class);
    const struct paint *can = k->dries_as;
    const struct coat_dry d = coat_dry(r, k->class, can);
    const struct shop *shop = r->shop;
    bool label = can && can->label_recoat_min > 0;
    double said = label ? can->label_recoat_min : row ? row->recoat_min : NAN;
    if (!(said > 0)) return;
    basis_number(l, e, label ? "next coat by the can's label" : "next coat, usually", said,
                 DIM_DURATION);
    basis_number(l, e, "the shop by day", shop->day_degc, DIM_TEMPERATURE);
    if (d.degc > shop->day_degc)
        basis_number(l, e, "warmed to what it needs", d.degc, DIM_TEMPERATURE);
    basis_number(l, e, "humidity", shop->humidity_frac, DIM_FRACTION);
    if (d.rh_frac < shop->humidity_frac)
        basis_number(l, e, "brought down to what it stands", d.rh_frac, DIM_FRACTION);
    basis_number(l, e, "times longer in that air", d.recoat_min / said / d.shop_factor, DIM_NONE);
    if (k->recoat_min > d.recoat_min)
        basis_number(l, e, "on laminate no sooner than", k->recoat_min, DIM_DURATION);
    const struct learnt *by = taught(b, "drying", k->class);
    if (by && d.shop_factor == by->factor) records(l, e, by);
}

static void recoat_explain(const struct build *b, size_t row) {
    const struct room *r = b->r;
    const struct coat *k = &b->p->coats.rows[row];
    if (!k->class || isnan(k->recoat_min)) return;
    const struct paint *can = k->dries_as;
    const struct learnt *l = taught(b, "drying", k->class);
    struct basis *e = ledger_basis(
        r->ledger, ROOM_TEXT(r, "%s/coats/rows/%zu/recoat_min", r->at, row),
        "what the can's label says, else what is usual for the class, brought to the shop's air "
        "(no colder or damper than it may be used in: until then it waits); the shop's own times "
        "where it has records",
        l ? learnt_source(r->ledger->arena, l) : "CP",
        can && can->label_recoat_min > 0 ? CERTAINTY_LABEL
        : l                              ? CERTAINTY_MEASURED
                                         : CERTAINTY_COMMON);
    drying_inputs(b, k, e);
}

/* ---- hands ---- */

static double by_area_min(const struct build *b, const struct coat *k,
                          const struct operations_row *op) {
    bool sprays = method_sprays(b->r->t, k->tool) && !isnan(op->spray_per_m2_min);
    return (sprays ? op->spray_per_m2_min : op->per_m2_min) * k->area_m2;
}

/* What was said of the number of coats when they were chosen. */
static const struct basis *coats_basis(const struct ledger *l, const char *pointer) {
    for (size_t i = l->bases_n; i-- > 0;)
        if (!strcmp(l->bases[i].pointer, pointer)) return &l->bases[i];
    return NULL;
}

static void hands_explain(const struct build *b, size_t row) {
    const struct room *r = b->r;
    const struct coat *k = &b->p->coats.rows[row];
    const struct operations_row *op = operation_row(r->t, k->operation);
    if (!op) return;
    const struct basis *coats =
        coats_basis(r->ledger, ROOM_TEXT(r, "%s/coats/rows/%zu/coats", r->at, row));
    struct basis why = coats ? *coats : (struct basis){0}; /* the list may move */
    const struct learnt *pace = taught(b, "hours", op->id);
    struct basis *e = ledger_basis(
        r->ledger, ROOM_TEXT(r, "%s/coats/rows/%zu/hands_min", r->at, row),
        ROOM_TEXT(r,
                  "Minutes for each coat: getting ready and cleaning up, shared by area, and the "
                  "area, slower on turnings and slats and on what is worn, with the rubbing "
                  "between coats.%s%s%s",
                  why.rule ? " Coats: " : "", why.rule ? why.rule : "", why.rule ? "." : ""),
        pace ? learnt_source(r->ledger->arena, pace) : op->source,
        pace ? CERTAINTY_MEASURED : CERTAINTY_COMMON);
    double coats_n = k->coats > 1 ? (double)k->coats : 1, all = k->hands_min * coats_n;
    double low = pace ? exp(-1.28155 * pace->log_sd) : .6,
           high = pace ? exp(1.28155 * pace->log_sd) : 1.8;
    basis_range(e, DIM_DURATION, all * low, all * high);
    struct ledger *l = r->ledger;
    double usual = by_area_min(b, k, op), work = k->hands_min - k->ready_min;
    basis_number(l, e, "area", k->area_m2, DIM_AREA);
    basis_number(l, e, "getting ready and cleaning up", k->ready_min, DIM_DURATION);
    if (usual > 0) {
        basis_number(l, e, "the area, usually", usual, DIM_DURATION);
        basis_number(l, e, "here times", work / usual, DIM_NONE);
    } else {
        basis_number(l, e, "the work", work, DIM_DURATION);
    }
    if (k->coats > 1) basis_number(l, e, "coats", coats_n, DIM_NONE);
    if (r->piece->count > 1 && k->alone_frac > 0) {
        basis_number(l, e, "pieces alike", (double)r->piece->count, DIM_NONE);
        basis_number(l, e, "one of them alone", all * k->alone_frac, DIM_DURATION);
    }
    records(l, e, pace);
    for (size_t i = 0; i < why.inputs_n; i++)
        if (why.inputs[i].text)
            basis_word(l, e, why.inputs[i].name, why.inputs[i].text);
        else
            basis_number(l, e, why.inputs[i].name, why.inputs[i].value, why.inputs[i].unit);
    if (k->class) drying_inputs(b, k, e);
    if (!strcmp(op->id, "color")) /* what a painter of new joinery takes, for comparison */
        basis_number(l, e, "all coats on new joinery in series",
                     60 * joinery_h(r->t, "latex", k->area_m2), DIM_DURATION);
}

void coats_explain(const struct build *b) {
    if (!b->r->ledger->wanted) return;
    for (size_t i = 0; i < b->p->coats.n; i++) {
        recoat_explain(b, i);
        hands_explain(b, i);
    }
}
