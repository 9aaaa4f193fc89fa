/* A small linear program that grows: least cost x >= 0 with A x <= b, rows and columns added as
 * they are found wanting.
 *
 * Every row may be exceeded at a price, so that there is always a solution to go on from. In
 * floating point: what follows from the prices must be checked in whole numbers.
 *
 * Source: revised simplex method, Dantzig, Orden and Wolfe 1955, Pacific Journal of Mathematics 5,
 * "The generalized simplex method for minimizing a linear form under linear inequality restraints"
 * (from memory). */
#ifndef CORE_TIMETABLE_LP_H
#define CORE_TIMETABLE_LP_H

#include "core/base/arena.h"
#include "core/base/status.h"

#include <stdbool.h>

struct lp_entry {
    int row, next; /* next of the column; -1: last */
    double value;
};

struct lp {
    int rows, cols, entries, rows_most, cols_most, entries_most;
    int next;        /* column looked at last */
    double *rhs;     /* [rows_most] */
    double *penalty; /* [rows_most] for each unit that the row is exceeded by */
    double *inverse; /* [rows_most * rows_most] of the basis */
    double *value;   /* [rows_most] of the basic columns */
    int *basis;      /* [rows_most] column; slack of row r: -1 - r; excess: -1 - rows_most - r */
    double *price;   /* [rows_most] what one more unit of each b saves; >= 0 */
    double *enter;   /* [rows_most] */
    int *filled;     /* [rows_most] */
    bool *basic;     /* [cols_most] */
    bool *slack_in;  /* [rows_most] */
    int *head;       /* [cols_most] first entry of each column; columns cost nothing */
    struct lp_entry *entry;
};

/* Room for so many; arrays are the arena's. Errors: E_MEMORY. */
enum status lp_make(struct lp *lp, int rows_most, int cols_most, int entries_most,
                    struct arena *arena);

/* Empties it. */
void lp_clear(struct lp *lp);

/* A new column without entries, -1: no more room. */
int lp_column(struct lp *lp);

/* An entry of a column in a row; col must not be basic unless the row is new and not yet joined.
 * false: no more room. */
bool lp_put(struct lp *lp, int col, int row, double value);

/* A row is begun with the number lp->rows; entries of it are put; then it joins. penalty > 0. */
void lp_join(struct lp *lp, double rhs, double penalty);

/* Value of a column's entries at the current prices; negative: taking it in saves something. */
double lp_reduced(const struct lp *lp, int col);

/* Pivots until no column saves anything, at most `pivots`; returns how many there were. */
int lp_solve(struct lp *lp, int pivots);

/* What rows exceed, at their price. */
double lp_excess(const struct lp *lp);

#endif
