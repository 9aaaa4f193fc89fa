/* What is free of a resource while tasks are put one after the other: parts, each from some moment
 * on. */
#ifndef CORE_TIMETABLE_SHOP_ORDER_ROOM_H
#define CORE_TIMETABLE_SHOP_ORDER_ROOM_H

#include <stdint.h>
#include <string.h>

enum { PARTS_MOST = 24 }; /* that become free at different times */
#define ROOM_NEVER INT64_MAX

struct room_part { /* so much is free from then on */
    int64_t from;  /* ROOM_NEVER: until `hold` has ended */
    int64_t amount, hold;
};
struct room_state {
    int64_t n;
    struct room_part part[PARTS_MOST]; /* by from; zero beyond n */
};

/* Earliest moment from `t` with so much free; ROOM_NEVER: not before a hold has ended. */
static inline int64_t room_from(const struct room_state *r, int64_t t, int64_t amount) {
    for (int k = 0; k < r->n; k++) {
        if (amount <= 0) break;
        if (r->part[k].from > t) t = r->part[k].from;
        amount -= r->part[k].amount;
    }
    return amount > 0 ? ROOM_NEVER : t;
}

static inline void part_remove(struct room_state *r, int k) {
    r->n--;
    memmove(&r->part[k], &r->part[k + 1], (size_t)(r->n - k) * sizeof *r->part);
    r->part[r->n] = (struct room_part){0, 0, 0};
}

static inline void part_add(struct room_state *r, struct room_part part) {
    if (r->n == PARTS_MOST) { /* the two that are free first count as free with the later one */
        r->part[1].amount += r->part[0].amount;
        part_remove(r, 0);
    }
    int k = (int)r->n++;
    for (; k > 0 && r->part[k - 1].from > part.from; k--) r->part[k] = r->part[k - 1];
    r->part[k] = part;
}

/* Takes what was free last before t. */
static inline void room_take(struct room_state *r, int64_t t, struct room_part part) {
    int64_t left = part.amount;
    for (int k = (int)r->n; k-- > 0 && left > 0;) {
        struct room_part *at = &r->part[k];
        if (at->from > t) continue;
        int64_t taken = at->amount < left ? at->amount : left;
        at->amount -= taken;
        left -= taken;
        if (!at->amount) part_remove(r, k);
    }
    part.amount -= left; /* what is fixed may overlap */
    if (part.amount > 0) part_add(r, part);
}

static inline void room_end(struct room_state *r, int64_t hold, int64_t until) {
    for (int k = (int)r->n; k-- > 0;) {
        if (r->part[k].from != ROOM_NEVER || r->part[k].hold != hold) continue;
        struct room_part part = {until, r->part[k].amount, 0};
        part_remove(r, k);
        part_add(r, part);
    }
}

#endif
