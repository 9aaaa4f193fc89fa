/* Moves of coats that a tool puts on while it stays wet: sessions come together, or go as one. */
#ifndef CORE_TIMETABLE_SESSION_MOVES_H
#define CORE_TIMETABLE_SESSION_MOVES_H

#include "core/base/random.h"
#include "core/timetable/shop_order.h"

struct session_moves {
    struct order *order;
    int *coats; /* [coats_n] open tasks with a row of set-ups */
    int coats_n;
    int *session, *tasks, *others; /* [n] of a move */
    bool *goes;                    /* [tasks_n] */
};

/* The order is the caller's and outlives it. Errors: E_MEMORY. */
enum status session_moves_make(struct session_moves *m, struct order *order, struct arena *arena);

/* A coat alone, its session or a part of it goes to a coat of the same row in another session, with
 * what lags want to go along. true: the order has an energy of at most `most`, which may be as it
 * was. */
bool session_gather(struct session_moves *m, struct random *random, double most);

/* A whole session earlier or later; as above. */
bool session_shift(struct session_moves *m, struct random *random, double most);

/* The first n of m->session, which stand at lo..hi, go to the other end of it: behind the others if
 * later, else in front, with what lags want to go along. turned: as in order_try. */
bool session_carry(struct session_moves *m, int n, int lo, int hi, bool later, int turned,
                   double most);

#endif
