/* Lots: which tasks are one, worked by hand; and an order stays an order whatever lots go. */
#include "core/timetable/lot_moves.h"
#include "test/check.h"
#include "test/model/timetable_workshop.h"

#include <math.h>

enum { PIECES = 3, TASKS = PIECES * WORKSHOP_PER_PIECE, MOVES = 400 };

static struct workshop shop;

static const struct order_weights WEIGHTS = {
    .late = 10, .beyond = 3, .mean_end = .5, .room_start = 10, .setup = 40, .sitting = 5};

struct parts {
    struct shop shop;
    struct stagger stagger;
    struct order order;
    struct session_moves sessions;
    struct lot_moves lots;
};

static bool make(struct parts *x, struct arena *arena) {
    static const double room[TASKS];
    static double rank[TASKS];
    static int64_t latest[TASKS];
    struct why why;
    if (shop_make(&shop.problem, arena, &x->shop, &why) ||
        stagger_make(&x->stagger, &x->shop, arena) ||
        order_make(&x->order, &x->shop, 60 * 1440, room, &WEIGHTS, arena))
        return false;
    for (int i = 0; i < TASKS; i++) rank[i] = -(double)x->shop.tail[i];
    order_set(&x->order, rank);
    order_aim(&x->order, latest);
    return !session_moves_make(&x->sessions, &x->order, arena) &&
           !lot_moves_make(&x->lots, &x->sessions, &x->stagger, arena);
}

/* Of a piece of 40: survey and take-down; repair and filling; of four groups each of clean, scuff,
 * prime, nib, two colors and two clears; and hang, fit, check, pack. */
static void lots_by_hand(const struct lot_moves *m) {
    static const int first_of[] = {0, 2, 4, 5, 6, 7, 8, 9, 10, 11, 36};
    static const int size_of[] = {2, 2, 4, 4, 4, 4, 4, 4, 4, 4, 4};
    for (int piece = 0; piece < PIECES; piece++)
        for (size_t k = 0; k < sizeof first_of / sizeof *first_of; k++) {
            const int i = piece * WORKSHOP_PER_PIECE + first_of[k], lot = m->lot_of[i];
            CHECK(m->first[lot + 1] - m->first[lot] == size_of[k]);
            CHECK(m->tasks[m->first[lot]] == i);
            for (int j = m->first[lot]; j < m->first[lot + 1]; j++)
                CHECK(shop.task[m->tasks[j]].piece == piece &&
                      shop.task[m->tasks[j]].setup == shop.task[i].setup);
        }
    CHECK(m->first[11 * PIECES] == TASKS);
}

/* All tasks once, none before what a lag wants earlier. */
static bool is_order(const struct order *o) {
    bool seen[TASKS] = {false};
    for (int k = 0; k < o->n; k++) {
        if (seen[o->task[k]] || o->at[o->task[k]] != k) return false;
        seen[o->task[k]] = true;
    }
    for (int l = 0; l < shop.problem.lags_n; l++)
        if (o->at[shop.lag[l].from] > o->at[shop.lag[l].to]) return false;
    return o->n == TASKS;
}

static bool near_each_other(const struct order *o, const int *lot, int n) {
    int lo = o->n, hi = 0;
    for (int k = 0; k < n; k++) {
        lo = o->at[lot[k]] < lo ? o->at[lot[k]] : lo;
        hi = o->at[lot[k]] > hi ? o->at[lot[k]] : hi;
    }
    return hi - lo == n - 1;
}

int main(void) {
    struct arena arena;
    static struct parts x;
    arena_init(&arena, alloc_heap(), 0);
    workshop_draw(&shop, 3, PIECES, 1, 4, 4);
    CASE("a piece's groups are four of a kind, and what follows the coats is one") {
        CHECK(make(&x, &arena));
        lots_by_hand(&x.lots);
    }
    CASE("lots go, and what comes of it is an order with the energy that it has from the start") {
        struct random random;
        random_seed(&random, 7);
        int changed = 0, together = 0;
        bool orders = true, energies = true;
        for (int k = 0; k < MOVES; k++) {
            static double rank[TASKS];
            const double was = x.order.energy;
            if (!lot_shift(&x.lots, &random, 1.2 * was)) continue;
            changed += fabs(x.order.energy - was) > 1e-9;
            const int lot = x.lots.lot_of[x.sessions.session[0]], first = x.lots.first[lot];
            together +=
                near_each_other(&x.order, x.lots.tasks + first, x.lots.first[lot + 1] - first);
            orders &= is_order(&x.order);
            const double is = x.order.energy;
            for (int i = 0; i < TASKS; i++) rank[i] = x.order.at[i];
            order_set(&x.order, rank);
            energies &= fabs(x.order.energy - is) < 1e-6 * is;
        }
        CHECK(orders);
        CHECK(energies);
        CHECK(changed > MOVES / 4);
        CHECK(together > MOVES / 4); /* the rest carry along what waits between them */
        printf("%d of %d moves changed the energy, %d left their lot together\n", changed, MOVES,
               together);
    }
    arena_free(&arena);
    return check_done();
}
