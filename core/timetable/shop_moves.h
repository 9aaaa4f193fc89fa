/* Neighbors of an order: one task elsewhere, or what is near it of its branch or piece. */
#ifndef CORE_TIMETABLE_SHOP_MOVES_H
#define CORE_TIMETABLE_SHOP_MOVES_H

#include "core/base/random.h"
#include "core/timetable/lot_moves.h"
#include "core/timetable/session_moves.h"
#include "core/timetable/shop_stagger.h"

struct shop_moves {
    struct order *order;
    const struct stagger *stagger; /* branches and pieces */
    const double *room;            /* [tasks_n] share of all holding that each task opens */
    int *tasks;                    /* [n] of a move */
    int *goes;                     /* [n] places in the order from which tasks are moved */
    struct session_moves sessions;
    struct lot_moves lots;
    double lots_share; /* of all moves, 0..1; 0 until it is said */
};

/* All are the caller's and outlive it; m stays where it is. Errors: E_MEMORY. */
enum status moves_make(struct shop_moves *m, struct order *order, const struct stagger *stagger,
                       const double *room, struct arena *arena);

/* Tries one at random; true: the order has an energy of at most `most`, which may be as it was. */
bool moves_try(struct shop_moves *m, struct random *random, double most);

#endif
