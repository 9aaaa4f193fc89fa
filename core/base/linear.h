/* Small dense linear systems, row-major, in place. For sizes up to a few hundred.
 *
 * Sizes are the caller's; nothing is allocated. A matrix that cannot be factored is reported, never
 * divided by: the caller then adds to its diagonal and tries again. */
#ifndef CORE_BASE_LINEAR_H
#define CORE_BASE_LINEAR_H

#include <stdbool.h>
#include <stddef.h>

/* Lower Cholesky factor of a symmetric positive definite matrix.
 *
 *   a   [n*n], only the lower triangle is read; becomes L below and on the diagonal (the upper
 *       triangle is left as it was)
 *
 * false: not positive definite to working precision; a is then spoilt. Cost: n^3/6. */
bool cholesky_factor(double *a, size_t n);

/* Solves L y = b, in place, with the factor from above. */
void cholesky_forward(const double *l, size_t n, double *b);
/* Then L' x = y too: solves A x = b. */
void cholesky_solve(const double *l, size_t n, double *b);

/* Solves a x = b by elimination with row exchanges; a is spoilt, b becomes x. false: singular. */
bool gauss_solve(double *a, size_t n, double *b);

#endif
