#include "core/timetable/lp.h"

#include <math.h>
#include <string.h>

enum { COLUMNS_A_TIME = 40 };
static const double SAVES = 1e-7, PIVOT_LEAST = 1e-7, ZERO = 1e-11;

enum status lp_make(struct lp *lp, int rows_most, int cols_most, int entries_most,
                    struct arena *arena) {
    size_t n = (size_t)rows_most, m = (size_t)cols_most;
    *lp = (struct lp){.rows_most = rows_most, .cols_most = cols_most, .entries_most = entries_most};
    lp->rhs = arena_array(arena, n, sizeof *lp->rhs);
    lp->penalty = arena_array(arena, n, sizeof *lp->penalty);
    lp->inverse = arena_array(arena, n * n, sizeof *lp->inverse);
    lp->value = arena_array(arena, n, sizeof *lp->value);
    lp->basis = arena_array(arena, n, sizeof *lp->basis);
    lp->price = arena_array(arena, n, sizeof *lp->price);
    lp->enter = arena_array(arena, n, sizeof *lp->enter);
    lp->filled = arena_array(arena, n, sizeof *lp->filled);
    lp->basic = arena_array(arena, m, sizeof *lp->basic);
    lp->slack_in = arena_array(arena, n, sizeof *lp->slack_in);
    lp->head = arena_array(arena, m, sizeof *lp->head);
    lp->entry = arena_array(arena, (size_t)entries_most, sizeof *lp->entry);
    return lp->rhs && lp->penalty && lp->inverse && lp->value && lp->basis && lp->price &&
                   lp->enter && lp->filled && lp->basic && lp->slack_in && lp->head && lp->entry
               ? OK
               : E_MEMORY;
}

void lp_clear(struct lp *lp) {
    lp->rows = lp->cols = lp->entries = lp->next = 0;
}

int lp_column(struct lp *lp) {
    if (lp->cols == lp->cols_most) return -1;
    lp->head[lp->cols] = -1;
    lp->basic[lp->cols] = false;
    return lp->cols++;
}

bool lp_put(struct lp *lp, int col, int row, double value) {
    if (lp->entries == lp->entries_most) return false;
    lp->entry[lp->entries] = (struct lp_entry){row, lp->head[col], value};
    lp->head[col] = lp->entries++;
    return true;
}

static double in_row(const struct lp *lp, int col, int row) {
    double sum = 0;
    for (int e = lp->head[col]; e >= 0; e = lp->entry[e].next)
        if (lp->entry[e].row == row) sum += lp->entry[e].value;
    return sum;
}

static double *inverse_row(const struct lp *lp, int k) {
    return lp->inverse + (size_t)k * (size_t)lp->rows_most;
}

/* The inverse of [B 0; r g], g = 1 for a slack and -1 for an excess, is [B^-1 0; -r B^-1 / g 1/g].
 */
void lp_join(struct lp *lp, double rhs, double penalty) {
    int n = lp->rows;
    double *last = inverse_row(lp, n), left = rhs;
    memset(last, 0, (size_t)n * sizeof *last);
    for (int k = 0; k < n; k++) {
        inverse_row(lp, k)[n] = 0;
        if (lp->basis[k] < 0) continue;
        double a = in_row(lp, lp->basis[k], n);
        if (a == 0) continue;
        left -= a * lp->value[k];
        const double *b = inverse_row(lp, k);
        for (int i = 0; i < n; i++) last[i] -= a * b[i];
    }
    double g = left >= 0 ? 1 : -1;
    for (int i = 0; i < n && g < 0; i++) last[i] = -last[i];
    last[n] = g;
    lp->rhs[n] = rhs;
    lp->penalty[n] = penalty;
    lp->value[n] = fabs(left);
    lp->slack_in[n] = g > 0;
    lp->basis[n] = g > 0 ? -1 - n : -1 - lp->rows_most - n;
    lp->rows++;
}

static void prices(struct lp *lp) {
    int n = lp->rows;
    memset(lp->price, 0, (size_t)n * sizeof *lp->price);
    for (int k = 0; k < n; k++) {
        int r = -1 - lp->rows_most - lp->basis[k]; /* only excess costs */
        if (lp->basis[k] >= 0 || r < 0) continue;
        const double *b = inverse_row(lp, k);
        for (int i = 0; i < n; i++) lp->price[i] -= lp->penalty[r] * b[i];
    }
}

