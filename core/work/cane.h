/* Woven cane: sheets, spline, soaking, and cutting several openings from a roll. Lengths mm. */
#ifndef CORE_WORK_CANE_H
#define CORE_WORK_CANE_H

#include "core/base/status.h"

#include <stddef.h>
#include <stdint.h>

enum cane_hold { CANE_SPLINE, CANE_STAPLE };

/* Allowance on each side of the opening; least 25. Source: CANE. */
#define CANE_ALLOWANCE_MM 40.0

double cane_sheet_mm(double opening_mm);                  /* with the allowance, both sides */
double cane_spline_mm(double width_mm, double height_mm); /* around, and 12 in to spare */
double cane_spline_width_mm(double groove_mm);            /* cane lies in the groove twice */
/* 15 min stapled behind a lip, 2 h warm for a groove. CP, CANE. */
double cane_soak_min(enum cane_hold hold);

struct cane_sheet {
    double width_mm, height_mm; /* as cut; the pattern runs along the roll, so it is not turned */
};

enum { CANE_SHEETS = 12 };

/* Lays sheets in strips across a roll with the least length of roll.
 *
 *   sheets        [n], 1 <= n <= CANE_SHEETS, each not wider than the roll
 *   out_length_mm least length over all layouts in strips (cut across, then apart)
 *
 * Errors: E_DOMAIN (a sheet wider than the roll), E_TOO_LARGE. Proven least by trying all strips
 * (dynamic program over subsets, 3^n steps). */
enum status cane_cut(double roll_mm, const struct cane_sheet *sheets, size_t n,
                     double *out_length_mm);

/* The same for any number, by the tallest first into the first strip that has room: good, not
 * proven best. strip_left [n] is working space. Errors: E_DOMAIN. Cost: O(n^2). */
enum status cane_cut_many(double roll_mm, struct cane_sheet *sheets, size_t n, double *strip_left,
                          double *out_length_mm);

#endif
