/* Shelves and targets of bench/recipe: measured acrylic paints (K and S) and
 * measured surface colors, read from the data folder beside the project. */
#ifndef BENCH_RECIPE_SHELF_H
#define BENCH_RECIPE_SHELF_H

#include "core/color/color.h"
#include "core/color/pigment.h"
#include <stdbool.h>
#include <stddef.h>

enum { BENCH_PAINTS_MAX = 64 };

struct bench_shelf {
    struct pigment pigments[BENCH_PAINTS_MAX];
    char names[BENCH_PAINTS_MAX][48];
    size_t n;
};

/* Folder of the shared data: environment SHARED_DATA, else ../shared/data from
 * the project root. */
const char *bench_data_dir(void);
/* Appends the paints of one file (rows name,K|S,values; header names the
 * wavelengths). false: absent. */
bool bench_shelf_read(struct bench_shelf *shelf, const char *file);
/* Reflectances of the measured mixtures that hide their ground; returns how
 * many. */
size_t bench_surfaces_read(struct spectrum *out, size_t max);

#endif
