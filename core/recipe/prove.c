#include "core/recipe/prove.h"
#include "core/recipe/cell.h"
#include "core/recipe/region.h"
#include "core/recipe/sets.h"
#include <math.h>
#include <string.h>

enum {
    LEAF_POINTS = 16, /* cells with no more recipes are computed one by one */
    STACK_MAX = 1024, /* depth of halving times width of a batch is far below */
    RADIUS_LEVELS = 128
};

struct box {
    short lo[CELL_VARS], hi[CELL_VARS];
};

struct prover {
    const struct mixture *m;
    struct archive *archive;
    const struct limit *limit;
    const struct cell_kernel *kernel;
    struct region region;
    struct cell_rows rows;
    double radius[RADIUS_LEVELS]; /* of the ball at each level of difference; 0: not yet known */
    int radius_boxes;
    double cap; /* only recipes below this objective are looked for in this phase */
    struct recipe_proof *proof;
    uint64_t asked;
    bool ended;
    struct sets sets;
    struct box stack[STACK_MAX];
    int stack_n;
    struct cell_batch cells;
    struct point_batch points;
    short pending[CELL_LANES][CELL_VARS];
    int pending_n;
};

/* ---- color region ------------------------------------------------------------------------------
 */

static void rows_make(struct prover *p) {
    const struct weights *w = p->m->problem->d65;
    const double *by[3] = {w->x, w->y, w->z};
    const struct xyz t = p->region.target_xyz;
    for (int j = 0; j < 3; j++) {
        const double *m = p->region.whiten[j];
        for (int b = 0; b < SPECTRUM_BANDS; b++) {
            double v = m[0] * by[0][b] + m[1] * by[1][b] + m[2] * by[2][b];
            p->rows.row[j][b] = (float)v;
            p->rows.abs_row[j][b] = (float)fabs(v);
        }
        p->rows.shift[j] = (float)-(m[0] * t.x + m[1] * t.y + m[2] * t.z);
    }
    p->rows.slack = (float)(3e-6 + 2e-7 * p->m->last_total);
}

/* Radius outside which no recipe has a difference up to u, single-precision noise included. Kept by
 * levels 8 % apart, from .02 on. */
static float radius_for(struct prover *p, double u) {
    if (!(u < 300)) return INFINITY;
    int level = u > .02 ? (int)ceil(log(u / .02) / log(1.08)) : 0;
    if (level >= RADIUS_LEVELS) return INFINITY;
    if (!(p->radius[level] > 0)) {
        double at = .02 * pow(1.08, level), r = region_radius(&p->region, at, p->radius_boxes),
               noise = 0;
        const double t[3] = {p->region.target_xyz.x, p->region.target_xyz.y,
                             p->region.target_xyz.z};
        for (int j = 0; j < 3; j++) { /* sum |row| R of a color in the ball, from above */
            double m = 0;
            for (int i = 0; i < 3; i++) {
                const double *back = p->region.back[i];
                double far = r * sqrt(back[0] * back[0] + back[1] * back[1] + back[2] * back[2]);
                m += fabs(p->region.whiten[j][i]) * (fabs(t[i]) + far + .01);
            }
            noise += m * m;
        }
        p->radius[level] = r + 4e-6 * sqrt(noise);
    }
    return (float)p->radius[level] * (1 + 1e-6f);
}

/* ---- one set of paints -------------------------------------------------------------------------
 */

static double count_points(const struct prover *p, const struct box *b) {
    double n = 1;
    for (int i = 0; i < p->sets.cell.n; i++) n *= b->hi[i] - b->lo[i] + 1;
    return n;
}

/* Narrows the ranges to what the sum and the base's own range leave; false: nothing is left. */
static bool box_fits(const struct prover *p, struct box *b) {
    const struct sets *s = &p->sets;
    int n = s->cell.n, low = 0, high = 0;
    for (int i = 0; i < n; i++) low += b->lo[i], high += b->hi[i];
    int most = s->poured - s->lo[0], least = s->poured - s->hi[0]; /* of all but the base */
    if (low > most || high < least) return false;
    for (int i = 0; i < n; i++) {
        int hi = most - (low - b->lo[i]), lo = least - (high - b->hi[i]);
        if (hi < b->hi[i]) high -= b->hi[i] - hi, b->hi[i] = (short)hi;
        if (lo > b->lo[i]) low += lo - b->lo[i], b->lo[i] = (short)lo;
    }
    return true;
}

