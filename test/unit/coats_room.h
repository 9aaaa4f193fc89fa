/* A tested piece of which the coats are asked. */
#ifndef TEST_UNIT_COATS_ROOM_H
#define TEST_UNIT_COATS_ROOM_H

#include "core/work/coats_build.h"
#include "test/check.h"
#include "test/unit/trade_room.h"

static inline void color_is(struct trade_room *r, const char *text, double l, double a, double b) {
    r->piece.wanted.color = (struct color_said){text, {l, a, b}};
}

/* A tested, sound, clean piece of the finish, dark green. */
static inline void sound(struct trade_room *r, const char *finish) {
    trade_open(r);
    struct piece *p = &r->piece;
    p->id = "p", p->finish = finish, p->year = 1995, p->wood = "hard_maple", p->knots = YN_NO;
    p->tests.wax_wipe = WIPE_CLEAN, p->tests.tape_removed_frac = 0.02;
    p->tests.moisture_frac = 0.08;
    color_is(r, "green", 40, -20, 10);
}

static inline const struct coat *row(const struct trade_room *r, const char *operation) {
    for (size_t i = 0; i < r->plan.coats.n; i++)
        if (!strcmp(r->plan.coats.rows[i].operation, operation)) return &r->plan.coats.rows[i];
    return NULL;
}

static inline void sides(struct trade_room *r) {
    trade_surface(r, "case", "sides", TREAT_PAINT, 2, 2);
    CHECK(trade_coats(r, NULL) == OK);
}

#endif
