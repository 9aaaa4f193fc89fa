/* The kernels for processors with AVX-512: all sixteen lanes in one register. */
#include "core/recipe/cell_avx2.h"
#if defined(__x86_64__)
#define LANES_AVX512
#define LANES_TARGET "avx512f,avx512dq"
#define CELL_FN __attribute__((target(LANES_TARGET)))
#include "core/recipe/cell_body.h"

const struct cell_kernel cell_kernel_avx512 = {bound, points, "avx512"};
#endif
