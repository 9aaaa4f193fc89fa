#include "core/work/cane.h"

#include "core/base/units.h"

#include <math.h>
#include <stdbool.h>

static const double WEB_MM = .7, SPARE_MM = 12 * MM_PER_IN;

double cane_sheet_mm(double opening_mm) {
    return opening_mm + 2 * CANE_ALLOWANCE_MM;
}

double cane_spline_mm(double width_mm, double height_mm) {
    return 2 * (width_mm + height_mm) + SPARE_MM;
}

double cane_spline_width_mm(double groove_mm) {
    return groove_mm - 2 * WEB_MM;
}

double cane_soak_min(enum cane_hold hold) {
    return hold == CANE_STAPLE ? 15 : 120;
}

/* ---- the roll ---- */

enum { SETS = 1 << CANE_SHEETS };

/* Length of a strip that holds just this set; INFINITY when it is wider than the roll. */
static double strip_length(double roll_mm, const struct cane_sheet *sheets, unsigned set) {
    double across = 0, along = 0;
    for (unsigned i = 0; set >> i; i++) {
        if (!(set >> i & 1)) continue;
        across += sheets[i].width_mm;
        along = fmax(along, sheets[i].height_mm);
    }
    return across <= roll_mm + 1e-9 ? along : INFINITY;
}

enum status cane_cut(double roll_mm, const struct cane_sheet *sheets, size_t n,
                     double *out_length_mm) {
    double strips[SETS], least[SETS]; /* length of one strip; of the best layout of a set */
    if (n < 1 || n > CANE_SHEETS) return E_TOO_LARGE;
    for (size_t i = 0; i < n; i++)
        if (!(sheets[i].width_mm > 0 && sheets[i].width_mm <= roll_mm && sheets[i].height_mm > 0))
            return E_DOMAIN;
    unsigned all = (1u << n) - 1;
    least[0] = 0;
    for (unsigned set = 1; set <= all; set++) {
        strips[set] = strip_length(roll_mm, sheets, set);
        least[set] = INFINITY;
        unsigned first = set & (~set + 1); /* the lowest sheet is in the strip that is cut next */
        for (unsigned part = set; part; part = (part - 1) & set) {
            if (part & first) least[set] = fmin(least[set], strips[part] + least[set ^ part]);
        }
    }
    *out_length_mm = least[all];
    return OK;
}

static bool taller(const struct cane_sheet *a, const struct cane_sheet *b) {
    return a->height_mm > b->height_mm;
}

enum status cane_cut_many(double roll_mm, struct cane_sheet *sheets, size_t n, double *strip_left,
                          double *out_length_mm) {
    double length = 0;
    size_t strips = 0;
    for (size_t i = 0; i < n; i++)
        if (!(sheets[i].width_mm > 0 && sheets[i].width_mm <= roll_mm && sheets[i].height_mm > 0))
            return E_DOMAIN;
    for (size_t i = 1; i < n; i++) { /* insertion: few and nearly alike */
        struct cane_sheet s = sheets[i];
        size_t k = i;
        for (; k > 0 && taller(&s, &sheets[k - 1]); k--) sheets[k] = sheets[k - 1];
        sheets[k] = s;
    }
    for (size_t i = 0; i < n; i++) {
        size_t k = 0;
        while (k < strips && strip_left[k] < sheets[i].width_mm - 1e-9) k++;
        if (k == strips) strip_left[strips++] = roll_mm, length += sheets[i].height_mm;
        strip_left[k] -= sheets[i].width_mm;
    }
    *out_length_mm = length;
    return OK;
}
