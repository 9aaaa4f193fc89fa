#include "core/recipe/prove.h"
#include "core/recipe/ball.h"
#include "core/recipe/cell.h"
#include "core/recipe/sets.h"
#include <math.h>
#include <string.h>

enum {
    LEAF_POINTS = 32, /* cells with no more recipes are computed one by one */
    STACK_MAX = 64    /* halving every range of 512 parts down to one takes 45 */
};

struct box { /* parts of all paints but the base */
    short lo[CELL_VARS], hi[CELL_VARS];
};

/* One set of paints, searched depth first; its paints stand in the kernel's lane of that number. */
struct lane {
    struct cell_set set;
    struct box stack[STACK_MAX];
    int stack_n;
    struct point_batch points;
    struct box pending[CELL_LANES]; /* of one recipe each */
    int pending_n;
};

struct prover {
    const struct mixture *m;
    struct archive *archive;
    const struct limit *limit;
    const struct cell_kernel *kernel;
    struct ball ball;
    double cap; /* only recipes below this objective are looked for in this phase */
    struct recipe_proof *proof;
    uint64_t asked;
    bool ended;
    struct sets sets;
    struct lane lanes[CELL_LANES];
    struct cell_batch cells;
};

/* ---- boxes of parts ---- */

static double count_points(int vars, const struct box *b) {
    double n = 1;
    for (int i = 0; i < vars; i++) n *= b->hi[i] - b->lo[i] + 1;
    return n;
}

/* Narrows the ranges to what the sum and the base's own range leave; false: nothing is left. */
static bool box_fits(const struct sets *s, const struct cell_set *set, struct box *b) {
    int n = set->n, low = 0, high = 0, base = set->place[0];
    for (int i = 0; i < n; i++) low += b->lo[i], high += b->hi[i];
    int most = s->poured - s->lo[base], least = s->poured - s->hi[base]; /* of all but the base */
    if (low > most || high < least) return false;
    for (int i = 0; i < n; i++) {
        int hi = most - (low - b->lo[i]), lo = least - (high - b->hi[i]);
        if (hi < b->hi[i]) high -= b->hi[i] - hi, b->hi[i] = (short)hi;
        if (lo > b->lo[i]) low += lo - b->lo[i], b->lo[i] = (short)lo;
    }
    return true;
}

