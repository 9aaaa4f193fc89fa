#include "core/base/random.h"

#include <math.h>

static uint64_t rotl(uint64_t x, int k) {
    return (x << k) | (x >> (64 - k));
}

void random_seed(struct random *r, uint64_t seed) {
    for (int i = 0; i < 4; i++) {
        uint64_t z = (seed += 0x9e3779b97f4a7c15u);
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
        r->s[i] = z ^ (z >> 31);
    }
}

uint64_t random_bits(struct random *r) {
    uint64_t *s = r->s, out = rotl(s[1] * 5, 7) * 9, t = s[1] << 17;
    s[2] ^= s[0];
    s[3] ^= s[1];
    s[1] ^= s[2];
    s[0] ^= s[3];
    s[2] ^= t;
    s[3] = rotl(s[3], 45);
    return out;
}

double random_unit(struct random *r) {
    return (double)(random_bits(r) >> 11) * 0x1p-53;
}

uint32_t random_below(struct random *r, uint32_t n) {
    uint32_t floor = -n % n; /* 2^32 mod n: numbers below it would favor small results */
    for (;;) {
        uint64_t m = (random_bits(r) >> 32) * (uint64_t)n;
        if ((uint32_t)m >= floor) return (uint32_t)(m >> 32);
    }
}

double random_normal(struct random *r) {
    double u, v, s; /* polar method of Marsaglia */
    do {
        u = 2 * random_unit(r) - 1;
        v = 2 * random_unit(r) - 1;
        s = u * u + v * v;
    } while (s >= 1 || s == 0);
    return u * sqrt(-2 * log(s) / s);
}
