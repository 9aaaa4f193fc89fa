/* Working time of one person: windows with running sums, so that "so many working minutes from
 * here" costs O(log n). */
#ifndef CORE_TIMETABLE_HOURS_H
#define CORE_TIMETABLE_HOURS_H

#include "core/timetable/timetable.h"

enum { HOURS_NEAR = 4 }; /* places in the index by time for each window */

struct hours {
    const struct timetable_span *windows;
    const int64_t *before; /* [n] working minutes before each window */
    const int *near; /* [HOURS_NEAR * n + 1] first window that ends after first + (k << shift) */
    int64_t first;
    int shift;
    int n;
};

/* before: [n], near: [HOURS_NEAR * n + 1], filled here. */
struct hours hours_make(const struct timetable_span *windows, int n, int64_t *before, int *near);

/* First window that ends after t; n when none does. */
int hours_window(const struct hours *h, int64_t t);

/* Working minutes in (-inf, t). */
int64_t hours_worked(const struct hours *h, int64_t t);

/* Earliest moment >= t at which `work` minutes in a row can begin: within one window, or, when
 * pausable, anywhere in a window with enough work left after it. INT64_MAX: never. work 0: t. */
int64_t hours_begin(const struct hours *h, int64_t t, int64_t work, bool pausable);

/* Moment at which `work` minutes begun at `from` are over; INT64_MAX: the windows end first. */
int64_t hours_end(const struct hours *h, int64_t from, int64_t work);

/* Latest moment inside a window from which `work` minutes end at or before `to`; INT64_MIN: none.
 * work 0: `to`. */
int64_t hours_back(const struct hours *h, int64_t to, int64_t work);

/* Latest moment from which `work` minutes in a row end at or before `to`: within one window, or,
 * when pausable, over several; INT64_MIN: none. work 0: `to`. */
int64_t hours_latest(const struct hours *h, int64_t to, int64_t work, bool pausable);

/* End of the last window that ends before t; INT64_MIN: none. */
int64_t hours_closing(const struct hours *h, int64_t t);

/* Longest window; 0 without any. */
int64_t hours_longest(const struct hours *h);

#endif
