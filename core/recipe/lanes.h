/* Eight floats worked on at once, so that one lane holds one cell (or one
 * recipe).
 *
 * Every lane computes the same IEEE operations in the same order whatever the
 * width of the processor's registers, so AVX2, SSE2 and plain C give the same
 * bits. Included by the kernel files only, after LANES_AVX2 (the target that
 * the functions are compiled for) was or was not defined. */
#ifndef CORE_RECIPE_LANES_H
#define CORE_RECIPE_LANES_H

#include <math.h>

enum { LANES = 8 };

/* Short loops over paints and axes must go, or their arrays stay in memory. */
#if defined(__clang__)
#define LANES_UNROLL _Pragma("unroll")
#else
#define LANES_UNROLL _Pragma("GCC unroll 8")
#endif

#if defined(LANES_AVX2)
#include <immintrin.h>
#define LANES_FN static inline __attribute__((target(LANES_AVX2), always_inline))
typedef __m256 lanes;
LANES_FN lanes ln_set(float x) {
    return _mm256_set1_ps(x);
}
LANES_FN lanes ln_load(const float *p) {
    return _mm256_loadu_ps(p);
}
LANES_FN void ln_store(float *p, lanes a) {
    _mm256_storeu_ps(p, a);
}
LANES_FN lanes ln_add(lanes a, lanes b) {
    return _mm256_add_ps(a, b);
}
LANES_FN lanes ln_sub(lanes a, lanes b) {
    return _mm256_sub_ps(a, b);
}
LANES_FN lanes ln_mul(lanes a, lanes b) {
    return _mm256_mul_ps(a, b);
}
LANES_FN lanes ln_div(lanes a, lanes b) {
    return _mm256_div_ps(a, b);
}
LANES_FN lanes ln_root(lanes a) {
    return _mm256_sqrt_ps(a);
}
LANES_FN lanes ln_min(lanes a, lanes b) {
    return _mm256_min_ps(a, b);
}
LANES_FN lanes ln_max(lanes a, lanes b) {
    return _mm256_max_ps(a, b);
}
LANES_FN lanes ln_abs(lanes a) {
    return _mm256_andnot_ps(_mm256_set1_ps(-0.f), a);
}
/* a with its sign turned where b is negative */
LANES_FN lanes ln_turn(lanes a, lanes b) {
    return _mm256_xor_ps(a, _mm256_and_ps(b, _mm256_set1_ps(-0.f)));
}
/* x < y ? a : b */
LANES_FN lanes ln_less(lanes x, lanes y, lanes a, lanes b) {
    return _mm256_blendv_ps(b, a, _mm256_cmp_ps(x, y, _CMP_LT_OQ));
}
/* row[index[lane]] */
LANES_FN lanes ln_pick(const float *row, const int *index) {
    return _mm256_i32gather_ps(row, _mm256_loadu_si256((const __m256i *)(const void *)index), 4);
}

#elif defined(__SSE2__)
#include <emmintrin.h>
#define LANES_FN static inline __attribute__((always_inline))
typedef struct {
    __m128 a, b;
} lanes;
#define LANES_TWO(name, op)                                                                        \
    LANES_FN lanes name(lanes p, lanes q) {                                                        \
        return (lanes){op(p.a, q.a), op(p.b, q.b)};                                                \
    }
LANES_TWO(ln_add, _mm_add_ps)
LANES_TWO(ln_sub, _mm_sub_ps)
LANES_TWO(ln_mul, _mm_mul_ps)
LANES_TWO(ln_div, _mm_div_ps)
LANES_TWO(ln_min, _mm_min_ps)
LANES_TWO(ln_max, _mm_max_ps)
LANES_TWO(ln_and_, _mm_and_ps)
LANES_TWO(ln_or_, _mm_or_ps)
LANES_TWO(ln_xor_, _mm_xor_ps)
LANES_TWO(ln_andnot_, _mm_andnot_ps)
LANES_TWO(ln_lt_, _mm_cmplt_ps)
LANES_FN lanes ln_set(float x) {
    return (lanes){_mm_set1_ps(x), _mm_set1_ps(x)};
}
LANES_FN lanes ln_load(const float *p) {
    return (lanes){_mm_loadu_ps(p), _mm_loadu_ps(p + 4)};
}
LANES_FN void ln_store(float *p, lanes a) {
    _mm_storeu_ps(p, a.a), _mm_storeu_ps(p + 4, a.b);
}
LANES_FN lanes ln_pick(const float *row, const int *i) {
    return (lanes){_mm_setr_ps(row[i[0]], row[i[1]], row[i[2]], row[i[3]]),
                   _mm_setr_ps(row[i[4]], row[i[5]], row[i[6]], row[i[7]])};
}
LANES_FN lanes ln_root(lanes a) {
    return (lanes){_mm_sqrt_ps(a.a), _mm_sqrt_ps(a.b)};
}
LANES_FN lanes ln_abs(lanes a) {
    return ln_andnot_(ln_set(-0.f), a);
}
LANES_FN lanes ln_turn(lanes a, lanes b) {
    return ln_xor_(a, ln_and_(b, ln_set(-0.f)));
}
LANES_FN lanes ln_less(lanes x, lanes y, lanes a, lanes b) {
    lanes m = ln_lt_(x, y);
    return ln_or_(ln_and_(m, a), ln_andnot_(m, b));
}

#else
#define LANES_FN static inline
typedef struct {
    float v[LANES];
} lanes;
#define LANES_EACH(name, args, expr)                                                               \
    LANES_FN lanes name args {                                                                     \
        lanes r;                                                                                   \
        for (int i = 0; i < LANES; i++) r.v[i] = (expr);                                           \
        return r;                                                                                  \
    }
LANES_EACH(ln_set, (float x), x)
LANES_EACH(ln_load, (const float *p), p[i])
LANES_FN void ln_store(float *p, lanes a) {
    for (int i = 0; i < LANES; i++) p[i] = a.v[i];
}
LANES_EACH(ln_pick, (const float *row, const int *index), row[index[i]])
LANES_EACH(ln_add, (lanes a, lanes b), a.v[i] + b.v[i])
LANES_EACH(ln_sub, (lanes a, lanes b), a.v[i] - b.v[i])
LANES_EACH(ln_mul, (lanes a, lanes b), a.v[i] * b.v[i])
LANES_EACH(ln_div, (lanes a, lanes b), a.v[i] / b.v[i])
LANES_EACH(ln_root, (lanes a), sqrtf(a.v[i]))
LANES_EACH(ln_min, (lanes a, lanes b), a.v[i] < b.v[i] ? a.v[i] : b.v[i])
LANES_EACH(ln_max, (lanes a, lanes b), a.v[i] > b.v[i] ? a.v[i] : b.v[i])
LANES_EACH(ln_abs, (lanes a), fabsf(a.v[i]))
LANES_EACH(ln_turn, (lanes a, lanes b), signbit(b.v[i]) ? -a.v[i] : a.v[i])
LANES_EACH(ln_less, (lanes x, lanes y, lanes a, lanes b), x.v[i] < y.v[i] ? a.v[i] : b.v[i])
#endif

#endif
