#include "core/timetable/hours.h"

struct hours hours_make(const struct timetable_span *windows, int n, int64_t *before, int *near) {
    struct hours h = {windows, before, near, 0, 0, n};
    int64_t sum = 0;
    for (int i = 0; i < n; i++) {
        before[i] = sum;
        sum += windows[i].to - windows[i].from;
    }
    if (!n) return h;
    h.first = windows[0].from;
    while ((windows[n - 1].to - h.first) >> h.shift > HOURS_NEAR * n) h.shift++;
    for (int k = 0, i = 0; k <= HOURS_NEAR * n; k++) {
        while (i < n && windows[i].to <= h.first + ((int64_t)k << h.shift)) i++;
        near[k] = i;
    }
    return h;
}

int hours_window(const struct hours *h, int64_t t) {
    if (!h->n || t < h->first) return 0;
    if (t >= h->windows[h->n - 1].to) return h->n; /* "ever" too, which no difference can hold */
    int i = h->near[(t - h->first) >> h->shift];
    while (i < h->n && h->windows[i].to <= t) i++;
    return i;
}

static int64_t total(const struct hours *h) {
    if (!h->n) return 0;
    const struct timetable_span *w = &h->windows[h->n - 1];
    return h->before[h->n - 1] + w->to - w->from;
}

int64_t hours_worked(const struct hours *h, int64_t t) {
    int i = hours_window(h, t);
    if (i == h->n) return total(h);
    return h->before[i] + (t > h->windows[i].from ? t - h->windows[i].from : 0);
}

int64_t hours_begin(const struct hours *h, int64_t t, int64_t work, bool pausable) {
    if (work == 0) return t;
    for (int i = hours_window(h, t); i < h->n; i++) {
        int64_t from = t > h->windows[i].from ? t : h->windows[i].from;
        if (pausable)
            return total(h) - h->before[i] - (from - h->windows[i].from) >= work ? from : INT64_MAX;
        if (h->windows[i].to - from >= work) return from;
    }
    return INT64_MAX;
}

/* Window in which the m-th working minute lies, counted so that a window's end belongs to it
 * (up = false) or so that its begin does (up = true). */
static int window_of_worked(const struct hours *h, int64_t m, bool up) {
    int lo = 0, hi = h->n; /* last window with before < m (or <= m) */
    while (hi - lo > 1) {
        int mid = lo + (hi - lo) / 2;
        if (up ? h->before[mid] <= m : h->before[mid] < m)
            lo = mid;
        else
            hi = mid;
    }
    return lo;
}

int64_t hours_end(const struct hours *h, int64_t from, int64_t work) {
    if (work == 0) return from;
    int i = hours_window(h, from);
    if (i < h->n && from >= h->windows[i].from && h->windows[i].to - from >= work)
        return from + work;
    int64_t m = hours_worked(h, from) + work;
    if (m > total(h)) return INT64_MAX;
    i = window_of_worked(h, m, false);
    return h->windows[i].from + (m - h->before[i]);
}

int64_t hours_back(const struct hours *h, int64_t to, int64_t work) {
    if (work == 0) return to;
    int i = hours_window(h, to);
    if (i < h->n && to - h->windows[i].from >= work) return to - work;
    int64_t m = hours_worked(h, to) - work;
    if (m < 0) return INT64_MIN;
    i = window_of_worked(h, m, true);
    return h->windows[i].from + (m - h->before[i]);
}

int64_t hours_latest(const struct hours *h, int64_t to, int64_t work, bool pausable) {
    if (work == 0 || pausable) return hours_back(h, to, work);
    int i = hours_window(h, to);
    if (i == h->n || h->windows[i].from >= to) i--;
    for (; i >= 0; i--) {
        int64_t end = to < h->windows[i].to ? to : h->windows[i].to;
        if (end - h->windows[i].from >= work) return end - work;
    }
    return INT64_MIN;
}

int64_t hours_closing(const struct hours *h, int64_t t) {
    int i = hours_window(h, t - 1); /* the first that ends at t or later */
    return i ? h->windows[i - 1].to : INT64_MIN;
}

int64_t hours_longest(const struct hours *h) {
    int64_t longest = 0;
    for (int i = 0; i < h->n; i++)
        if (h->windows[i].to - h->windows[i].from > longest)
            longest = h->windows[i].to - h->windows[i].from;
    return longest;
}