/* Objective that a recipe of the box must beat. */
static double box_threshold(const struct prover *p, const struct box *b) {
    const struct recipe_problem *problem = p->m->problem;
    if (!problem->tradeoff) return fmin(archive_best(p->archive), p->cap);
    const struct sets *s = &p->sets;
    double base = problem->paints[s->paint[0]].cost_cent, cost = base * s->poured;
    struct archive_reach reach = {(size_t)s->cell.n + 1, 0, 0, s->poured};
    int left = s->poured, others = 0;
    for (int i = 0; i < s->cell.n; i++) {
        const struct recipe_paint *paint = &problem->paints[s->paint[i + 1]];
        double more = paint->cost_cent - base;
        cost += more * (more < 0 ? b->hi[i] : b->lo[i]);
        left -= b->lo[i];
        if (paint->leftover) others += b->hi[i];
    }
    if (problem->paints[s->paint[0]].leftover) others += left;
    reach.cost_cent = cost - 1e-9 * (1 + fabs(cost));
    reach.leftover_parts = others < s->poured ? others : s->poured;
    return archive_threshold(p->archive, &reach);
}

/* Largest difference that can still go with that objective. */
static double difference_for(const struct prover *p, double objective) {
    if (!p->m->by_expected) return objective;
    double rest = objective * objective - p->m->problem->variance_low;
    return rest > 0 ? sqrt(rest) : 0;
}

static void step(struct prover *p) {
    uint64_t steps = p->proof->cells + p->proof->points;
    if (p->limit && p->limit->steps && steps >= p->limit->steps) p->ended = true;
    if (steps - p->asked < 256) return;
    p->asked = steps;
    if (limit_asked(p->limit)) p->ended = p->proof->stopped = true;
}

static void judge_point(struct prover *p, const short *parts) {
    const struct sets *s = &p->sets;
    struct recipe_item items[RECIPE_ITEMS_MAX];
    struct box b;
    memcpy(b.lo, parts, sizeof b.lo);
    memcpy(b.hi, parts, sizeof b.hi);
    size_t n = sets_items(s, parts, items);
    double difference = mixture_difference(p->m, items, n), most = box_threshold(p, &b);
    if (difference > most) return;
    archive_offer(p->archive, items, n, mixture_objective(p->m, items, n, difference));
}

static void points_flush(struct prover *p) {
    if (!p->pending_n) return;
    for (int l = 0; l < CELL_LANES; l++)
        for (int i = 0; i < p->sets.cell.n; i++)
            p->points.parts[i][l] = p->pending[l < p->pending_n ? l : 0][i];
    p->kernel->points(&p->sets.cell, &p->rows, &p->points);
    p->proof->points += (uint64_t)p->pending_n;
    for (int l = 0; l < p->pending_n; l++) {
        struct box b;
        memcpy(b.lo, p->pending[l], sizeof b.lo);
        memcpy(b.hi, p->pending[l], sizeof b.hi);
        if (!(p->points.norm[l] > radius_for(p, difference_for(p, box_threshold(p, &b)))))
            judge_point(p, p->pending[l]);
    }
    p->pending_n = 0;
    step(p);
}

/* Every recipe of the box, one by one. */
static void enumerate(struct prover *p, const struct box *b) {
    short at[CELL_VARS];
    int n = p->sets.cell.n;
    memcpy(at, b->lo, sizeof at);
    for (;;) {
        int base = p->sets.poured;
        for (int i = 0; i < n; i++) base -= at[i];
        if (base >= p->sets.lo[0] && base <= p->sets.hi[0]) {
            memcpy(p->pending[p->pending_n++], at, sizeof at);
            if (p->pending_n == CELL_LANES) points_flush(p);
        }
        int i = 0;
        while (i < n && at[i] == b->hi[i]) at[i] = b->lo[i], i++;
        if (i == n) return;
        at[i]++;
    }
}

