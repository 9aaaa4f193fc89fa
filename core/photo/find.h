/* The same things found again in the next picture of them, so that nobody marks a dozen chips
 * twice.
 *
 * Between two pictures of things that lie still the places move about as a similarity does:
 * shifted, turned, larger or smaller. Pairs of marks whose colors are most alike anywhere in the
 * new picture propose such moves; the one under which all marks see their colors best wins, and is
 * then fitted to where each mark agrees best nearby. Light and exposure may differ: colors are
 * compared after one gain per channel.
 *
 * It is a proposal for a person to look at, never used unseen. Source: own, in the manner of random
 * sample consensus (from memory). */
#ifndef CORE_PHOTO_FIND_H
#define CORE_PHOTO_FIND_H

#include "core/photo/photo.h"

enum { PHOTO_MARKS_MAX = PHOTO_REFERENCES_MAX + PHOTO_TARGETS_MAX, PHOTO_COARSE_MAX = 256 };

/* A marked thing of the first picture: its middle, half its smaller side, its mean color. */
struct photo_mark {
    double x, y, half;
    double rgb[3]; /* linear Display P3 */
};

/* The new picture in coarse squares: rgb [rows * columns], row by row, linear Display P3. Its
 * longer side has length 1, squares are about as wide as high. */
struct photo_coarse {
    const double (*rgb)[3];
    size_t columns, rows; /* 8..PHOTO_COARSE_MAX each */
    double width, height; /* one of them is 1 */
};

/* Where a person says that a mark of the first picture lies in the new one. */
struct photo_tap {
    size_t mark;
    double x, y;
};

struct photo_found {
    double x, y, half; /* in the new picture */
    double difference; /* of its color there, CIEDE2000 after the common gains */
};

/* Proposes places.
 *
 *   marks   [n], 1..PHOTO_MARKS_MAX
 *   taps    [taps_n], 0..n. None: n >= 3 marks are searched by color. One shifts, two also turn and
 *           scale, three and more move freely (affine)
 *   out     [n]; untouched on failure
 *   out_sure  0..1: share of the marks that see their color (difference < 6) inside the picture
 *
 * Errors: E_MISSING (nothing to go by), E_DOMAIN, E_TOO_LARGE, E_NOT_FOUND (no move puts half of
 * the marks on their colors; taps help), E_MEMORY. Deterministic. Cost: some 10 ms. */
enum status photo_find_again(const struct photo_mark *marks, size_t n,
                             const struct photo_coarse *picture, const struct photo_tap *taps,
                             size_t taps_n, struct arena *a, struct photo_found *out,
                             double *out_sure, struct why *why);

#endif
