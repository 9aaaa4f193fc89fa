#include "core/timetable/shop_stagger.h"

#include <string.h>

static bool goes_on(const struct shop *s, int i, int *out_from) {
    if (s->lags_in.first[i + 1] - s->lags_in.first[i] != 1) return false;
    int from = s->p->lags[s->lags_in.item[s->lags_in.first[i]]].from;
    *out_from = from;
    return s->lags_out.first[from + 1] - s->lags_out.first[from] == 1;
}

/* First task of the branch of i; lags in a circle end the walk. */
static int branch_first(const struct shop *s, int i) {
    int from = i;
    for (int steps = 0; steps < s->p->tasks_n && goes_on(s, i, &from); steps++) i = from;
    return i;
}

enum status stagger_make(struct stagger *g, const struct shop *shop, struct arena *arena) {
    size_t n = (size_t)shop->p->tasks_n + 1;
    *g = (struct stagger){.shop = shop, .longest = 1};
    g->piece_of = arena_array(arena, n, sizeof *g->piece_of);
    g->branch_of = arena_array(arena, n, sizeof *g->branch_of);
    g->piece = arena_array(arena, n, sizeof *g->piece);
    g->branch = arena_array(arena, n, sizeof *g->branch);
    g->piece_was = arena_array(arena, n, sizeof *g->piece_was);
    g->branch_was = arena_array(arena, n, sizeof *g->branch_was);
    int *number = arena_array(arena, TIMETABLE_MAX_TASKS + 2, sizeof *number); /* of a piece */
    if (!g->piece_of || !g->branch_of || !g->piece || !g->branch || !g->piece_was ||
        !g->branch_was || !number)
        return E_MEMORY;
    for (int i = 0; i < shop->p->tasks_n; i++) {
        int *at = &number[shop->p->tasks[i].piece + 1];
        if (!*at) *at = ++g->pieces_n;
        g->piece_of[i] = *at - 1;
        g->branch_of[i] = branch_first(shop, i);
        if ((double)shop->tail[i] > g->longest) g->longest = (double)shop->tail[i];
    }
    return OK;
}

static void keep(struct stagger *g) {
    size_t n = (size_t)g->shop->p->tasks_n;
    memcpy(g->piece_was, g->piece, n * sizeof *g->piece);
    memcpy(g->branch_was, g->branch, n * sizeof *g->branch);
    g->wide_was = g->wide;
    g->spread_was = g->spread;
}

void stagger_draw(struct stagger *g, struct random *random) {
    keep(g);
    g->spread = 3 * g->longest * random_unit(random);
    g->wide = .5 * g->longest * random_unit(random);
    for (int k = 0; k < g->pieces_n; k++) g->piece[k] = g->spread * random_unit(random);
    for (int i = 0; i < g->shop->p->tasks_n; i++) g->branch[i] = g->wide * random_unit(random);
}

void stagger_change(struct stagger *g, struct random *random) {
    size_t n = (size_t)g->shop->p->tasks_n;
    if (!n) return;
    keep(g);
    int k = (int)random_below(random, (uint32_t)g->pieces_n);
    switch (random_below(random, 3)) {
    case 0: g->piece[k] = g->spread * (1.2 * random_unit(random) - .1); break;
    case 1: g->piece[k] += .2 * g->longest * (2 * random_unit(random) - 1); break;
    default:
        for (size_t i = 0; i < n; i++)
            if (random_below(random, 8) == 0) g->branch[i] = g->wide * random_unit(random);
    }
    if (random_below(random, 4) == 0) g->wide *= .5 + random_unit(random);
}

void stagger_undo(struct stagger *g) {
    size_t n = (size_t)g->shop->p->tasks_n;
    memcpy(g->piece, g->piece_was, n * sizeof *g->piece);
    memcpy(g->branch, g->branch_was, n * sizeof *g->branch);
    g->wide = g->wide_was;
    g->spread = g->spread_was;
}

void stagger_rank(const struct stagger *g, double *rank) {
    for (int i = 0; i < g->shop->p->tasks_n; i++)
        rank[i] = g->piece[g->piece_of[i]] + g->branch[g->branch_of[i]] - (double)g->shop->tail[i];
}
