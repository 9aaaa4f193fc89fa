/* Between the kernel files only. */
#ifndef CORE_RECIPE_CELL_AVX2_H
#define CORE_RECIPE_CELL_AVX2_H

#include "core/recipe/cell.h"

#if defined(__x86_64__)
extern const struct cell_kernel cell_kernel_avx2, cell_kernel_avx512;
#endif

#endif
