/* Ranks of a few numbers: pieces set off against each other in time, and branches within them. */
#ifndef CORE_TIMETABLE_SHOP_STAGGER_H
#define CORE_TIMETABLE_SHOP_STAGGER_H

#include "core/base/random.h"
#include "core/timetable/shop.h"

struct stagger {
    const struct shop *shop;
    int *piece_of;  /* [tasks_n] 0..pieces_n-1; tasks without a piece are one of their own */
    int *branch_of; /* [tasks_n] tasks one after another with a single way on are one branch */
    int pieces_n;
    double longest;         /* minutes that the longest chain takes */
    double *piece, *branch; /* [tasks_n] minutes later than the longest rest alone would say */
    double *piece_was, *branch_was;
    double spread, spread_was, wide, wide_was; /* range of the two */
};

/* Errors: E_MEMORY. */
enum status stagger_make(struct stagger *g, const struct shop *shop, struct arena *arena);

void stagger_draw(struct stagger *g, struct random *random);   /* all at random */
void stagger_change(struct stagger *g, struct random *random); /* a few of them */
void stagger_undo(struct stagger *g);                          /* the last of these two, once */
void stagger_rank(const struct stagger *g, double *rank);

#endif
