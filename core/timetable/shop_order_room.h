/* What is free of a resource while tasks are put one after the other: parts, each from some moment
 * on. */
#ifndef CORE_TIMETABLE_SHOP_ORDER_ROOM_H
#define CORE_TIMETABLE_SHOP_ORDER_ROOM_H

#include <stdint.h>

enum {
    PARTS_MOST = 24,      /* that become free at different times */
    ROOM_NEVER = 1 << 30, /* + hold: until that hold has ended */
};

struct room_part { /* so much is free from then on */
    int32_t from, amount;
};
struct room_state {
    int32_t n, most;         /* no more than `most` parts ever: what there is, one by one */
    struct room_part part[]; /* [most] by from; zero beyond n, so that two can be compared */
};

/* Earliest moment from `t` with so much free; ROOM_NEVER or more: not before a hold has ended. */
static inline int32_t room_from(const struct room_state *r, int32_t t, int32_t amount) {
    for (int k = 0; k < r->n && amount > 0; k++) {
        if (r->part[k].from > t) t = r->part[k].from;
        amount -= r->part[k].amount;
    }
    return amount > 0 ? ROOM_NEVER : t;
}

static inline void part_remove(struct room_state *r, int k) {
    r->n--;
    for (; k < r->n; k++) r->part[k] = r->part[k + 1];
    r->part[k] = (struct room_part){0, 0};
}

static inline void part_add(struct room_state *r, struct room_part part) {
    if (r->n == r->most) { /* the two that are free first count as free with the later one */
        r->part[1].amount += r->part[0].amount;
        part_remove(r, 0);
    }
    int k = r->n++;
    for (; k > 0 && r->part[k - 1].from > part.from; k--) r->part[k] = r->part[k - 1];
    r->part[k] = part;
}

/* Takes what was free last before t. */
static inline void room_take(struct room_state *r, int32_t t, struct room_part part) {
    int32_t left = part.amount;
    for (int k = r->n; k-- > 0 && left > 0;) {
        struct room_part *at = &r->part[k];
        if (at->from > t) continue;
        int32_t taken = at->amount < left ? at->amount : left;
        at->amount -= taken;
        left -= taken;
        if (!at->amount) part_remove(r, k);
    }
    part.amount -= left; /* what is fixed may overlap */
    if (part.amount > 0) part_add(r, part);
}

static inline void room_end(struct room_state *r, int hold, int32_t until) {
    for (int k = r->n; k-- > 0;) {
        if (r->part[k].from != ROOM_NEVER + hold) continue;
        struct room_part part = {until, r->part[k].amount};
        part_remove(r, k);
        part_add(r, part);
        return;
    }
}

#endif
