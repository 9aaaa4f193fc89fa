/* How different two colors look: CIEDE2000, and its local metric for fits.
 *
 * Both colors are Lab of the same white and observer. The difference is >= 0, symmetric, 0 only for
 * equal colors. Two colors nearer than COLOR_UNSEEN are one to the eye, farther apart than
 * COLOR_GLANCE they differ at a glance (common practice).
 * Source: SHARMA2005 (formula, branch rules, 34 check pairs). */
#ifndef CORE_COLOR_DIFFERENCE_H
#define CORE_COLOR_DIFFERENCE_H

struct lab {
    double l, a, b;
};

#define COLOR_UNSEEN 1.0
#define COLOR_GLANCE 3.0

double ciede2000(struct lab p, struct lab q);

/* "not seen", "seen side by side" or "seen at a glance": a difference never stands alone. */
const char *difference_words(double difference);

/* Local metric at c: ciede2000(c, c + d)^2 = d' G d for small d. Writes the upper Cholesky factor
 * U of G (G = U'U), so that |U d| is the difference; entries below the diagonal are 0. Order l, a,
 * b. Positive definite everywhere. Cost: O(1). */
void ciede2000_metric(struct lab c, double out_u[3][3]);

#endif
