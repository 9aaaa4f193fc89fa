/* The kernels for every processor (SSE2 where there is), and the choice among
 * all. */
#include "core/recipe/cell_avx2.h"
#define CELL_FN
/* one copy for any n: the compiler does not see that what is read of an array was written */
#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#endif
#include "core/recipe/cell_body.h"

static const struct cell_kernel cell_kernel_plain = {bound, points, "plain"};

const struct cell_kernel *cell_kernel(bool plain) {
#if defined(__x86_64__)
    if (!plain && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq"))
        return &cell_kernel_avx512;
    if (!plain && __builtin_cpu_supports("avx2")) return &cell_kernel_avx2;
#else
    (void)plain;
#endif
    return &cell_kernel_plain;
}
