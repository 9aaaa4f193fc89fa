#include "bench/recipe_optimizer.h"
#ifdef HAVE_NLOPT
#include "core/base/random.h"
#include <math.h>
#include <nlopt.h>
#include <string.h>

struct task {
    const struct recipe_problem *p;
    size_t paints[RECIPE_SHELF_MAX]; /* those that take part */
    size_t n;
};

static double difference_of(const struct task *t, const double *share) {
    struct pigment mix[RECIPE_SHELF_MAX];
    double v[RECIPE_SHELF_MAX];
    for (size_t i = 0; i < t->n; i++) {
        mix[i] = *t->p->paints[t->paints[i]].pigment;
        v[i] = share[i] > 0 ? share[i] : 0;
    }
    struct spectrum s = pigment_mix_reflectance(mix, v, t->n);
    return ciede2000(t->p->target, lab_of_xyz(xyz_of_spectrum(t->p->d65, &s), t->p->d65->white));
}

static double squared(unsigned n, const double *x, double *gradient, void *ctx) {
    double d = difference_of(ctx, x), moved[RECIPE_SHELF_MAX];
    if (gradient) {
        memcpy(moved, x, n * sizeof *x);
        for (unsigned i = 0; i < n; i++) {
            moved[i] = x[i] + 1e-6;
            double e = difference_of(ctx, moved);
            gradient[i] = (e * e - d * d) / 1e-6;
            moved[i] = x[i];
        }
    }
    return d * d;
}

static double sum_is_1(unsigned n, const double *x, double *gradient, void *ctx) {
    (void)ctx;
    double sum = -1;
    for (unsigned i = 0; i < n; i++) {
        sum += x[i];
        if (gradient) gradient[i] = 1;
    }
    return sum;
}

static void optimize(struct task *t, double *share) {
    nlopt_opt o = nlopt_create(NLOPT_LD_SLSQP, (unsigned)t->n);
    double value;
    nlopt_set_min_objective(o, squared, t);
    nlopt_set_lower_bounds1(o, 0);
    nlopt_set_upper_bounds1(o, 1);
    nlopt_add_equality_constraint(o, sum_is_1, NULL, 1e-9);
    nlopt_set_xtol_rel(o, 1e-7);
    nlopt_set_maxeval(o, 200);
    nlopt_optimize(o, share, &value); /* whatever it says, the shares are the best it has */
    nlopt_destroy(o);
}

/* The items_max largest shares. */
static void keep_largest(struct task *t, double *share) {
    size_t most = (size_t)t->p->items_max;
    while (t->n > most) {
        size_t least = 0;
        for (size_t i = 1; i < t->n; i++)
            if (share[i] < share[least]) least = i;
        t->n--;
        memmove(&t->paints[least], &t->paints[least + 1], (t->n - least) * sizeof *t->paints);
        memmove(&share[least], &share[least + 1], (t->n - least) * sizeof *share);
    }
    double sum = 1e-12;
    for (size_t i = 0; i < t->n; i++) sum += share[i];
    for (size_t i = 0; i < t->n; i++) share[i] /= sum;
}

/* Whole parts by the largest remainder. */
static double rounded(const struct task *t, const double *share) {
    double parts[RECIPE_SHELF_MAX];
    int left = t->p->parts;
    for (size_t i = 0; i < t->n; i++) left -= (int)(parts[i] = floor(share[i] * t->p->parts));
    for (; left > 0; left--) {
        size_t best = 0;
        for (size_t i = 1; i < t->n; i++)
            if (share[i] * t->p->parts - parts[i] > share[best] * t->p->parts - parts[best])
                best = i;
        parts[best]++;
    }
    return difference_of(t, parts);
}

bool bench_optimizer_there(void) {
    return true;
}

double bench_optimizer(const struct recipe_problem *p, int starts, uint64_t seed) {
    struct random r;
    double best = INFINITY;
    random_seed(&r, seed);
    for (int s = 0; s < starts; s++) {
        struct task t = {.p = p, .n = p->paints_n};
        double share[RECIPE_SHELF_MAX], sum = 0;
        for (size_t i = 0; i < t.n; i++) {
            t.paints[i] = i;
            sum += share[i] = -log(random_unit(&r) + 1e-12);
        }
        for (size_t i = 0; i < t.n; i++) share[i] /= sum;
        optimize(&t, share);
        keep_largest(&t, share);
        optimize(&t, share);
        best = fmin(best, rounded(&t, share));
    }
    return best;
}
#else
bool bench_optimizer_there(void) {
    return false;
}

double bench_optimizer(const struct recipe_problem *p, int starts, uint64_t seed) {
    (void)p, (void)starts, (void)seed;
    return 0;
}
#endif
