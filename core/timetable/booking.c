#include "core/timetable/booking.h"

#include <string.h>

bool diary_make(struct diary *d, int room, struct arena *arena) {
    *d = (struct diary){arena_array(arena, (size_t)room + 1, sizeof *d->blocks), 0, room};
    return d->blocks != NULL;
}

void diary_add(struct diary *d, int64_t from, int64_t to, int task) {
    int i = d->n++;
    for (; i > 0 && d->blocks[i - 1].from > from; i--) d->blocks[i] = d->blocks[i - 1];
    d->blocks[i] = (struct diary_block){from, to, task};
}

/* First block that ends after t. */
static int diary_after(const struct diary *d, int64_t t) {
    int lo = 0, hi = d->n;
    while (lo < hi) {
        int mid = lo + (hi - lo) / 2;
        if (d->blocks[mid].to > t)
            hi = mid;
        else
            lo = mid + 1;
    }
    return lo;
}

const struct diary_block *diary_clash(const struct diary *d, int64_t from, int64_t to, int but) {
    for (int i = diary_after(d, from); i < d->n && d->blocks[i].from < to; i++)
        if (d->blocks[i].task != but && d->blocks[i].to > from) return &d->blocks[i];
    return NULL;
}

int64_t diary_gap(const struct diary *d, int64_t from, int64_t length, int but) {
    for (int i = diary_after(d, from); i < d->n && d->blocks[i].from - from < length; i++)
        if (d->blocks[i].task != but && d->blocks[i].to > from) from = d->blocks[i].to;
    return from;
}

void diary_end_at(struct diary *d, int64_t from, int64_t to) {
    int i = diary_after(d, from);
    if (i == d->n || d->blocks[i].from != from) return;
    d->blocks[i].to = to;
    if (from < to) return;
    memmove(&d->blocks[i], &d->blocks[i + 1], (size_t)(d->n - i - 1) * sizeof *d->blocks);
    d->n--;
}

void diary_fill(struct diary *d, int64_t from, int64_t to, int task) {
    for (const struct diary_block *c; (c = diary_clash(d, from, to, -1));) {
        int64_t gap_to = c->from, next = c->to;
        if (from < gap_to) diary_add(d, from, gap_to, task);
        from = next;
    }
    if (from < to) diary_add(d, from, to, task);
}

bool level_make(struct level *l, int holds, const struct timetable_resource *of,
                struct arena *arena) {
    enum { CHANGES = 4 /* of a hold */ };
    int empty_n = 2 * of->shut_n + 1, room = empty_n + CHANGES * holds + 1;
    struct level_step *empty = arena_array(arena, (size_t)empty_n, sizeof *empty);
    struct level_step *steps = arena_array(arena, (size_t)room, sizeof *steps);
    if (!empty || !steps) return false;
    empty[0] = (struct level_step){INT64_MIN, 0};
    for (int k = 0; k < of->shut_n; k++) {
        empty[2 * k + 1] = (struct level_step){of->shut[k].from, of->capacity};
        empty[2 * k + 2] = (struct level_step){of->shut[k].to, 0};
    }
    *l = (struct level){steps, 0, room, empty, empty_n, of->capacity};
    level_clear(l);
    return true;
}

void level_clear(struct level *l) {
    memcpy(l->steps, l->empty, (size_t)l->empty_n * sizeof *l->steps);
    l->n = l->empty_n;
}

int level_step_at(const struct level *l, int64_t t) {
    int lo = 0, hi = l->n;
    while (hi - lo > 1) {
        int mid = lo + (hi - lo) / 2;
        if (l->steps[mid].at <= t)
            lo = mid;
        else
            hi = mid;
    }
    return lo;
}

int64_t level_last_change(const struct level *l) {
    return l->steps[l->n - 1].at;
}

/* A step begins at t; returns it. */
static int split(struct level *l, int64_t t) {
    int i = level_step_at(l, t);
    if (l->steps[i].at == t) return i;
    memmove(&l->steps[i + 2], &l->steps[i + 1], (size_t)(l->n - i - 1) * sizeof *l->steps);
    l->n++;
    l->steps[i + 1] = (struct level_step){t, l->steps[i].level};
    return i + 1;
}

/* Joins step i with the one before it when nothing changes between them. */
static void join(struct level *l, int i) {
    if (i <= 0 || i >= l->n || l->steps[i].level != l->steps[i - 1].level) return;
    memmove(&l->steps[i], &l->steps[i + 1], (size_t)(l->n - i - 1) * sizeof *l->steps);
    l->n--;
}

void level_add(struct level *l, int64_t from, int64_t to, int64_t amount) {
    if (from >= to || !amount) return;
    int first = split(l, from), past = to == BOOKING_FOREVER ? l->n : split(l, to);
    for (int i = first; i < past; i++) l->steps[i].level += amount;
    join(l, past);
    join(l, first);
}

int64_t level_free(const struct level *l, int64_t from, int64_t to, int64_t amount) {
    int64_t free = from;
    for (int i = level_step_at(l, from); i < l->n && l->steps[i].at < to; i++)
        if (l->steps[i].level + amount > l->capacity)
            free = i + 1 < l->n ? l->steps[i + 1].at : BOOKING_FOREVER;
    return free;
}
