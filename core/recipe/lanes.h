/* Sixteen floats worked on at once, so that one lane holds one cell (or one recipe).
 *
 * Every lane computes the same IEEE operations in the same order whatever the width of the
 * processor's registers: one of AVX-512, two of AVX2, four of SSE2 or sixteen floats give the same
 * bits. Sixteen, because a band's arithmetic is a chain of divisions and roots: with fewer lanes
 * the processor waits for it (measured: eight AVX2 lanes ran at .6 instructions a cycle).
 *
 * Included by the kernel files only, after LANES_TARGET (what the functions are compiled for) and
 * LANES_AVX512 or LANES_AVX2 were or were not defined. */
#ifndef CORE_RECIPE_LANES_H
#define CORE_RECIPE_LANES_H

#include <math.h>

enum { LANES = 16 };

/* Short loops over paints, axes and registers must go, and everything be inlined, or their arrays
 * stay in memory. Not where every access is instrumented: that takes the compiler minutes. */
#if defined(__has_feature)
#define LANES_CHECKED (__has_feature(address_sanitizer) || __has_feature(thread_sanitizer))
#elif defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define LANES_CHECKED 1
#else
#define LANES_CHECKED 0
#endif
/* With wide registers the kernels' functions (LANES_PART) are compiled for each number of paints,
 * or their arrays stay in memory. Narrow ones have no room for those anyway: one copy serves any
 * number, as quick (SSE2: 1.14 to .87 times) and compiled in 2 s instead of 66. */
#if defined(LANES_AVX512) || defined(LANES_AVX2)
#define LANES_ANY_N 0
#define LANES_PART LANES_FN
#else
#define LANES_ANY_N 1
#define LANES_PART static
#endif
#if LANES_CHECKED
#define LANES_INLINE noinline
#else
#define LANES_INLINE always_inline
#endif
#if LANES_CHECKED || (LANES_ANY_N && defined(__clang__)) /* which warns of what it cannot unroll   \
                                                          */
#define LANES_UNROLL
#elif defined(__clang__)
#define LANES_UNROLL _Pragma("unroll")
#else
#define LANES_UNROLL _Pragma("GCC unroll 16")
#endif

/* One register: V_..., `wide`. less: x < y ? a : b; turn: a with its sign turned where b is < 0. */
#if defined(LANES_AVX512)
#include <immintrin.h>
#define LANES_FN static inline __attribute__((target(LANES_TARGET), LANES_INLINE))
typedef __m512 wide;
#define V_SET(x) _mm512_set1_ps(x)
#define V_LOAD(p) _mm512_loadu_ps(p)
#define V_STORE(p, a) _mm512_storeu_ps(p, a)
#define V_ADD(a, b) _mm512_add_ps(a, b)
#define V_SUB(a, b) _mm512_sub_ps(a, b)
#define V_MUL(a, b) _mm512_mul_ps(a, b)
#define V_DIV(a, b) _mm512_div_ps(a, b)
#define V_MIN(a, b) _mm512_min_ps(a, b)
#define V_MAX(a, b) _mm512_max_ps(a, b)
#define V_ROOT(a) _mm512_sqrt_ps(a)
#define V_ABS(a) _mm512_andnot_ps(_mm512_set1_ps(-0.f), a)
#define V_TURN(a, b) _mm512_xor_ps(a, _mm512_and_ps(b, _mm512_set1_ps(-0.f)))
#define V_LESS(x, y, a, b) _mm512_mask_blend_ps(_mm512_cmp_ps_mask(x, y, _CMP_LT_OQ), b, a)

#elif defined(LANES_AVX2)
#include <immintrin.h>
#define LANES_FN static inline __attribute__((target(LANES_TARGET), LANES_INLINE))
typedef __m256 wide;
#define V_SET(x) _mm256_set1_ps(x)
#define V_LOAD(p) _mm256_loadu_ps(p)
#define V_STORE(p, a) _mm256_storeu_ps(p, a)
#define V_ADD(a, b) _mm256_add_ps(a, b)
#define V_SUB(a, b) _mm256_sub_ps(a, b)
#define V_MUL(a, b) _mm256_mul_ps(a, b)
#define V_DIV(a, b) _mm256_div_ps(a, b)
#define V_MIN(a, b) _mm256_min_ps(a, b)
#define V_MAX(a, b) _mm256_max_ps(a, b)
#define V_ROOT(a) _mm256_sqrt_ps(a)
#define V_ABS(a) _mm256_andnot_ps(_mm256_set1_ps(-0.f), a)
#define V_TURN(a, b) _mm256_xor_ps(a, _mm256_and_ps(b, _mm256_set1_ps(-0.f)))
#define V_LESS(x, y, a, b) _mm256_blendv_ps(b, a, _mm256_cmp_ps(x, y, _CMP_LT_OQ))

