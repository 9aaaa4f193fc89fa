/* Intervals of doubles, just enough for the bounds of terms.c and region.c. Every result
 * contains the exact set; rounding is taken care of once, by slack where the
 * bounds are used. */
#ifndef CORE_RECIPE_INTERVAL_H
#define CORE_RECIPE_INTERVAL_H

#include <math.h>

struct interval {
    double lo, hi;
};

/* Of numbers: fmin and fmax know NAN, and are calls for it. */
static inline double iv_min(double a, double b) {
    return a < b ? a : b;
}
static inline double iv_max(double a, double b) {
    return a > b ? a : b;
}
static inline struct interval iv(double lo, double hi) {
    return (struct interval){lo, hi};
}
static inline struct interval iv_add(struct interval p, struct interval q) {
    return iv(p.lo + q.lo, p.hi + q.hi);
}
static inline struct interval iv_sub(struct interval p, struct interval q) {
    return iv(p.lo - q.hi, p.hi - q.lo);
}
static inline struct interval iv_mul(struct interval p, struct interval q) {
    double a = p.lo * q.lo, b = p.lo * q.hi, c = p.hi * q.lo, d = p.hi * q.hi;
    return iv(iv_min(iv_min(a, b), iv_min(c, d)), iv_max(iv_max(a, b), iv_max(c, d)));
}
static inline struct interval iv_scale(struct interval p, double k) {
    return k < 0 ? iv(p.hi * k, p.lo * k) : iv(p.lo * k, p.hi * k);
}
static inline struct interval iv_shift(struct interval p, double k) {
    return iv(p.lo + k, p.hi + k);
}
/* q above 0 */
static inline struct interval iv_div(struct interval p, struct interval q) {
    return iv(p.lo / (p.lo < 0 ? q.lo : q.hi), p.hi / (p.hi < 0 ? q.hi : q.lo));
}
static inline double iv_mid(struct interval p) {
    return p.lo + (p.hi - p.lo) / 2;
}
static inline double iv_rad(struct interval p) {
    return (p.hi - p.lo) / 2;
}
static inline double iv_least_abs(struct interval p) {
    return p.lo > 0 ? p.lo : p.hi < 0 ? -p.hi : 0;
}
static inline double iv_most_abs(struct interval p) {
    return iv_max(fabs(p.lo), fabs(p.hi));
}
static inline struct interval iv_square(struct interval p) {
    double lo = iv_least_abs(p), hi = iv_most_abs(p);
    return iv(lo * lo, hi * hi);
}
static inline struct interval iv_root(struct interval p) {
    return iv(sqrt(iv_max(p.lo, 0)), sqrt(p.hi));
}
static inline struct interval iv_meet(struct interval p, struct interval q) {
    return iv(iv_max(p.lo, q.lo), iv_min(p.hi, q.hi));
}

#endif
