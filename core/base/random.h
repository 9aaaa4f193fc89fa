/* The one seeded generator: the same seed gives the same numbers on every machine.
 * Source: Blackman and Vigna 2021, xoshiro256**; seeding by splitmix64 (from memory). */
#ifndef CORE_BASE_RANDOM_H
#define CORE_BASE_RANDOM_H

#include <stdint.h>

struct random {
    uint64_t s[4];
};

void random_seed(struct random *r, uint64_t seed);
uint64_t random_bits(struct random *r);
double random_unit(struct random *r);                /* uniform in [0, 1) */
uint32_t random_below(struct random *r, uint32_t n); /* uniform in 0..n-1, unbiased; n >= 1 */
double random_normal(struct random *r);              /* mean 0, sd 1 */

#endif