double lp_reduced(const struct lp *lp, int col) {
    double sum = 0;
    for (int e = lp->head[col]; e >= 0; e = lp->entry[e].next)
        sum += lp->price[lp->entry[e].row] * lp->entry[e].value;
    return sum;
}

double lp_excess(const struct lp *lp) {
    double sum = 0;
    for (int k = 0; k < lp->rows; k++) {
        int r = -1 - lp->rows_most - lp->basis[k];
        if (lp->basis[k] < 0 && r >= 0) sum += lp->penalty[r] * lp->value[k];
    }
    return sum;
}

/* The slack or excess that saves most, or else the best of the next columns, as in `basis`;
 * *out_none when nothing does. */
static int entering(struct lp *lp, bool *out_none) {
    double least = -SAVES;
    int best = 0;
    *out_none = true;
    for (int r = 0; r < lp->rows; r++) {
        if (!lp->slack_in[r] && lp->price[r] < least)
            least = lp->price[r], best = -1 - r, *out_none = false;
        double d = lp->penalty[r] - lp->price[r];
        if (d < least) least = d, best = -1 - lp->rows_most - r, *out_none = false;
    }
    for (int n = 0; n < lp->cols; n++) {
        if (n % COLUMNS_A_TIME == 0 && !*out_none) break;
        int c = lp->next = lp->next + 1 < lp->cols ? lp->next + 1 : 0;
        double d = lp->basic[c] ? 0 : lp_reduced(lp, c);
        if (d < least) least = d, best = c, *out_none = false;
    }
    return best;
}

/* enter = B^-1 times the entering column */
static void transform(struct lp *lp, int j) {
    int n = lp->rows;
    for (int k = 0; k < n; k++) {
        const double *b = inverse_row(lp, k);
        double sum = 0;
        if (j >= 0)
            for (int e = lp->head[j]; e >= 0; e = lp->entry[e].next)
                sum += b[lp->entry[e].row] * lp->entry[e].value;
        else
            sum = -1 - j < lp->rows_most ? b[-1 - j] : -b[-1 - lp->rows_most - j];
        lp->enter[k] = sum;
    }
}

static void pivot(struct lp *lp, int at, int j) {
    int n = lp->rows, out = lp->basis[at], filled = 0;
    double *p = inverse_row(lp, at), by = lp->enter[at];
    for (int i = 0; i < n; i++) { /* few are, as a rule */
        if (fabs(p[i]) < ZERO) p[i] = 0;
        if (p[i] == 0) continue;
        p[i] /= by;
        lp->filled[filled++] = i;
    }
    lp->value[at] /= by;
    for (int k = 0; k < n; k++) {
        double f = lp->enter[k];
        if (k == at || f == 0) continue;
        double *b = inverse_row(lp, k);
        for (int i = 0; i < filled; i++) b[lp->filled[i]] -= f * p[lp->filled[i]];
        lp->value[k] -= f * lp->value[at];
        if (lp->value[k] < 0) lp->value[k] = 0; /* by rounding */
    }
    if (out >= 0)
        lp->basic[out] = false;
    else if (-1 - out < lp->rows_most)
        lp->slack_in[-1 - out] = false;
    lp->basis[at] = j;
    if (j >= 0)
        lp->basic[j] = true;
    else if (-1 - j < lp->rows_most)
        lp->slack_in[-1 - j] = true;
}

int lp_solve(struct lp *lp, int pivots) {
    for (int n = 0; n < pivots; n++) {
        bool none;
        prices(lp);
        int j = entering(lp, &none), at = -1;
        if (none) return n;
        transform(lp, j);
        double least = INFINITY;
        for (int k = 0; k < lp->rows; k++) {
            if (lp->enter[k] < PIVOT_LEAST) continue;
            double ratio = lp->value[k] / lp->enter[k];
            if (ratio < least || (ratio == least && lp->enter[k] > lp->enter[at]))
                least = ratio, at = k;
        }
        if (at < 0) return n; /* only by rounding: every cost is positive */
        pivot(lp, at, j);
    }
    prices(lp);
    return pivots;
}