#elif defined(__SSE2__)
#include <emmintrin.h>
#define LANES_FN static inline __attribute__((LANES_INLINE))
typedef __m128 wide;
#define V_SET(x) _mm_set1_ps(x)
#define V_LOAD(p) _mm_loadu_ps(p)
#define V_STORE(p, a) _mm_storeu_ps(p, a)
#define V_ADD(a, b) _mm_add_ps(a, b)
#define V_SUB(a, b) _mm_sub_ps(a, b)
#define V_MUL(a, b) _mm_mul_ps(a, b)
#define V_DIV(a, b) _mm_div_ps(a, b)
#define V_MIN(a, b) _mm_min_ps(a, b)
#define V_MAX(a, b) _mm_max_ps(a, b)
#define V_ROOT(a) _mm_sqrt_ps(a)
#define V_ABS(a) _mm_andnot_ps(_mm_set1_ps(-0.f), a)
#define V_TURN(a, b) _mm_xor_ps(a, _mm_and_ps(b, _mm_set1_ps(-0.f)))
LANES_FN wide wide_pick(wide mask, wide a, wide b) {
    return _mm_or_ps(_mm_and_ps(mask, a), _mm_andnot_ps(mask, b));
}
#define V_LESS(x, y, a, b) wide_pick(_mm_cmplt_ps(x, y), a, b)

#else
#define LANES_FN static inline __attribute__((LANES_INLINE))
typedef float wide;
#define V_SET(x) (x)
#define V_LOAD(p) (*(p))
#define V_STORE(p, a) (*(p) = (a))
#define V_ADD(a, b) ((a) + (b))
#define V_SUB(a, b) ((a) - (b))
#define V_MUL(a, b) ((a) * (b))
#define V_DIV(a, b) ((a) / (b))
#define V_MIN(a, b) ((a) < (b) ? (a) : (b))
#define V_MAX(a, b) ((a) > (b) ? (a) : (b))
#define V_ROOT(a) sqrtf(a)
#define V_ABS(a) fabsf(a)
#define V_TURN(a, b) (signbit(b) ? -(a) : (a))
#define V_LESS(x, y, a, b) ((x) < (y) ? (a) : (b))
#endif

enum { LANES_WIDE = sizeof(wide) / sizeof(float), LANES_PARTS = LANES / LANES_WIDE };

typedef struct {
    wide part[LANES_PARTS];
} lanes;

#define LANES_EACH(name, args, expr)                                                               \
    LANES_FN lanes name args {                                                                     \
        lanes r;                                                                                   \
        LANES_UNROLL for (int i = 0; i < LANES_PARTS; i++) r.part[i] = (expr);                     \
        return r;                                                                                  \
    }
LANES_EACH(ln_set, (float x), V_SET(x))
LANES_EACH(ln_load, (const float *p), V_LOAD(p + i * LANES_WIDE))
LANES_EACH(ln_add, (lanes a, lanes b), V_ADD(a.part[i], b.part[i]))
LANES_EACH(ln_sub, (lanes a, lanes b), V_SUB(a.part[i], b.part[i]))
LANES_EACH(ln_mul, (lanes a, lanes b), V_MUL(a.part[i], b.part[i]))
LANES_EACH(ln_div, (lanes a, lanes b), V_DIV(a.part[i], b.part[i]))
LANES_EACH(ln_min, (lanes a, lanes b), V_MIN(a.part[i], b.part[i]))
LANES_EACH(ln_max, (lanes a, lanes b), V_MAX(a.part[i], b.part[i]))
LANES_EACH(ln_root, (lanes a), V_ROOT(a.part[i]))
LANES_EACH(ln_abs, (lanes a), V_ABS(a.part[i]))
LANES_EACH(ln_turn, (lanes a, lanes b), V_TURN(a.part[i], b.part[i]))
LANES_EACH(ln_less, (lanes x, lanes y, lanes a, lanes b),
           V_LESS(x.part[i], y.part[i], a.part[i], b.part[i]))
LANES_FN void ln_store(float *p, lanes a) {
    LANES_UNROLL for (int i = 0; i < LANES_PARTS; i++) V_STORE(p + i * LANES_WIDE, a.part[i]);
}

#endif
