/* The kernels for processors with AVX2. */
#include "core/recipe/cell_avx2.h"
#if defined(__x86_64__)
#define LANES_AVX2
#define LANES_TARGET "avx2"
#define CELL_FN __attribute__((target(LANES_TARGET)))
#include "core/recipe/cell_body.h"

const struct cell_kernel cell_kernel_avx2 = {bound, points, "avx2"};
#endif
