/* Recipe search on measured acrylic paints: time, proof, and what else one could do.
 *
 *   recipe [--targets N] [--row N,K,PARTS]... [--seconds S]
 *
 * Prints a table; asserts nothing. */
#include "bench/recipe_shelf.h"
#include "core/base/random.h"
#include "core/recipe/recipe.h"
#include "tables.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static double now_s(void) {
    struct timespec t;
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

struct stop_at {
    double at_s;
};

static bool stop_late(void *ctx) { return now_s() > ((struct stop_at *)ctx)->at_s; }

static int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

int main(int argc, char **argv) {
    static struct bench_shelf shelf;
    struct weights d65 = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D65);
    if (!bench_shelf_read(&shelf, "okumura2005_acrylic27_KS.csv") ||
        !bench_shelf_read(&shelf, "rit2016_acrylic_KS.csv"))
        return puts("skipped: no shared data"), 0;
    static struct spectrum surf[500];
    size_t surf_n = bench_surfaces_read(surf, 500);
    int n = argc > 1 ? atoi(argv[1]) : 14, k = argc > 2 ? atoi(argv[2]) : 3, parts = argc > 3 ? atoi(argv[3]) : 16;
    int targets = argc > 4 ? atoi(argv[4]) : 60, verbose = argc > 5;
    double seconds = argc > 6 ? atof(argv[6]) : 200;
    struct recipe_paint paints[64];
    memset(paints, 0, sizeof paints);
    for (int i = 0; i < n; i++) paints[i].pigment = &shelf.pigments[i];
    struct random r;
    random_seed(&r, 1);
    double times[200], cells = 0, pts = 0;
    int proven = 0;
    for (int t = 0; t < targets; t++) {
        struct recipe_problem p = {.paints = paints, .paints_n = (size_t)n, .items_max = k, .parts = parts, .d65 = &d65};
        if (t % 2) {
            struct spectrum *s = &surf[random_below(&r, (uint32_t)surf_n)];
            p.target = lab_of_xyz(xyz_of_spectrum(&d65, s), d65.white);
        } else {
            double v[5];
            struct pigment g[5];
            int m = 3 + (int)random_below(&r, 2);
            for (int i = 0; i < m; i++) g[i] = shelf.pigments[random_below(&r, (uint32_t)n)], v[i] = -log(random_unit(&r) + 1e-9);
            struct spectrum s = pigment_mix_reflectance(g, v, (size_t)m);
            p.target = lab_of_xyz(xyz_of_spectrum(&d65, &s), d65.white);
        }
        p.no_simd = getenv("PLAIN") != NULL;
        struct arena arena;
        arena_init(&arena, alloc_heap(), 0);
        struct recipe_result out;
        struct why why;
        struct stop_at stop = {now_s() + seconds};
        struct limit limit = {0, stop_late, &stop};
        double at = now_s();
        if (recipe_search(&p, &limit, &arena, &out, &why)) return puts(why.text), 1;
        times[t] = (now_s() - at) * 1e3;
        cells += (double)out.proof.cells, pts += (double)out.proof.points;
        proven += out.proof.kind == RECIPE_OPTIMAL;
        if (verbose)
            printf("%2d lab %5.1f %6.1f %6.1f  d %.4f bound %.4f kind %d cells %8lu pts %8lu  %.2f ms\n", t, p.target.l, p.target.a,
                   p.target.b, out.best[0].difference, out.proof.bound, out.proof.kind, out.proof.cells, out.proof.points, times[t]);
        arena_free(&arena);
    }
    qsort(times, (size_t)targets, sizeof *times, by_size);
    printf("%d,%d,%d: median %.2f ms, p95 %.2f, max %.2f; proven %d/%d; cells %.3g pts %.3g\n", n, k, parts, times[targets / 2],
           times[(int)(targets * .95)], times[targets - 1], proven, targets, cells / targets, pts / targets);
    return 0;
}
