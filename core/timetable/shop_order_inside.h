/* The inside of shop_order.h, for its own files. */
#ifndef CORE_TIMETABLE_SHOP_ORDER_INSIDE_H
#define CORE_TIMETABLE_SHOP_ORDER_INSIDE_H

#include "core/timetable/shop_order.h"
#include "core/timetable/shop_order_room.h"

enum {
    STRIDE = 8,               /* places in the order from one kept state to the next */
    AHEAD = 6,                /* a tool is left wet for one of its row so near in the order */
    WITHIN = 12,              /* a task goes on with one of its row so near before it */
    HORIZON_MOST = 90 * 1440, /* minutes */
    TABLES_MOST = 12,         /* of drying times; others are reckoned each time */
    NEAR_SHIFT = 6,           /* windows are looked up by 64 minutes */
};

/* A lag to a task, or a drying time, with the tables that say how long its minimum and its maximum
 * take. */
struct order_lag {
    const struct timetable_lag *lag;
    int from, table, max_table; /* tables TIMETABLE_NONE: reckon */
    bool minimum, from_start;
};

/* A hold that a task opens, ends, or both. */
struct order_hold {
    int hold, resource, last;
    bool opens, ends;
    int64_t amount;
    struct order_lag until; /* lag NULL: until the end of the work */
};

/* What is needed of a task each time it is put, side by side. */
struct order_task {
    int64_t earliest, due, work;
    int64_t setup, cleanup, keep_wet; /* minutes; 0 without a row */
    double late, room; /* energy of a minute late, of a working minute at the start */
    int row;           /* of setups; TIMETABLE_NONE */
    int lag, lag_past, hold, hold_past;
    uint32_t people;              /* bits of those who may */
    bool pausable, clock, maxima; /* clock: takes nobody's time */
};

/* State between two tasks of an order: person_state of each person, then wet_state of each person
 * and row of set-ups, then room_state of each resource, in one block so that two can be compared.
 */
struct person_state {
    int64_t free;    /* works until then */
    int64_t pending; /* row of set-ups that is to be cleaned up before others; TIMETABLE_NONE */
};
struct wet_state { /* the last task of this person and row */
    int64_t end;   /* INT64_MIN: none */
    int64_t task;
};

struct order_inside {
    const struct shop *s;
    struct order_weights weights;
    int64_t now, horizon;
    int32_t *worked;             /* [horizon - now] of all, since now */
    int32_t *dries[TABLES_MOST]; /* [horizon - now] minutes, begun then */
    struct {
        int climate;
        int64_t minutes;
    } dries_as[TABLES_MOST];
    int tables_n;
    struct order_task *tasks; /* [tasks_n] */
    struct order_lag *lags;   /* minima and maxima to each task */
    struct order_hold *holds;
    int *before_first, *before; /* [tasks_n + 1]; tasks that must come earlier in the order */
    double per_beyond, per_mean_end;
    int64_t *latest;                 /* [tasks_n] working minutes since now */
    struct timetable_span **windows; /* [persons_n] without what is fixed in them */
    int *windows_n;
    uint16_t **near; /* [persons_n][horizon >> NEAR_SHIFT] first window that ends after */
    size_t state_size, wet_at, room_at;
    char *first, *state;                /* before all tasks; the one in hand */
    char *kept, *tried;                 /* every STRIDE tasks, of what stands and of a try */
    double *kept_energy, *tried_energy; /* of all before */
    struct order_place *place_was;      /* [n] in the order of a try */
    int *task_was;                      /* [n] */
    int *given, *stack;                 /* [n] for order_mend */
    bool *mended;                       /* [tasks_n] */
};

static inline struct person_state *persons_of(char *state) {
    return (struct person_state *)state;
}
static inline struct wet_state *wet_of(const struct order_inside *x, char *state, int q, int row) {
    return (struct wet_state *)(state + x->wet_at) + q * x->s->p->setups_n + row;
}
static inline struct room_state *room_of(const struct order_inside *x, char *state, int resource) {
    return (struct room_state *)(state + x->room_at) + resource;
}

/* Until when a hold lasts whose last task stands there. */
int64_t order_hold_until(const struct order_inside *x, const struct order_hold *h,
                         const struct order_place *last);

/* Puts task i, k-th of the order, into the state in hand; what it adds to the energy, INFINITY: no
 * place by the horizon. */
double order_put(struct order *o, int k, int i);

#endif
