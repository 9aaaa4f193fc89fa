/* A sound lacquered piece on its way through the rooms that reckon, and what they came to. */
#ifndef TEST_UNIT_COSTS_ROOM_H
#define TEST_UNIT_COSTS_ROOM_H

#include "core/work/amount.h"
#include "core/work/price.h"
#include "core/work/repair.h"
#include "test/unit/trade_room.h"

static inline void open(struct trade_room *r) {
    trade_open(r);
    struct piece *p = &r->piece;
    p->id = "p", p->finish = "lacquer", p->year = 1995, p->wood = "hard_maple", p->knots = YN_NO;
    p->condition = CONDITION_SOUND;
    p->tests.wax_wipe = WIPE_CLEAN, p->tests.tape_removed_frac = 0.02;
    p->tests.moisture_frac = 0.08;
    p->wanted.product = "wb_enamel", p->wanted.clear = "none";
    p->wanted.color = (struct color_said){"blue", {35, -5, -20}};
    r->shop.rate_cent_per_h = 4000, r->shop.overhead_frac = .1, r->shop.margin_frac = .2;
    r->shop.minimum_cent = 1000, r->shop.smallest_ml = 5, r->shop.sale_fee_frac = .1;
}

/* All rooms that follow the surfaces, as the plan calls them. */
static inline enum status rooms(struct trade_room *r, struct why *why) {
    enum status s = trade_coats(r, why);
    if (!s) s = repair_make(&r->room, &r->plan, why);
    if (!s) s = amount_make(&r->room, &r->plan, why);
    if (!s) s = fitting_make(&r->room, &r->plan, why);
    if (!s) s = supply_make(&r->room, &r->plan);
    return s ? s : price_make(&r->room, &r->plan, why);
}

static inline const struct supply_need *supply(const struct trade_room *r, const char *id) {
    for (size_t i = 0; i < r->plan.supplies_n; i++)
        if (!strcmp(r->plan.supplies[i].id, id)) return &r->plan.supplies[i];
    return NULL;
}

static inline const struct cost_line *line(const struct trade_room *r, const char *id) {
    for (size_t i = 0; i < r->plan.price.rows_n; i++)
        if (!strcmp(r->plan.price.rows[i].id, id)) return &r->plan.price.rows[i];
    return NULL;
}

static inline const struct fitting_line *fitting(const struct trade_room *r, const char *id) {
    for (size_t i = 0; i < r->plan.fittings.n; i++)
        if (!strcmp(r->plan.fittings.rows[i].id, id)) return &r->plan.fittings.rows[i];
    return NULL;
}

static inline bool says(const struct notices *n, const char *begin, enum rank rank) {
    for (size_t i = 0; i < n->n; i++)
        if (!strncmp(n->rows[i].text, begin, strlen(begin)) && n->rows[i].rank == rank) return true;
    return false;
}

#endif
