/* A piece about which nothing is said, and the room around it, for tests of the trade's rules. */
#ifndef TEST_TRADE_ROOM_H
#define TEST_TRADE_ROOM_H

#include "core/work/room.h"

#include <math.h>

struct trade_room {
    struct arena arena;
    struct ledger ledger;
    struct shop shop;
    struct shelf shelf;
    struct piece piece;
    struct room room;
};

static inline void trade_unsaid(struct piece *p) {
    double *sizes[] = {&p->width_mm,
                       &p->depth_mm,
                       &p->height_mm,
                       &p->thickness_mm,
                       &p->bow_mm,
                       &p->leg_mm,
                       &p->opening_mm,
                       &p->veneer_mm,
                       &p->slat_gap_mm,
                       &p->tests.tape_removed_frac,
                       &p->tests.film_um,
                       &p->tests.moisture_frac,
                       &p->tests.moisture_at_degc,
                       &p->tests.lead_frac,
                       &p->agreement.deposit_cent,
                       &p->agreement.quoted_cent,
                       &p->agreement.asking_cent,
                       &p->agreement.bought_cent,
                       &p->agreement.storage_fee_cent,
                       &p->fittings.pulls.old_spacing_mm,
                       &p->fittings.pulls.new_spacing_mm,
                       &p->fittings.back_thickness_mm};
    int64_t *counts[] = {&p->drawers,
                         &p->doors,
                         &p->shelves,
                         &p->slats,
                         &p->legs,
                         &p->count,
                         &p->year,
                         &p->wanted.color_coats,
                         &p->wanted.clear_coats,
                         &p->wanted.paints_max,
                         &p->wanted.parts,
                         &p->agreement.due_day,
                         &p->agreement.signed_day,
                         &p->fittings.pulls.count};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) *sizes[i] = NAN;
    for (size_t i = 0; i < sizeof counts / sizeof *counts; i++) *counts[i] = INT64_MIN;
    for (int i = 0; i < 3; i++) p->wanted.color.lab[i] = NAN;
}

static inline void trade_open(struct trade_room *t) {
    *t = (struct trade_room){0};
    arena_init(&t->arena, alloc_heap(), 0);
    ledger_init(&t->ledger, &t->arena, true);
    t->shop.zone = "America/New_York";
    trade_unsaid(&t->piece);
    t->room = (struct room){&tables_builtin, &t->shop,   &t->shelf, &t->piece,
                            "/pieces/0",     &t->ledger, 0,         0};
}

static inline void trade_close(struct trade_room *t) {
    arena_free(&t->arena);
}

#endif
