#include "bench/recipe_exhaustive.h"
#include "core/recipe/region.h"
#include "core/recipe/sets.h"
#include <math.h>
#include <string.h>

struct walk {
    struct mixture m;
    struct sets sets;
    struct cell_rows rows;
    const struct cell_kernel *kernel;
    struct point_batch batch;
    struct cell_set set;
    short parts[CELL_LANES][CELL_VARS];
    int n;
    double best, radius;
    struct region region;
};

static void judge(struct walk *w, const struct recipe_item *items, size_t n) {
    double d = mixture_difference(&w->m, items, n);
    if (d >= w->best) return;
    w->best = d;
    w->radius = region_radius(&w->region, d, 60) + 1e-3;
}

static void flush(struct walk *w) {
    w->kernel->points(&w->sets.shelf, &w->set, (float)w->sets.poured, &w->rows, &w->batch);
    for (int l = 0; l < w->n; l++) {
        struct recipe_item items[RECIPE_ITEMS_MAX];
        if (w->batch.norm[l] > w->radius) continue;
        judge(w, items, sets_items(&w->sets, &w->set, w->parts[l], items));
    }
    w->n = 0;
}

static void fill(struct walk *w, short *parts, int at, int left) {
    int n = w->set.n;
    if (at == n) { /* what is left is the base's */
        memcpy(w->parts[w->n], parts, sizeof w->parts[0]);
        for (int i = 0; i < n; i++) w->batch.parts[i][w->n] = parts[i];
        if (++w->n == CELL_LANES) flush(w);
        return;
    }
    for (short k = 1; k <= left - (n - at); k++) {
        parts[at] = k;
        fill(w, parts, at + 1, left - k);
    }
}

static void search(struct walk *w, int vars) {
    short parts[CELL_VARS] = {0};
    w->set = (struct cell_set){vars, {-1}};
    while (sets_next(&w->sets, &w->set)) {
        fill(w, parts, 0, w->sets.poured);
        if (w->n) flush(w);
    }
}

static void rows_make(struct walk *w) {
    const struct weights *d65 = w->m.problem->d65;
    const double *by[3] = {d65->x, d65->y, d65->z};
    struct xyz t = w->region.target_xyz;
    for (int j = 0; j < 3; j++) {
        const double *m = w->region.whiten[j];
        for (int b = 0; b < SPECTRUM_BANDS; b++)
            w->rows.row[j][b] = (float)(m[0] * by[0][b] + m[1] * by[1][b] + m[2] * by[2][b]);
        w->rows.shift[j] = (float)-(m[0] * t.x + m[1] * t.y + m[2] * t.z);
    }
}

double bench_exhaustive(const struct recipe_problem *p, struct arena *arena) {
    struct walk *w = arena_take(arena, sizeof *w);
    if (!w || mixture_make(p, &w->m, NULL)) return NAN;
    w->best = w->radius = INFINITY;
    w->kernel = cell_kernel(p->no_simd);
    region_make(&p->target, &p->d65->white, &w->region);
    rows_make(w);
    sets_init(&w->sets, &w->m);
    for (size_t i = 0; i < p->paints_n; i++) judge(w, &(struct recipe_item){i, p->parts}, 1);
    w->sets.poured = p->parts;
    for (int vars = 1; vars < p->items_max && vars < p->parts; vars++) search(w, vars);
    return w->best;
}