/* Objective that a recipe of the box must beat. */
static double box_threshold(const struct prover *p, const struct cell_set *set,
                            const struct box *b) {
    const struct recipe_problem *problem = p->m->problem;
    if (!problem->tradeoff) return fmin(archive_best(p->archive), p->cap);
    const struct sets *s = &p->sets;
    const struct recipe_paint *weakest = &problem->paints[s->paint[set->place[0]]];
    double base = weakest->cost_cent, cost = base * s->poured;
    struct archive_reach reach = {(size_t)set->n + 1, 0, 0, s->poured};
    int left = s->poured, others = 0;
    for (int i = 0; i < set->n; i++) {
        const struct recipe_paint *paint = &problem->paints[s->paint[set->place[i + 1]]];
        double more = paint->cost_cent - base;
        cost += more * (more < 0 ? b->hi[i] : b->lo[i]);
        left -= b->lo[i];
        if (paint->leftover) others += b->hi[i];
    }
    if (weakest->leftover) others += left;
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

static void judge_point(struct prover *p, const struct cell_set *set, const struct box *b) {
    struct recipe_item items[RECIPE_ITEMS_MAX];
    size_t n = sets_items(&p->sets, set, b->lo, items);
    double difference = mixture_difference(p->m, items, n), threshold = box_threshold(p, set, b);
    if (difference > threshold) return;
    double objective =
        mixture_objective_within(p->m, items, n, difference, archive_most(p->archive, threshold));
    if (objective < INFINITY) archive_offer(p->archive, items, n, objective);
}

static void points_flush(struct prover *p, struct lane *lane) {
    if (!lane->pending_n) return;
    for (int l = 0; l < CELL_LANES; l++)
        for (int i = 0; i < lane->set.n; i++)
            lane->points.parts[i][l] = lane->pending[l < lane->pending_n ? l : 0].lo[i];
    p->kernel->points(&p->sets.shelf, &lane->set, (float)p->sets.poured, &p->ball.rows,
                      &lane->points);
    p->proof->points += (uint64_t)lane->pending_n;
    for (int l = 0; l < lane->pending_n; l++) {
        double u = difference_for(p, box_threshold(p, &lane->set, &lane->pending[l]));
        if (!(lane->points.norm[l] > ball_radius(&p->ball, u)))
            judge_point(p, &lane->set, &lane->pending[l]);
    }
    lane->pending_n = 0;
    step(p);
}

/* Every recipe of the box, one by one. */
static void enumerate(struct prover *p, struct lane *lane, const struct box *b) {
    struct box at = *b;
    int n = lane->set.n, place = lane->set.place[0];
    for (;;) {
        int base = p->sets.poured;
        for (int i = 0; i < n; i++) base -= at.lo[i];
        if (base >= p->sets.lo[place] && base <= p->sets.hi[place]) {
            lane->pending[lane->pending_n] = at;
            memcpy(lane->pending[lane->pending_n++].hi, at.lo, sizeof at.lo);
            if (lane->pending_n == CELL_LANES) points_flush(p, lane);
        }
        int i = 0;
        while (i < n && at.lo[i] == b->hi[i]) at.lo[i] = b->lo[i], i++;
        if (i == n) return;
        at.lo[i]++;
    }
}

/* Two halves at the geometric middle, for a part more counts by what is there already. */
static void halve(struct prover *p, struct lane *lane, const struct box *b, int var) {
    struct box low = *b, high = *b;
    int mid = (int)sqrt((double)b->lo[var] * (b->hi[var] + 1));
    if (mid < b->lo[var]) mid = b->lo[var];
    if (mid >= b->hi[var]) mid = b->hi[var] - 1;
    low.hi[var] = (short)mid;
    high.lo[var] = (short)(mid + 1);
    if (lane->stack_n + 2 > STACK_MAX) { /* never seen; stays right if it does */
        enumerate(p, lane, b);
        return;
    }
    if (box_fits(&p->sets, &lane->set, &low)) lane->stack[lane->stack_n++] = low;
    if (box_fits(&p->sets, &lane->set, &high)) lane->stack[lane->stack_n++] = high;
}

static int widest(int vars, const struct box *b) {
    int best = 0;
    double most = 0;
    for (int i = 0; i < vars; i++) {
        double w = (b->hi[i] + 1.) / b->lo[i];
        if (b->hi[i] > b->lo[i] && w > most) most = w, best = i;
    }
    return best;
}

/* The paint whose range moves the color most, of those that have one. */
static int branch(const struct cell_batch *cells, int vars, const struct box *b, int l) {
    int best = -1;
    float most = 0;
    for (int i = 0; i < vars; i++) {
        float e = cells->effect[i][l];
        if (b->hi[i] > b->lo[i] && e > most) most = e, best = i;
    }
    return best < 0 ? widest(vars, b) : best;
}

/* Takes over what the kernel left of the ranges; false: nothing. Not by ceilf and floorf: without
 * SSE4.1 these are calls. */
static bool box_narrow(const struct cell_batch *cells, int vars, struct box *b, int l) {
    for (int i = 0; i < vars; i++) {
        float lo = cells->lo[i][l] - CELL_ROUND, hi = cells->hi[i][l] + CELL_ROUND;
        if (lo > b->hi[i] || hi < b->lo[i]) return false;
        if (lo > b->lo[i]) b->lo[i] = (short)((short)lo + ((short)lo < lo));
        if (hi < b->hi[i]) b->hi[i] = (short)hi;
        if (b->lo[i] > b->hi[i]) return false;
    }
    return true;
}

/* A cell that may hold something: what is left of it is computed one by one, looked at again, or
 * halved. */
static void go_on(struct prover *p, struct lane *lane, const struct box *from, int l) {
    struct box b = *from;
    int vars = lane->set.n;
    double before = count_points(vars, &b);
    if (!box_narrow(&p->cells, vars, &b, l) || !box_fits(&p->sets, &lane->set, &b)) return;
    double after = count_points(vars, &b);
    if (after <= LEAF_POINTS)
        enumerate(p, lane, &b);
    else if (after <= before / 2)
        lane->stack[lane->stack_n++] = b;
    else
        halve(p, lane, &b, branch(&p->cells, vars, &b, l));
}

/* One cell of each lane that has one. */
static void bound_batch(struct prover *p, int vars) {
    struct box b[CELL_LANES];
    bool has[CELL_LANES];
    for (int l = 0; l < CELL_LANES; l++) {
        struct lane *lane = &p->lanes[l];
        has[l] = lane->stack_n > 0;
        if (!has[l]) continue;
        b[l] = lane->stack[--lane->stack_n];
        p->cells.radius[l] =
            ball_radius(&p->ball, difference_for(p, box_threshold(p, &lane->set, &b[l])));
        for (int i = 0; i < vars; i++) {
            p->cells.lo[i][l] = b[l].lo[i];
            p->cells.hi[i][l] = b[l].hi[i];
        }
        p->proof->cells++;
    }
    p->kernel->bound(&p->ball.rows, &p->cells, vars);
    for (int l = 0; l < CELL_LANES; l++)
        if (has[l] && !(p->cells.room[l] < 0)) go_on(p, &p->lanes[l], &b[l], l);
    step(p);
}

/* Gives the lane the next set that has cells to bound; smaller ones are computed on the way.
 * false: there is no more. */
static bool lane_fill(struct prover *p, int l, struct cell_set *next) {
    struct lane *lane = &p->lanes[l];
    const struct sets *s = &p->sets;
    while (!p->ended) {
        points_flush(p, lane);
        if (!sets_next(s, next)) return false;
        lane->set = *next;
        struct box b;
        for (int i = 0; i < next->n; i++) {
            int place = next->place[i + 1];
            b.lo[i] = (short)s->lo[place];
            b.hi[i] = (short)(s->hi[place] < s->poured ? s->hi[place] : s->poured);
        }
        if (!box_fits(s, next, &b)) continue;
        if (count_points(next->n, &b) > LEAF_POINTS) {
            lane->stack[lane->stack_n++] = b;
            sets_load(s, next, l, &p->cells.paints);
            return true;
        }
        enumerate(p, lane, &b);
    }
    return false;
}

/* All sets of vars + 1 paints. */
static void search_sets(struct prover *p, int vars) {
    struct cell_set next = {vars, {-1}};
    bool more = true;
    for (int l = 0; l < CELL_LANES; l++) p->lanes[l].stack_n = p->lanes[l].pending_n = 0;
    for (int live = 1; live && !p->ended;) {
        live = 0;
        for (int l = 0; l < CELL_LANES; l++) {
            if (!p->lanes[l].stack_n && more) more = lane_fill(p, l, &next);
            live += p->lanes[l].stack_n > 0;
        }
        if (live && !p->ended) bound_batch(p, vars);
    }
    for (int l = 0; l < CELL_LANES; l++) points_flush(p, &p->lanes[l]);
}

static void search_singles(struct prover *p, int poured) {
    const struct sets *s = &p->sets;
    for (int i = 0; i < s->n && poured && !p->ended; i++) {
        struct recipe_item item = {s->paint[i], poured};
        if (!sets_single(s, i) || poured < s->lo[i] || poured > s->hi[i]) continue;
        archive_offer(p->archive, &item, 1,
                      mixture_objective(p->m, &item, 1, mixture_difference(p->m, &item, 1)));
        p->proof->points++;
        step(p);
    }
}

static void search_all(struct prover *p) {
    const struct mixture *m = p->m;
    for (int total = m->first_total; total <= m->last_total && !p->ended; total++)
        if (total >= m->batch_parts) {
            int poured = p->sets.poured = total - m->batch_parts;
            search_singles(p, poured);
            for (int vars = 1; vars < m->problem->items_max && vars < poured && !p->ended; vars++)
                search_sets(p, vars);
        }
}

/* Where the target looks out of reach and the work may be cut off, a bound is got first: that
 * nothing is better than half, then 0.9 of the best known. Near targets have no such bound before
 * the end: some mix not on the grid hits them. */
static void search_bounds(struct prover *p) {
    const double parts[] = {.5, .9};
    bool limited = p->limit && (p->limit->steps || p->limit->stop);
    if (!limited || p->proof->grid_points < 1e7 || p->m->problem->tradeoff) return;
    for (int i = 0; i < 2 && archive_best(p->archive) > .5; i++) {
        p->cap = parts[i] * archive_best(p->archive);
        search_all(p);
        if (p->ended) return;
        p->proof->bound = fmin(p->cap, archive_best(p->archive));
    }
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
    ball_make(&p->ball, m, out->grid_points);
    sets_init(&p->sets, m);
    search_bounds(p);
    p->cap = INFINITY;
    search_all(p);
    *out_done = !p->ended;
    if (!p->ended) out->bound = archive_best(archive);
    return archive->no_memory ? E_MEMORY : OK;
}
