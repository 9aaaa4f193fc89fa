#include "core/timetable/cumulative.h"

#include <string.h>

struct profile {
    int32_t from, to, most; /* where something must run, and how much at most */
};

/* Sums up the parts that must run. */
static struct profile profile_make(const struct learn *e, struct cumulative *c) {
    struct profile p = {INT32_MAX, INT32_MIN, 0};
    for (int i = 0; i < c->tasks_n; i++) {
        const struct cumulative_task *t = &c->tasks[i];
        int32_t from = learn_high(e, t->var), to = learn_low(e, t->var) + t->duration;
        if (from >= to) continue;
        if (from < p.from) p.from = from;
        if (to > p.to) p.to = to;
        c->height[from - c->origin] += t->use;
        c->height[to - c->origin] -= t->use;
    }
    int32_t sum = 0;
    for (int32_t t = p.from; t < p.to; t++) {
        sum += c->height[t - c->origin];
        c->height[t - c->origin] = sum;
        if (sum > p.most) p.most = sum;
    }
    return p;
}

static void profile_clear(struct cumulative *c, const struct profile *p) {
    if (p->from < p->to)
        memset(&c->height[p->from - c->origin], 0,
               (size_t)(p->to - p->from + 1) * sizeof *c->height);
}

/* Event since which a task must run at t; -1: from the start. */
static int32_t held_since(const struct learn *e, const struct cumulative *c, int i, int32_t t) {
    const struct cumulative_task *k = &c->tasks[i];
    int32_t begun = learn_event_of(e, at_most(k->var, t));
    int32_t not_over = learn_event_of(e, at_least(k->var, t + 1 - k->duration));
    return begun > not_over ? begun : not_over;
}

/* What has come to run at t last goes first: a reason leaves out what it can from the front, so
 * that it speaks of older levels. */
static void newest_first(const struct learn *e, const struct cumulative *c, int32_t t, int n) {
    for (int m = 1; m < n; m++) {
        int x = c->covering[m], j = m;
        for (; j > 0 && held_since(e, c, c->covering[j - 1], t) < held_since(e, c, x, t); j--)
            c->covering[j] = c->covering[j - 1];
        c->covering[j] = x;
    }
}

/* Names tasks that must run at t and together take more than `room`, but not `but`. */
static void because_at(struct learn *e, const struct cumulative *c, int32_t t, int but,
                       int32_t room) {
    int n = 0;
    int64_t spare = -(int64_t)room - 1;
    for (int i = 0; i < c->tasks_n; i++) {
        const struct cumulative_task *k = &c->tasks[i];
        if (i == but || learn_high(e, k->var) > t || learn_low(e, k->var) + k->duration <= t)
            continue;
        c->covering[n++] = i;
        spare += k->use;
    }
    newest_first(e, c, t, n);
    for (int m = 0; m < n; m++) {
        const struct cumulative_task *k = &c->tasks[c->covering[m]];
        if (k->use <= spare) {
            spare -= k->use;
            continue;
        }
        learn_and(e, at_least(k->var, t + 1 - k->duration));
        learn_and(e, at_most(k->var, t));
    }
}

static int32_t height_at(const struct cumulative *c, const struct profile *p, int32_t t) {
    return t >= p->from && t < p->to ? c->height[t - c->origin] : 0;
}

static bool raise_low(struct learn *e, struct cumulative *c, const struct profile *p, int i) {
    const struct cumulative_task *k = &c->tasks[i];
    int32_t low = learn_low(e, k->var), high = learn_high(e, k->var);
    int32_t from = low, t = (low + k->duration < high ? low + k->duration : high) - 1;
    if (t >= p->to) t = p->to - 1;
    while (t >= from && t >= p->from) {
        if (height_at(c, p, t) + k->use <= c->capacity) {
            t--;
            continue;
        }
        learn_because(e);
        learn_and(e, at_least(k->var, t + 1 - k->duration));
        because_at(e, c, t, i, c->capacity - k->use);
        if (!learn_set(e, at_least(k->var, t + 1))) return false;
        from = t + 1;
        t = (from + k->duration < high ? from + k->duration : high) - 1;
        if (t >= p->to) t = p->to - 1;
    }
    return true;
}

static bool lower_high(struct learn *e, struct cumulative *c, const struct profile *p, int i) {
    const struct cumulative_task *k = &c->tasks[i];
    int32_t end = learn_low(e, k->var) + k->duration, high = learn_high(e, k->var);
    int32_t t = end > high ? end : high, past = high + k->duration;
    if (t < p->from) t = p->from;
    while (t < past && t < p->to) {
        if (height_at(c, p, t) + k->use <= c->capacity) {
            t++;
            continue;
        }
        learn_because(e);
        learn_and(e, at_most(k->var, t));
        because_at(e, c, t, i, c->capacity - k->use);
        if (!learn_set(e, at_most(k->var, t - k->duration))) return false;
        past = t;
        t = end > t - k->duration ? end : t - k->duration;
        if (t < p->from) t = p->from;
    }
    return true;
}

static bool filter(struct learn *e, struct cumulative *c, const struct profile *p) {
    if (p->most > c->capacity) {
        int32_t t = p->from;
        while (height_at(c, p, t) <= c->capacity) t++;
        learn_because(e);
        because_at(e, c, t, -1, c->capacity);
        return learn_fail(e);
    }
    for (int i = 0; i < c->tasks_n; i++) {
        const struct cumulative_task *k = &c->tasks[i];
        if (p->most + k->use <= c->capacity || learn_low(e, k->var) == learn_high(e, k->var))
            continue;
        if (!raise_low(e, c, p, i) || !lower_high(e, c, p, i)) return false;
    }
    return true;
}

bool cumulative_run(struct learn *e, void *ctx) {
    struct cumulative *c = ctx;
    struct profile p = profile_make(e, c);
    bool ok = filter(e, c, &p);
    profile_clear(c, &p);
    return ok;
}
