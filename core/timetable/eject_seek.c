/* One task looks for a place: around where it stood, as far as that can still be cheapest. */
#include "core/timetable/deadline.h"
#include "core/timetable/eject_inside.h"

#include <math.h>
#include <string.h>

/* What moving a task costs: 1 for one due now and FAR_COSTS for one far off, more by the hours; and
 * for one with a promised date besides. */
static const double FAR_COSTS = .3, HOURS_COST = .25, PROMISE_COSTS = 10;
static const double WAIT_COST = .05;   /* of a new task, by the hours */
static const double HANDS_COST = .002; /* of a minute of set-up, clean-up or scuff */
static const double SOFT_MIN = 720;    /* minutes in which the cost of being late-ish doubles */
enum { AFTER = 4, EMPTY_DAYS = 3 };

/* log2 of 1 + hours, straight between whole doublings. */
static double doublings(double minutes) {
    double x = 1 + minutes / 60;
    int64_t bits;
    memcpy(&bits, &x, sizeof bits);
    return (double)(bits - ((int64_t)1023 << 52)) * 0x1p-52;
}

double move_cost(const struct timetable_problem *p, int i, const struct timetable_place *was,
                 int64_t start, int person) {
    double by = (double)(start - was->start);
    if (by == 0 && person == was->person) return 0;
    double days = (double)(was->start - p->now) / 1440;
    double near = FAR_COSTS + (1 - FAR_COSTS) / (1 + (days > 0 ? days : 0));
    double cost = near * (1 + HOURS_COST * doublings(fabs(by)));
    return p->tasks[i].due == TIMETABLE_UNSAID ? cost : cost + PROMISE_COSTS;
}

struct seeking {
    struct eject *e;
    struct bid best;
    double cost; /* of the best */
    int task;
    int64_t earliest, from; /* looked around from here */
    int64_t last;           /* looked at */
    int after_n;            /* what comes after, and gives way to one that starts later than that */
    struct {
        int64_t start;
        double price;
    } after[AFTER];
};

static double own_cost(const struct seeking *k, int64_t start, int q) {
    const struct eject *e = k->e;
    const struct timetable_place *was = e->old.was[k->task];
    double cost = was ? e->old.weight[k->task] * move_cost(e->shop->p, k->task, was, start, q)
                      : WAIT_COST * doublings((double)(start - k->earliest));
    if (start <= e->wanted[k->task]) return cost;
    cost += e->soft_cost * (1 + (double)(start - e->wanted[k->task]) / SOFT_MIN);
    if (start <= e->latest[k->task]) return cost;
    return cost + EJECT_LATE_COST +
           EJECT_LATE_HOUR_COST * (double)(start - e->latest[k->task]) / 60;
}

/* With what comes after it and must move then; own: the task's part. */
static double least_cost(const struct seeking *k, int64_t start, double own) {
    double sum = own;
    for (int n = 0; n < k->after_n; n++)
        if (start > k->after[n].start) sum += k->after[n].price;
    return sum;
}

static void look_after(struct seeking *k) {
    const struct shop *s = k->e->shop;
    int i = k->task, first = s->lags_out.first[i];
    for (int m = first; m < s->lags_out.first[i + 1] && k->after_n < AFTER; m++) {
        const struct timetable_lag *l = &s->p->lags[s->lags_out.item[m]];
        const struct stand *to = &k->e->now.stand[l->to];
        bool seen = false; /* two lags to one task cost once */
        for (int n = first; n < m; n++) seen |= s->p->lags[s->lags_out.item[n]].to == l->to;
        if (l->min_min == TIMETABLE_UNSAID || !to->placed || seen) continue;
        int64_t base = drying_before(lag_drying(s, l), to->start, l->min_min);
        k->after[k->after_n].start = l->from_start ? base : base - s->p->tasks[i].work_min;
        k->after[k->after_n++].price = k->e->price[l->to];
    }
}

