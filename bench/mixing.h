/* The two halves of bench/mixing: measured mixes, and a simulated shop. */
#ifndef BENCH_MIXING_H
#define BENCH_MIXING_H

#include "core/base/arena.h"
#include "core/color/sample.h"
#include "core/color/spectrum.h"

/* True differences after 0..3 samples in simulated shops whose truth is the paints of a file with
 * K and S in the data folder (bench/recipe_shelf.h); shop i is drawn from the seed first + i.
 * Prints its table; 0 or an exit status. */
int mixing_shop(const char *ks_csv, int shops, int first);

/* A sorted share as bench tables use it: element floor(p n) of the sorted values. Sorts in place.
 */
double bench_quantile(double *v, size_t n, double p);

#endif
