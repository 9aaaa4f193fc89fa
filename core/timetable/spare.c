#include "core/timetable/spare.h"

#include <string.h>

bool spare_make(struct spare *s, const struct hours *hours, int taken, struct arena *arena) {
    size_t room = (size_t)(hours->n + taken) + 2;
    *s = (struct spare){.hours = hours, .pieces = arena_array(arena, room, sizeof *s->pieces)};
    return s->pieces != NULL;
}

void spare_clear(struct spare *s, int64_t now) {
    s->n = 0;
    s->past = hours_window(s->hours, now);
}

static struct spare_piece window_piece(const struct spare *s, int window) {
    const struct timetable_span *w = &s->hours->windows[window];
    return (struct spare_piece){w->from, w->to, window};
}

static void insert(struct spare *s, int at, struct spare_piece piece) {
    memmove(&s->pieces[at + 1], &s->pieces[at], (size_t)(s->n - at) * sizeof *s->pieces);
    s->pieces[at] = piece;
    s->n++;
}

static void drop(struct spare *s, int at) {
    s->n--;
    memmove(&s->pieces[at], &s->pieces[at + 1], (size_t)(s->n - at) * sizeof *s->pieces);
}

/* One more window has pieces of its own; false: there is none. */
static bool extend(struct spare *s) {
    if (s->past == s->hours->n) return false;
    s->pieces[s->n++] = window_piece(s, s->past++);
    return true;
}

/* Windows that begin before t have pieces of their own. */
static void extend_to(struct spare *s, int64_t t) {
    while (s->past < s->hours->n && s->hours->windows[s->past].from < t) extend(s);
}

/* First piece that ends after t; n: none. */
static int piece_at(const struct spare *s, int64_t t) {
    int lo = 0, hi = s->n;
    while (lo < hi) {
        int mid = lo + (hi - lo) / 2;
        if (s->pieces[mid].to > t)
            hi = mid;
        else
            lo = mid + 1;
    }
    return lo;
}

void spare_take(struct spare *s, int64_t from, int64_t to) {
    extend_to(s, to);
    for (int i = piece_at(s, from); i < s->n && s->pieces[i].from < to;) {
        struct spare_piece *p = &s->pieces[i], rest = *p;
        if (p->from < from && p->to > to) { /* what is left lies on both sides */
            p->to = from;
            rest.from = to;
            insert(s, i + 1, rest);
            return;
        }
        if (p->from < from)
            p->to = from, i++;
        else if (p->to > to)
            p->from = to, i++;
        else
            drop(s, i);
    }
}

/* [from, to) of one window is free again. */
static void give_in(struct spare *s, int64_t from, int64_t to, int window) {
    int i = piece_at(s, from);
    bool before = i > 0 && s->pieces[i - 1].to == from && s->pieces[i - 1].window == window;
    bool after = i < s->n && s->pieces[i].from == to && s->pieces[i].window == window;
    if (before && after) {
        s->pieces[i - 1].to = s->pieces[i].to;
        drop(s, i);
    } else if (before) {
        s->pieces[i - 1].to = to;
    } else if (after) {
        s->pieces[i].from = from;
    } else {
        insert(s, i, (struct spare_piece){from, to, window});
    }
}

void spare_give(struct spare *s, int64_t from, int64_t to) {
    for (int w = hours_window(s->hours, from); w < s->past && s->hours->windows[w].from < to; w++) {
        const struct timetable_span *window = &s->hours->windows[w];
        give_in(s, from > window->from ? from : window->from, to < window->to ? to : window->to, w);
    }
}

/* Is piece i + 1 where work goes on after piece i? */
static bool goes_on(const struct spare *s, int i) {
    const struct spare_piece *a = &s->pieces[i], *b = a + 1;
    return b->window == a->window + 1 && a->to == s->hours->windows[a->window].to &&
           b->from == s->hours->windows[b->window].from;
}

bool spare_fit(struct spare *s, int64_t from, int64_t work, bool pausable, struct spare_fit *out) {
    extend_to(s, from + 1);
    for (int i = piece_at(s, from);; i++) {
        if (i == s->n && !extend(s)) return false;
        int64_t begin = from > s->pieces[i].from ? from : s->pieces[i].from;
        int64_t left = work - (s->pieces[i].to - begin), to = begin + work;
        int last = i;
        while (left > 0 && pausable) {
            if (last + 1 == s->n && !extend(s)) return false;
            if (!goes_on(s, last)) break;
            last++;
            to = s->pieces[last].from + left;
            left -= s->pieces[last].to - s->pieces[last].from;
        }
        if (left <= 0) {
            *out = (struct spare_fit){begin, to, s->pieces[i].to};
            return true;
        }
        i = last;
    }
}