/* Can one at `start`, or farther off on that side, still be cheaper? */
static bool hopeful(const struct seeking *k, int64_t start, int q) {
    double own = own_cost(k, start, q);
    return (start > k->from ? least_cost(k, start, own) : own) < k->cost;
}

/* false: from here on none is cheaper. */
static bool consider(struct seeking *k, int q, int64_t start) {
    struct eject *e = k->e;
    struct bid b;
    if (start < k->earliest || start == k->last || start == e->banned) return true;
    k->last = start;
    double own = own_cost(k, start, q);
    if (least_cost(k, start, own) >= k->cost) return start <= k->from && own < k->cost;
    e->places++;
    if (!standing_bid(&e->now, k->task, q, start, e->price, k->cost - own, &b)) return true;
    double cost = own + b.cost + HANDS_COST * (b.at.setup_min + b.at.cleanup_min + b.at.scuff_min);
    if (e->noise > 0) cost *= 1 + e->noise * random_unit(e->random);
    if (cost < k->cost) k->best = b, k->cost = cost;
    return true;
}

/* With hands from t on: with a tool that is wet, or with a set-up of its own. */
static bool consider_from(struct seeking *k, int q, int64_t t) {
    const struct standing *s = &k->e->now;
    const struct timetable_task *i = &s->shop->p->tasks[k->task];
    const struct hours *h = &s->shop->hours[q];
    const struct timetable_setup *row = standing_row(s, k->task);
    int32_t setup = row ? row->setup_min : 0;
    if (row && row->keep_wet_min) {
        int64_t start = hours_begin(h, t, i->work_min, i->pausable);
        if (standing_wet(s, k->task, q, start) != TIMETABLE_NONE) return consider(k, q, start);
    }
    int64_t begin = hours_begin(h, t, setup + i->work_min, i->pausable);
    if (begin == INT64_MAX) return false;
    return consider(k, q, setup ? hours_begin(h, hours_end(h, begin, setup), 1, true) : begin);
}

/* In the place of a block, before and behind one of the same set-up, and in the gap behind it. */
static bool consider_block(struct seeking *k, int q, const struct diary *d, int at) {
    const struct standing *s = &k->e->now;
    const struct diary_block *b = &d->blocks[at];
    const struct timetable_task *i = &s->shop->p->tasks[k->task];
    bool more;
    if (i->setup >= 0 && s->shop->p->tasks[b->task].setup == i->setup) {
        const struct stand *x = &s->stand[b->task];
        int64_t start = hours_latest(&s->shop->hours[q], x->start, i->work_min, i->pausable);
        if (start != INT64_MIN) consider(k, q, start);
        more = consider(k, q, x->end);
    } else if (k->e->price[b->task] < k->cost) {
        more = consider_from(k, q, b->from);
    } else {
        more = hopeful(k, b->from, q);
    }
    if (at + 1 == d->n || d->blocks[at + 1].from > b->to) more &= consider_from(k, q, b->to);
    return more;
}

/* Moments at which room comes free. */
static void consider_room(struct seeking *k, int q) {
    const struct standing *s = &k->e->now;
    const struct shop_list *at = &s->shop->holds_at;
    for (int m = at->first[k->task]; m < at->first[k->task + 1]; m++) {
        const struct timetable_hold *h = &s->shop->p->holds[at->item[m] / 2];
        const struct level *l = &s->levels[h->resource];
        bool more = h->first == k->task;
        for (int n = 1; n < l->n && more; n++) {
            int64_t t = l->steps[n].at;
            if (t < k->from || l->steps[n].level >= l->steps[n - 1].level) continue;
            more = q == TIMETABLE_NOBODY ? consider(k, q, t) : consider_from(k, q, t);
        }
    }
}

