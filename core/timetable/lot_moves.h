/* Moves of what is done to all groups of a piece at one stage: four cleanings, four first coats.
 * One who works alone goes lot by lot, and a lot at a time is far quicker to arrange than its
 * tasks. */
#ifndef CORE_TIMETABLE_LOT_MOVES_H
#define CORE_TIMETABLE_LOT_MOVES_H

#include "core/timetable/session_moves.h"
#include "core/timetable/shop_stagger.h"

struct lot_moves {
    struct session_moves *sessions; /* carries them */
    int *lot_of;                    /* [tasks_n] */
    int *first;                     /* [lots + 1] in tasks */
    int *tasks;                     /* [open tasks] by lot */
};

/* Both are the caller's and outlive it. Errors: E_MEMORY. */
enum status lot_moves_make(struct lot_moves *m, struct session_moves *sessions,
                           const struct stagger *stagger, struct arena *arena);

/* A lot comes together and goes earlier or later as a whole, with what lags want to go along. true:
 * the order has an energy of at most `most`, which may be as it was. */
bool lot_shift(struct lot_moves *m, struct random *random, double most);

#endif
