#include "core/base/linear.h"

#include <math.h>

/* Row by row, so that every inner product runs along two rows: the compiler keeps the order of
 * additions (no fast math), hence four running sums by hand for speed, always in the same order. */
static double dot(const double *x, const double *y, size_t n) {
    double s0 = 0, s1 = 0, s2 = 0, s3 = 0;
    size_t i = 0;
    for (; i + 4 <= n; i += 4) {
        s0 += x[i] * y[i];
        s1 += x[i + 1] * y[i + 1];
        s2 += x[i + 2] * y[i + 2];
        s3 += x[i + 3] * y[i + 3];
    }
    for (; i < n; i++) s0 += x[i] * y[i];
    return (s0 + s1) + (s2 + s3);
}

bool cholesky_factor(double *a, size_t n) {
    for (size_t i = 0; i < n; i++) {
        double *row = a + i * n;
        for (size_t j = 0; j < i; j++) row[j] = (row[j] - dot(row, a + j * n, j)) / a[j * n + j];
        double rest = row[i] - dot(row, row, i);
        if (!(rest > 1e-14 * fabs(row[i]))) return false;
        row[i] = sqrt(rest);
    }
    return true;
}

void cholesky_forward(const double *l, size_t n, double *b) {
    for (size_t i = 0; i < n; i++) b[i] = (b[i] - dot(l + i * n, b, i)) / l[i * n + i];
}

void cholesky_solve(const double *l, size_t n, double *b) {
    cholesky_forward(l, n, b);
    for (size_t i = n; i-- > 0;) {
        b[i] /= l[i * n + i];
        for (size_t j = 0; j < i; j++) b[j] -= l[i * n + j] * b[i];
    }
}

static void exchange_rows(double *a, size_t n, double *b, size_t i, size_t j) {
    for (size_t k = 0; k < n; k++) {
        double t = a[i * n + k];
        a[i * n + k] = a[j * n + k];
        a[j * n + k] = t;
    }
    double t = b[i];
    b[i] = b[j];
    b[j] = t;
}

bool gauss_solve(double *a, size_t n, double *b) {
    for (size_t c = 0; c < n; c++) {
        size_t best = c;
        for (size_t r = c + 1; r < n; r++)
            if (fabs(a[r * n + c]) > fabs(a[best * n + c])) best = r;
        if (!(fabs(a[best * n + c]) > 1e-300)) return false;
        if (best != c) exchange_rows(a, n, b, c, best);
        for (size_t r = c + 1; r < n; r++) {
            double f = a[r * n + c] / a[c * n + c];
            if (f == 0) continue;
            for (size_t k = c; k < n; k++) a[r * n + k] -= f * a[c * n + k];
            b[r] -= f * b[c];
        }
    }
    for (size_t r = n; r-- > 0;) {
        for (size_t k = r + 1; k < n; k++) b[r] -= a[r * n + k] * b[k];
        b[r] /= a[r * n + r];
    }
    return true;
}