static void consider_person(struct seeking *k, int q) {
    const struct diary *d = &k->e->now.diaries[q];
    const struct hours *h = &k->e->shop->hours[q];
    consider_from(k, q, k->from);
    consider_from(k, q, k->earliest);
    int w = hours_window(h, k->from) + 1; /* days on which nothing stands yet */
    for (int n = 0; n < EMPTY_DAYS && w + n < h->n; n++)
        consider_from(k, q, h->windows[w + n].from);
    int first = standing_block(d, k->from);
    if (first > 0 && d->blocks[first - 1].to > k->from) first--;
    bool more = true;
    for (int b = first; b < d->n && more; b++) more = consider_block(k, q, d, b);
    more = true;
    for (int b = first; b-- > 0 && more && d->blocks[b].to > k->earliest;)
        more = consider_block(k, q, d, b);
    consider_room(k, q);
}

double eject_seek(struct eject *e, int i, struct bid *out) {
    const struct timetable_problem *p = e->shop->p;
    const struct timetable_task *t = &p->tasks[i];
    const struct timetable_place *was = e->old.was[i];
    struct seeking k = {.e = e, .cost = EJECT_DEAREST, .task = i, .last = INT64_MIN};
    k.earliest = standing_earliest(&e->now, i);
    k.from = was && was->start > k.earliest ? was->start : k.earliest;
    look_after(&k);
    if (t->person == TIMETABLE_NOBODY || !t->work_min) {
        consider(&k, TIMETABLE_NOBODY, k.from);
        consider(&k, TIMETABLE_NOBODY, k.earliest);
        consider_room(&k, TIMETABLE_NOBODY);
    }
    if (was && was->person >= 0 && was->person < p->persons_n && shop_may(p, i, was->person))
        consider(&k, was->person, k.from);
    for (int q = 0; q < p->persons_n && k.cost > 0 && t->person != TIMETABLE_NOBODY; q++)
        if (shop_may(p, i, q)) consider_person(&k, q);
    *out = k.best;
    return k.cost;
}

/* ---- promises ---- */

/* Latest starts by minimum lags and hours, and by how much all may shift together. */
void eject_promises(struct eject *e) {
    const struct timetable_problem *p = e->shop->p;
    for (int i = 0; i < p->tasks_n; i++) {
        const struct timetable_place *was = e->old.was[i];
        int64_t due = p->tasks[i].due;
        e->latest[i] = e->room[i] = INT64_MAX;
        if (due == TIMETABLE_UNSAID || !p->tasks[i].weight) continue;
        e->room[i] = was && was->end < due ? due - was->end : 0;
        int64_t start = start_before(e->shop, i, was && was->end > due ? was->end : due);
        e->latest[i] = start < p->now ? p->now - 1 : start; /* never */
    }
    bool moved = true;
    for (int round = 0; moved && round < 60; round++) {
        moved = false;
        for (int k = p->lags_n; k-- > 0;) {
            const struct timetable_lag *l = &p->lags[k];
            if (l->min_min == TIMETABLE_UNSAID || e->latest[l->to] == INT64_MAX ||
                !shop_open(e->shop, l->from))
                continue;
            int64_t end = drying_before(lag_drying(e->shop, l), e->latest[l->to], l->min_min);
            int64_t start = l->from_start ? end : start_before(e->shop, l->from, end);
            if (start < p->now) start = p->now - 1;
            if (start < e->latest[l->from]) e->latest[l->from] = start, moved = true;
            if (e->room[l->to] < e->room[l->from]) e->room[l->from] = e->room[l->to], moved = true;
        }
    }
}

void eject_want(struct eject *e, double ease) {
    for (int i = 0; i < e->shop->p->tasks_n; i++) {
        const struct timetable_place *was = e->old.was[i];
        e->wanted[i] = e->latest[i];
        if (!was || e->room[i] == INT64_MAX) continue;
        int64_t shifted = was->start + e->room[i];
        if (shifted < e->latest[i])
            e->wanted[i] = shifted + (int64_t)(ease * (double)(e->latest[i] - shifted));
    }
}
