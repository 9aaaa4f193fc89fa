/* A piece about which nothing is said, and the room around it, for tests of the trade's rules. */
#ifndef TEST_TRADE_ROOM_H
#define TEST_TRADE_ROOM_H

#include "core/work/room.h"

#include <math.h>
#include <string.h>

struct trade_room {
    struct arena arena;
    struct ledger ledger;
    struct shop shop;
    struct shelf shelf;
    struct piece piece;
    struct room room;
    struct piece_plan plan;
    struct surface rows[16];
    struct surface_group groups[16];
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

/* Does a table's source cell begin with a row of data/sources.tsv? */
static inline bool source_known(const char *cell) {
    for (size_t i = 0; i < tables_builtin.sources_n; i++) {
        const char *id = tables_builtin.sources[i].id;
        size_t n = strlen(id);
        if (!strncmp(cell, id, n) && (!cell[n] || strchr(",; ", cell[n]))) return true;
    }
    return false;
}

static inline void trade_open(struct trade_room *t) {
    *t = (struct trade_room){0};
    arena_init(&t->arena, alloc_heap(), 0);
    ledger_init(&t->ledger, &t->arena, true);
    t->shop.zone = "America/New_York";
    trade_unsaid(&t->piece);
    t->room = (struct room){.t = &tables_builtin,
                            .shop = &t->shop,
                            .shelf = &t->shelf,
                            .piece = &t->piece,
                            .at = "/pieces/0",
                            .ledger = &t->ledger};
}

/* One kind of part in a group (the last one's, or a new one). */
static inline struct surface *trade_surface(struct trade_room *t, const char *group, const char *id,
                                            enum treatment treatment, double coated_m2,
                                            double clear_m2) {
    struct surfaces *s = &t->plan.surfaces;
    s->rows = t->rows, s->groups = t->groups;
    struct surface_group *g = s->groups_n ? &t->groups[s->groups_n - 1] : NULL;
    if (!g || strcmp(g->id, group)) {
        g = &t->groups[s->groups_n++];
        *g = (struct surface_group){.id = group, .name = group, .first = s->rows_n};
    }
    g->n++, g->coated_m2 += coated_m2, g->clear_m2 += clear_m2;
    s->coated_m2 += coated_m2, s->clear_m2 += clear_m2;
    t->rows[s->rows_n] = (struct surface){
        .part = {.id = id, .group = group, .shape = "panel", .treatment = treatment, .count = 1},
        .factor = 1,
        .coated_m2 = coated_m2,
        .clear_m2 = clear_m2};
    return &t->rows[s->rows_n++];
}

static inline enum status trade_coats(struct trade_room *t, struct why *why) {
    enum status s = inspection_make(&t->room, &t->plan.inspection, why);
    if (s == OK) s = hazard_make(&t->room, &t->plan.inspection, &t->plan.hazards, why);
    return s == OK ? coats_make(&t->room, &t->plan, why) : s;
}

static inline void trade_close(struct trade_room *t) {
    arena_free(&t->arena);
}

#endif
