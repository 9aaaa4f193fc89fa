/* Recipe search on measured acrylic paints: time and proof, beside exhaustive
 * search of the same grid and beside a general-purpose optimizer.
 *
 *   recipe [--targets N] [--row PAINTS,K,PARTS] [--seconds S] [--each] [--alone]
 *
 * Targets: half reachable mixes of three or four paints (not on the grid), half
 * measured surfaces. Times are processor seconds of this thread. Exhaustive
 * search uses the same quick kernel and is timed on one target where the grid
 * has less than 10^8 recipes, else extrapolated from that rate; --alone leaves both out. Prints;
 * asserts nothing. */
#include "core/recipe/recipe.h"
#include "bench/recipe_exhaustive.h"
#include "bench/recipe_optimizer.h"
#include "bench/recipe_shelf.h"
#include "core/base/random.h"
#include "tables.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { TARGETS_MAX = 200, HARD_TARGETS = 12 };

struct row {
    int paints, items, parts;
    double seconds; /* limit a target; 0: none */
    const char *asked;
};

static const struct row ROWS[] = {
    {14, 3, 16, 0, "<= 10 ms (aim 3)"},
    {14, 4, 24, 0, "<= 10 / 50 ms (aim 4 / 20)"},
    {27, 4, 32, 0, "<= 60 / 400 ms (aim 25 / 150)"},
    {27, 5, 32, 30, "<= 700 / 9000 ms (aim 250 / 3500)"},
    {40, 5, 48, 5, "bound after 5 s (aim 25 / 40 s)"},
};

struct bench {
    struct bench_shelf shelf;
    struct weights d65;
    struct spectrum surfaces[500];
    size_t surfaces_n;
    struct recipe_paint paints[BENCH_PAINTS_MAX];
    double ns_per_point;
    int targets;
    bool each, alone;
};

