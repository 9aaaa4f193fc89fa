#include "core/base/random.h"
#include "core/timetable/lp.h"
#include "test/check.h"

enum { ROWS = 40, COLS = 80 };

struct program {
    struct lp lp;
    double a[ROWS][COLS]; /* what was put */
};

static void join(struct program *p, int cols, const double *row, double rhs, double penalty) {
    for (int c = 0; c < cols; c++) {
        p->a[p->lp.rows][c] = row[c];
        if (row[c] != 0) lp_put(&p->lp, c, p->lp.rows, row[c]);
    }
    lp_join(&p->lp, rhs, penalty);
}

/* Source: duality of linear programs (Gale, Kuhn and Tucker 1951): a solution and prices that keep
 * to their sides, and cost the same, are the best there are. Returns the cost. */
static double certify(const struct program *p) {
    const struct lp *lp = &p->lp;
    double x[COLS] = {0}, over[ROWS] = {0}, left[ROWS] = {0}, cost = 0, dual = 0;
    for (int k = 0; k < lp->rows; k++) {
        int b = lp->basis[k];
        CHECK(lp->value[k] >= 0);
        if (b >= 0)
            x[b] = lp->value[k];
        else if (-1 - b < lp->rows_most)
            left[-1 - b] = lp->value[k];
        else
            over[-1 - b - lp->rows_most] = lp->value[k];
    }
    for (int r = 0; r < lp->rows; r++) {
        double sum = left[r] - over[r];
        for (int c = 0; c < lp->cols; c++) sum += p->a[r][c] * x[c];
        CHECK_NEAR(sum, lp->rhs[r], 1e-6);
        CHECK(lp->price[r] > -1e-6 && lp->price[r] < lp->penalty[r] + 1e-6);
        cost += lp->penalty[r] * over[r];
        dual -= lp->price[r] * lp->rhs[r];
    }
    for (int c = 0; c < lp->cols; c++) CHECK(lp_reduced(lp, c) > -1e-6);
    CHECK_NEAR(cost, dual, 1e-5);
    CHECK_NEAR(lp_excess(lp), cost, 1e-9);
    return cost;
}

int main(void) {
    static struct program p;
    struct arena arena;
    arena_init(&arena, alloc_heap(), 0);
    CHECK(lp_make(&p.lp, ROWS, COLS, ROWS * COLS, &arena) == OK);
    CASE("the glass works of Hillier and Lieberman: 36, with prices 0, 3/2 and 1") {
        /* Source: Hillier and Lieberman, Introduction to Operations Research, the Wyndor Glass
         * example; from memory */
        static const double row[4][2] = {{1, 0}, {0, 2}, {3, 2}, {-3, -5}};
        static const double rhs[4] = {4, 12, 18, -100};
        lp_column(&p.lp), lp_column(&p.lp);
        for (int r = 0; r < 4; r++) join(&p, 2, row[r], rhs[r], r < 3 ? 1000 : 1);
        lp_solve(&p.lp, 100);
        CHECK_NEAR(certify(&p), 100 - 36, 1e-9);
        CHECK_NEAR(p.lp.price[0], 0, 1e-9);
        CHECK_NEAR(p.lp.price[1], 1.5, 1e-9);
        CHECK_NEAR(p.lp.price[2], 1, 1e-9);
    }
    CASE("500 programs that grow by rows and columns in turn: solution and prices cost the same") {
        int excess = 0;
        for (uint64_t seed = 0; seed < 500; seed++) {
            struct random r;
            random_seed(&r, seed);
            lp_clear(&p.lp);
            memset(p.a, 0, sizeof p.a);
            for (int step = 0; step < 5; step++) {
                for (int n = 0; n < 6; n++) {
                    int c = lp_column(&p.lp);
                    for (int k = 0; k < p.lp.rows; k++) {
                        if (random_below(&r, 3)) continue;
                        p.a[k][c] = (double)random_below(&r, 9) - 4;
                        lp_put(&p.lp, c, k, p.a[k][c]);
                    }
                }
                for (int n = 0; n < 5; n++) {
                    double row[COLS] = {0};
                    for (int c = 0; c < p.lp.cols; c++)
                        row[c] = random_below(&r, 3) ? 0 : (double)random_below(&r, 9) - 4;
                    join(&p, p.lp.cols, row, (double)random_below(&r, 20) - 8 + .01 * n,
                         1 + (double)random_below(&r, 9));
                }
                lp_solve(&p.lp, 2000);
                excess += certify(&p) > 1e-6;
            }
        }
        CHECK(excess > 500);
    }
    CASE("no more room is said") {
        while (lp_column(&p.lp) >= 0)
            ;
        CHECK(p.lp.cols == COLS);
        bool put = true;
        for (int n = 0; n <= ROWS * COLS && put; n++) put = lp_put(&p.lp, 0, 0, 1);
        CHECK(!put);
    }
    arena_free(&arena);
    return check_done();
}