/* Two halves at the geometric middle, for a part more counts by what is there already. */
static void halve(struct prover *p, const struct box *b, int var) {
    struct box low = *b, high = *b;
    int mid = (int)sqrt((double)b->lo[var] * (b->hi[var] + 1));
    if (mid < b->lo[var]) mid = b->lo[var];
    if (mid >= b->hi[var]) mid = b->hi[var] - 1;
    low.hi[var] = (short)mid;
    high.lo[var] = (short)(mid + 1);
    if (p->stack_n + 2 >
        STACK_MAX) { /* cannot happen below 10^300 recipes a set; stays right if it does */
        enumerate(p, b);
        return;
    }
    if (box_fits(p, &low)) p->stack[p->stack_n++] = low;
    if (box_fits(p, &high)) p->stack[p->stack_n++] = high;
}

static int widest(const struct prover *p, const struct box *b) {
    int best = 0;
    double most = 0;
    for (int i = 0; i < p->sets.cell.n; i++) {
        double w = (b->hi[i] + 1.) / b->lo[i];
        if (b->hi[i] > b->lo[i] && w > most) most = w, best = i;
    }
    return best;
}

/* The paint whose range moves the color most, of those that have one. */
static int branch(const struct prover *p, const struct box *b, int lane) {
    int best = -1;
    float most = 0;
    for (int i = 0; i < p->sets.cell.n; i++) {
        float e = p->cells.effect[i][lane];
        if (b->hi[i] > b->lo[i] && e > most) most = e, best = i;
    }
    return best < 0 ? widest(p, b) : best;
}

static void bound_batch(struct prover *p) {
    struct box b[CELL_LANES];
    int n = 0;
    while (n < CELL_LANES && p->stack_n) b[n++] = p->stack[--p->stack_n];
    for (int l = 0; l < CELL_LANES; l++)
        for (int i = 0; i < p->sets.cell.n; i++) {
            p->cells.lo[i][l] = b[l < n ? l : 0].lo[i];
            p->cells.hi[i][l] = b[l < n ? l : 0].hi[i];
        }
    p->kernel->bound(&p->sets.cell, &p->rows, &p->cells);
    p->proof->cells += (uint64_t)n;
    for (int l = n; l-- > 0;) {
        double u = difference_for(p, box_threshold(p, &b[l]));
        if (p->cells.near[l] > radius_for(p, u)) continue;
        if (count_points(p, &b[l]) <= LEAF_POINTS)
            enumerate(p, &b[l]);
        else
            halve(p, &b[l], branch(p, &b[l], l));
    }
    step(p);
}

static void search_set(void *ctx) {
    struct prover *p = ctx;
    struct box b;
    for (int i = 0; i < p->sets.cell.n; i++) {
        b.lo[i] = (short)p->sets.lo[i + 1];
        b.hi[i] = (short)p->sets.hi[i + 1];
    }
    if (!box_fits(p, &b)) return;
    p->stack_n = 0;
    if (count_points(p, &b) <= LEAF_POINTS) {
        enumerate(p, &b);
    } else {
        p->stack[p->stack_n++] = b;
        /* a full batch to begin with: the whole box alone is seldom thrown away */
        for (int round = 0; round < 3; round++)
            for (int n = p->stack_n, i = 0; i < n; i++) {
                b = p->stack[i];
                if (count_points(p, &b) <= LEAF_POINTS) continue;
                p->stack[i] = p->stack[--p->stack_n];
                halve(p, &b, widest(p, &b));
            }
    }
    while (p->stack_n && !p->ended) bound_batch(p);
    points_flush(p);
}

enum status prove(const struct mixture *m, struct archive *archive, const struct limit *limit,
                  struct arena *arena, struct recipe_proof *out, bool *out_done) {
    struct prover *p = arena_take(arena, sizeof *p);
    if (!p) return E_MEMORY;
    p->m = m;
    p->archive = archive;
    p->limit = limit;
    p->proof = out;
    p->kernel = cell_kernel(m->problem->no_simd);
    p->cap = INFINITY;
    p->radius_boxes = 200;
    region_make(&m->problem->target, &m->problem->d65->white, &p->region);
    rows_make(p);
    sets_init(&p->sets, m);
    for (int total = m->first_total; total <= m->last_total && !p->ended; total++)
        if (total >= m->batch_parts)
            sets_each(&p->sets, total - m->batch_parts, search_set, p, &p->ended);
    *out_done = !p->ended;
    out->bound = p->ended ? 0 : archive_best(archive);
    return archive->no_memory ? E_MEMORY : OK;
}