static double now_s(void) {
    struct timespec t;
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static bool late(void *ctx) {
    return now_s() > *(const double *)ctx;
}

static int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static struct lab target_of(const struct bench *b, struct random *r, int i, int paints) {
    if (i % 2) {
        const struct spectrum *s = &b->surfaces[random_below(r, (uint32_t)b->surfaces_n)];
        return lab_of_xyz(xyz_of_spectrum(&b->d65, s), b->d65.white);
    }
    struct pigment p[4];
    double v[4];
    size_t n = 3 + random_below(r, 2);
    for (size_t j = 0; j < n; j++) {
        p[j] = b->shelf.pigments[random_below(r, (uint32_t)paints)];
        v[j] = -log(random_unit(r) + 1e-9);
    }
    struct spectrum s = pigment_mix_reflectance(p, v, n);
    return lab_of_xyz(xyz_of_spectrum(&b->d65, &s), b->d65.white);
}

struct tally {
    double ms[TARGETS_MAX], worst_gap, missed_by[TARGETS_MAX], optimizer_ms, exhaustive_s, grid;
    int proven, missed, tried, within_1s, wrong;
};

static void run_target(struct bench *b, const struct row *row, struct lab target, int i,
                       struct tally *t) {
    struct recipe_problem p = {.paints = b->paints,
                               .paints_n = (size_t)row->paints,
                               .target = target,
                               .items_max = row->items,
                               .parts = row->parts,
                               .d65 = &b->d65};
    struct recipe_result out;
    struct why why;
    struct arena arena;
    arena_init(&arena, alloc_heap(), 0);
    double start = now_s(), end = start + row->seconds;
    struct limit limit = {.stop = row->seconds > 0 ? late : NULL, .ctx = &end};
    if (recipe_search(&p, &limit, &arena, &out, &why)) {
        printf("search failed: %s\n", why.text);
        exit(1);
    }
    t->ms[i] = (now_s() - start) * 1e3;
    bool proven = out.proof.kind == RECIPE_OPTIMAL;
    t->proven += proven;
    t->within_1s += proven && t->ms[i] < 1000;
    t->grid = out.proof.grid_points;
    if (!proven) t->worst_gap = fmax(t->worst_gap, out.best[0].difference - out.proof.bound);
    if (b->each)
        printf("  lab %5.1f %6.1f %6.1f  difference %.4f bound %.4f %s  cells %llu "
               "points %llu  "
               "%.1f ms\n",
               target.l, target.a, target.b, out.best[0].difference, out.proof.bound,
               proven ? "proven" : "limit", (unsigned long long)out.proof.cells,
               (unsigned long long)out.proof.points, t->ms[i]);
    if (b->alone) {
        arena_free(&arena);
        return;
    }
    if (i == 1 && t->grid < 1e8) {
        double at = now_s(), best = bench_exhaustive(&p, &arena);
        t->exhaustive_s = now_s() - at;
        b->ns_per_point = t->exhaustive_s / t->grid * 1e9;
        t->wrong += fabs(best - out.best[0].difference) > 1e-9;
    }
    if (row->paints == 27 && row->items == 4 && bench_optimizer_there()) {
        double at = now_s(), best = bench_optimizer(&p, 50, (uint64_t)i + 1);
        t->optimizer_ms += (now_s() - at) * 1e3;
        if (best > out.best[0].difference + 1e-6)
            t->missed_by[t->missed++] = best - out.best[0].difference;
        t->tried++;
    }
    arena_free(&arena);
}

/* Time of one recipe in exhaustive search, for rows too large to search so: a
 * smaller grid of recipes of as many paints. */
static double calibrate(const struct bench *b, const struct row *row) {
    struct recipe_problem p = {.paints = b->paints,
                               .paints_n = 14,
                               .target = {50, 10, 10},
                               .items_max = row->items,
                               .parts = 24,
                               .d65 = &b->d65};
    struct recipe_result out;
    struct arena arena;
    arena_init(&arena, alloc_heap(), 0);
    double start = now_s(), ns = 20;
    bench_exhaustive(&p, &arena);
    double end = now_s();
    if (!recipe_search(&p, NULL, &arena, &out, NULL))
        ns = (end - start) / out.proof.grid_points * 1e9;
    arena_free(&arena);
    return ns;
}

static void run_row(struct bench *b, const struct row *row) {
    struct tally t = {.proven = 0};
    struct random r;
    int n = row->paints > 27 && b->targets > HARD_TARGETS ? HARD_TARGETS : b->targets;
    random_seed(&r, 1);
    for (int i = 0; i < n; i++) run_target(b, row, target_of(b, &r, i, row->paints), i, &t);
    qsort(t.ms, (size_t)n, sizeof *t.ms, by_size);
    if (!(t.exhaustive_s > 0) && !b->alone) b->ns_per_point = calibrate(b, row);
    double median = t.ms[n / 2], all = t.grid * b->ns_per_point * 1e-6;
    printf("%2d, %d, %d | %9.3g | %8.2f | %8.2f | %2d/%2d proven, %2d in 1 s | "
           "%10.0f ms %s, x "
           "%.0f | %s\n",
           row->paints, row->items, row->parts, t.grid, median, t.ms[(int)(.95 * (n - 1) + .5)],
           t.proven, n, t.within_1s, all, t.exhaustive_s > 0 ? "measured" : "extrapolated",
           all / median, row->asked);
    if (t.exhaustive_s > 0) printf("   exhaustive %s\n", t.wrong ? "DISAGREES" : "agrees");
    if (t.proven < n)
        printf("   not proven: best found is at most %.3f above the bound\n", t.worst_gap);
    if (t.tried) {
        qsort(t.missed_by, (size_t)t.missed, sizeof *t.missed_by, by_size);
        printf("   SLSQP, 50 starts, rounded: missed the optimum in %d of %d", t.missed, t.tried);
        if (t.missed)
            printf(", median by %.2f, worst by %.2f", t.missed_by[t.missed / 2],
                   t.missed_by[t.missed - 1]);
        printf(", %.0f ms a target\n", t.optimizer_ms / t.tried);
    }
    fflush(stdout);
}

int main(int argc, char **argv) {
    static struct bench b;
    struct row own = {0, 0, 0, 60, "-"};
    double seconds = -1;
    b.targets = 60;
    for (int i = 1; i < argc; i++) {
        if (!strcmp(argv[i], "--each"))
            b.each = true;
        else if (!strcmp(argv[i], "--alone"))
            b.alone = true;
        else if (i + 1 < argc && !strcmp(argv[i], "--targets"))
            b.targets = atoi(argv[++i]);
        else if (i + 1 < argc && !strcmp(argv[i], "--seconds"))
            seconds = atof(argv[++i]);
        else if (i + 1 < argc && !strcmp(argv[i], "--row") &&
                 sscanf(argv[i + 1], "%d,%d,%d", &own.paints, &own.items, &own.parts) == 3)
            i++;
        else
            return fprintf(stderr, "usage: recipe [--targets N] [--row "
                                   "PAINTS,K,PARTS] [--seconds "
                                   "S] [--each] [--alone]\n"),
                   2;
    }
    if (b.targets < 2 || b.targets > TARGETS_MAX)
        return fprintf(stderr, "--targets must be 2 to 200\n"), 2;
    b.d65 = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D65);
    b.surfaces_n = bench_surfaces_read(b.surfaces, 500);
    if (!bench_shelf_read(&b.shelf, "okumura2005_acrylic27_KS.csv") ||
        !bench_shelf_read(&b.shelf, "rit2016_acrylic_KS.csv") || !b.surfaces_n)
        return printf("skipped: no paints in %s/color\n", bench_data_dir()), 0;
    for (size_t i = 0; i < b.shelf.n; i++) b.paints[i].pigment = &b.shelf.pigments[i];
    if (!bench_optimizer_there())
        puts("built without nlopt, which script/bench installs: no general-purpose optimizer "
             "beside");
    puts("paints, of them, parts | grid | median ms | p95 ms | proof | "
         "exhaustive, times as long | "
         "asked");
    for (size_t i = 0; i < sizeof ROWS / sizeof *ROWS; i++) {
        struct row row = ROWS[i];
        bool this_one =
            row.paints == own.paints && row.items == own.items && row.parts == own.parts;
        if (own.paints && !this_one) continue;
        if (seconds >= 0) row.seconds = seconds;
        run_row(&b, &row);
        own.parts = this_one ? -1 : own.parts;
    }
    if (own.paints && own.parts > 0 && own.paints <= (int)b.shelf.n) run_row(&b, &own);
    return 0;
}
