#include "core/timetable/eject.h"

#include "core/timetable/deadline.h"
#include "core/timetable/eject_inside.h"

#include <math.h>
#include <string.h>

enum {
    APPRAISED = 250, /* tasks whose price is estimated */
    EPOCH = 10000,   /* places after which what was learned is forgotten */
    PUTS = 300,      /* in one trial */
    PUTS_AGAIN = 30, /* to mend what was put back or taken out */
    DEPTH = 12,      /* tasks before one that are put back with it */
    OUT = 6,         /* tasks that are taken out at most */
    STUBBORN = 8,    /* times harder to eject when it was put back */
};
static const double LEARN = .4;       /* share of what was found that is believed */
static const double MOVED_PRICE = .4; /* of one that has moved already */
static const double UNKNOWN_PRICE = 3;
static const double HOPE = .6; /* of what loose tasks are thought to cost, they do at least */
static const double TRIAL_NOISE = .2, MEND_NOISE = .3, HEAT = 1, SOFT_COST = 10;
static const double EASE = .6;   /* most ease with promises while they cost softly */
static const double TRIALS = .6; /* share of the places */
static const double MOST = 1000; /* price of a task */
static const double ANYTHING = 1e17;

struct eject *eject_make(const struct shop *shop, struct eject_old old, struct arena *arena) {
    size_t n = (size_t)shop->p->tasks_n + 1;
    struct eject *e = arena_array(arena, 1, sizeof *e);
    if (!e) return NULL;
    *e = (struct eject){.shop = shop, .old = old, .banned = INT64_MIN};
    e->price = arena_array(arena, n, sizeof *e->price);
    e->worth = arena_array(arena, n, sizeof *e->worth);
    e->worth0 = arena_array(arena, n, sizeof *e->worth0);
    e->hard = arena_array(arena, n, sizeof *e->hard);
    e->room = arena_array(arena, n, sizeof *e->room);
    e->latest = arena_array(arena, n, sizeof *e->latest);
    e->wanted = arena_array(arena, n, sizeof *e->wanted);
    e->order = arena_array(arena, n, sizeof *e->order);
    bool made = e->price && e->worth && e->worth0 && e->hard && e->room && e->latest && e->wanted &&
                e->order && standing_make(&e->now, shop, arena) &&
                standing_make(&e->base, shop, arena) && standing_make(&e->current, shop, arena) &&
                standing_make(&e->best, shop, arena);
    return made ? e : NULL;
}

/* ---- what it costs ---- */

static bool has_moved(const struct eject *e, int i) {
    const struct timetable_place *was = e->old.was[i];
    const struct stand *x = &e->now.stand[i];
    return !was || !x->placed || x->start != was->start || x->person != was->person;
}

static void price_again(struct eject *e, int i) {
    e->price[i] = e->worth[i] * (1 + e->hard[i]) * (has_moved(e, i) ? MOVED_PRICE : 1);
}

static void calm(struct eject *e) {
    for (int i = 0; i < e->shop->p->tasks_n; i++) e->hard[i] = 0, price_again(e, i);
}

static double moved_by(const struct eject *e) {
    double sum = 0;
    for (int i = 0; i < e->shop->p->tasks_n; i++) {
        const struct stand *x = &e->now.stand[i];
        if (e->old.was[i] && x->placed && shop_open(e->shop, i))
            sum += e->old.weight[i] * move_cost(e->shop->p, i, e->old.was[i], x->start, x->person);
    }
    return sum;
}

static int64_t late_by(const struct eject *e) {
    int64_t sum = 0;
    for (int i = 0; i < e->shop->p->tasks_n; i++) {
        const struct timetable_task *t = &e->shop->p->tasks[i];
        const struct stand *x = &e->now.stand[i];
        if (x->placed && t->due != TIMETABLE_UNSAID && x->end > t->due)
            sum += t->weight * (x->end - t->due);
    }
    return sum;
}

static double weight_of(int64_t late, double moved) {
    return late > 0 ? moved + EJECT_LATE_COST + EJECT_LATE_HOUR_COST * (double)late / 60 : moved;
}

static void keep_if_better(struct eject *e) {
    int64_t late = late_by(e);
    double moved = moved_by(e);
    if (e->found && (late > e->lateness || (late == e->lateness && moved > e->moved))) return;
    e->found = true, e->lateness = late, e->moved = moved;
    standing_copy(&e->best, &e->now);
}

/* ---- all that are loose ---- */

static bool is_free(const struct eject *e, int i) {
    for (int k = e->shop->lags_in.first[i]; k < e->shop->lags_in.first[i + 1]; k++) {
        const struct timetable_lag *l = &e->shop->p->lags[e->shop->lags_in.item[k]];
        if (l->min_min != TIMETABLE_UNSAID && l->min_min >= 0 &&
            e->now.loose_at[l->from] != TIMETABLE_NONE)
            return false;
    }
    return true;
}

/* The first in rank with nothing loose before it. */
static int next_loose(const struct eject *e) {
    int best = TIMETABLE_NONE;
    bool best_free = false;
    for (int k = 0; k < e->now.loose_n; k++) {
        int i = e->now.loose[k];
        bool free = is_free(e, i);
        double by = best == TIMETABLE_NONE ? -1 : e->old.rank[i] - e->old.rank[best];
        if (best == TIMETABLE_NONE || free > best_free ||
            (free == best_free && (by < 0 || (by == 0 && i < best))))
            best = i, best_free = free;
    }
    return best;
}

/* Can what is loose still be placed for less? */
static bool in_reach(const struct eject *e, double most, double hope) {
    if (most >= ANYTHING) return true;
    double sum = moved_by(e);
    for (int k = 0; k < e->now.loose_n; k++) sum += hope * e->worth[e->now.loose[k]];
    return sum <= most;
}

/* How a trial goes: what it may cost, whether it may be late, what share of what is found is
 * learned, and of what is thought is hoped for at least. */
struct trial {
    int puts;
    double most;
    bool punctual;
    double learn, hope;
};

static bool fill(struct eject *e, struct trial t) {
    struct bid b;
    for (; e->now.loose_n; t.puts--) {
        int i = next_loose(e);
        double cost = t.puts ? eject_seek(e, i, &b) : EJECT_DEAREST;
        if (cost >= EJECT_DEAREST) return false;
        if (b.gives_n) e->hard[i]++;
        if (cost > e->worth[i]) e->worth[i] += t.learn * (cost - e->worth[i]);
        if (t.punctual && b.at.start > e->latest[i]) return false;
        standing_put(&e->now, i, &b);
        price_again(e, i);
        for (int k = 0; k < b.gives_n; k++) price_again(e, b.gives[k]);
        if (t.puts % 2 == 0 && !in_reach(e, t.most, t.hope)) return false;
    }
    return true;
}

/* ---- to begin with ---- */

static void resume(struct eject *e) {
    const struct timetable_problem *p = e->shop->p;
    standing_clear(&e->now);
    e->order_n = 0;
    for (int i = 0; i < p->tasks_n; i++) {
        const struct timetable_place *was = e->old.was[i];
        e->hard[i] = 0;
        if (!was || !shop_open(e->shop, i)) continue;
        int k = e->order_n++;
        for (; k > 0 && e->old.was[e->order[k - 1]]->start > was->start; k--)
            e->order[k] = e->order[k - 1];
        e->order[k] = i;
    }
    int *followed = e->hard; /* lent */
    for (int k = 0; k < e->order_n; k++)
        if (e->old.follows[e->order[k]] >= 0) followed[e->old.follows[e->order[k]]] = 1;
    for (int k = 0; k < e->order_n; k++) {
        int i = e->order[k];
        const struct timetable_place *was = e->old.was[i];
        bool by_clock =
            p->tasks[i].person == TIMETABLE_NOBODY || (!p->tasks[i].work_min && was->person < 0);
        int q = by_clock ? TIMETABLE_NOBODY : was->person;
        if (!by_clock && (q < 0 || q >= p->persons_n || !shop_may(p, i, q))) continue;
        standing_resume(&e->now, i, q, was->start, e->old.follows[i], followed[i]);
    }
    standing_settle(&e->now);
}

/* What it costs to send each task elsewhere, with all that gives way to it: from late ones to early
 * ones, since what comes after a task must often follow it. */
static void appraise(struct eject *e) {
    const struct timetable_problem *p = e->shop->p;
    struct bid b;
    e->noise = 0;
    for (int i = 0; i < p->tasks_n; i++) {
        const struct timetable_place *was = e->old.was[i];
        e->worth[i] = was ? e->old.weight[i] * UNKNOWN_PRICE *
                                move_cost(p, i, was, was->start + 60, was->person)
                          : .1;
        e->price[i] = e->worth[i];
    }
    for (int k = e->order_n < APPRAISED ? e->order_n : APPRAISED; k-- > 0;) {
        int i = e->order[k];
        struct stand was = e->now.stand[i];
        if (!was.placed) continue;
        standing_take(&e->now, i);
        e->banned = was.start;
        double cost = eject_seek(e, i, &b);
        e->price[i] = e->worth[i] = cost < MOST ? cost : MOST;
        standing_return(&e->now, i, &was);
    }
    e->banned = INT64_MIN;
    memcpy(e->worth0, e->worth, (size_t)p->tasks_n * sizeof *e->worth0);
}

/* Takes over a timetable of the decoder's, where it is better. */
static void adopt(struct eject *e, const struct stand *from) {
    const struct timetable_problem *p = e->shop->p;
    int *order = e->hard, n = 0; /* lent */
    for (int i = 0; i < p->tasks_n; i++) {
        if (!from[i].placed || !shop_open(e->shop, i)) continue;
        int k = n++;
        for (; k > 0 && from[order[k - 1]].start > from[i].start; k--) order[k] = order[k - 1];
        order[k] = i;
    }
    standing_clear(&e->now);
    for (int k = 0; k < n; k++) {
        const struct stand *x = &from[order[k]];
        standing_resume(&e->now, order[k], x->person, x->start, x->follows, x->followed >= 0);
    }
    standing_settle(&e->now);
    if (!e->now.loose_n) keep_if_better(e);
}

/* Mends from the start again and again, each time knowing better what is hard to place. */
static void try_often(struct eject *e, uint64_t places, const struct limit *limit) {
    uint64_t epoch_ends = e->places + EPOCH;
    e->soft_cost = 0;
    eject_want(e, 1);
    for (int k = 0, epoch = 0; k == 0 || e->places < places; k++) {
        if (limit_asked(limit)) return;
        if (e->places >= epoch_ends) {
            memcpy(e->worth, e->worth0, (size_t)e->shop->p->tasks_n * sizeof *e->worth);
            epoch_ends += EPOCH;
            e->soft_cost = ++epoch % 2 ? SOFT_COST : 0;
            eject_want(e, e->soft_cost > 0 ? EASE * random_unit(e->random) : 1);
        }
        standing_copy(&e->now, &e->base);
        e->noise = k ? TRIAL_NOISE : 0;
        calm(e);
        bool in_time = e->found && e->lateness == 0;
        struct trial t = {PUTS + e->base.loose_n, in_time ? e->moved : ANYTHING,
                          in_time || k % 4 != 0, LEARN, HOPE};
        e->places++;
        if (fill(e, t)) keep_if_better(e);
    }
    e->soft_cost = 0;
    eject_want(e, 1);
}

/* ---- and better ---- */

static int random_moved(struct eject *e) {
    int n = 0, at = TIMETABLE_NONE;
    for (int i = 0; i < e->shop->p->tasks_n; i++)
        if (e->old.was[i] && e->now.stand[i].placed && shop_open(e->shop, i) && has_moved(e, i) &&
            random_below(e->random, (uint32_t)++n) == 0)
            at = i;
    return at;
}

/* Puts a task where it stood, after those before it; whoever is in the way gives way. */
static bool restore(struct eject *e, int i, int depth) {
    const struct timetable_place *was = e->old.was[i];
    struct bid b;
    if (!was || depth > DEPTH || !shop_open(e->shop, i)) return false;
    if (!has_moved(e, i)) return true;
    for (int k = e->shop->lags_in.first[i]; k < e->shop->lags_in.first[i + 1]; k++) {
        const struct timetable_lag *l = &e->shop->p->lags[e->shop->lags_in.item[k]];
        const struct stand *from = &e->now.stand[l->from];
        if (l->min_min != TIMETABLE_UNSAID && from->placed &&
            lag_dry(e->shop, l, lag_base(l, from->start, from->end)) > was->start &&
            !restore(e, l->from, depth + 1))
            return false;
    }
    int q = was->person;
    bool may = q == TIMETABLE_NOBODY ||
               (q >= 0 && q < e->shop->p->persons_n && shop_may(e->shop->p, i, q));
    if (e->now.stand[i].placed) standing_take(&e->now, i);
    if (!may || !standing_bid(&e->now, i, q, was->start, e->price, EJECT_DEAREST, &b)) return false;
    standing_put(&e->now, i, &b);
    e->hard[i] = STUBBORN;
    price_again(e, i);
    return true;
}

static void ruin(struct eject *e, int i) {
    for (int k = (int)random_below(e->random, OUT); i != TIMETABLE_NONE && k >= 0; k--) {
        standing_take(&e->now, i);
        i = random_moved(e);
    }
    standing_settle(&e->now);
}

static void anneal(struct eject *e, uint64_t places, const struct limit *limit) {
    double weight = weight_of(e->lateness, e->moved);
    uint64_t first = e->places;
    standing_copy(&e->current, &e->best);
    e->noise = MEND_NOISE;
    for (int round = 0; e->places < places; round++) {
        if (round % 8 == 0 && limit_asked(limit)) return;
        standing_copy(&e->now, &e->current);
        int i = random_moved(e);
        if (i == TIMETABLE_NONE) return;
        calm(e);
        double gone = (double)(e->places++ - first) / (double)(places - first);
        struct trial t = {
            .puts = PUTS_AGAIN,
            .most = weight - HEAT * (1 - gone) * log(1 - random_unit(e->random)),
        };
        if (random_below(e->random, 2))
            ruin(e, i);
        else if (!restore(e, i, 0))
            continue;
        if (!fill(e, t)) continue;
        double other = weight_of(late_by(e), moved_by(e));
        if (other > t.most) continue;
        weight = other;
        standing_copy(&e->current, &e->now);
        keep_if_better(e);
    }
}

const struct standing *eject_run(struct eject *e, const struct stand *start, uint64_t places,
                                 const struct limit *limit, struct random *random) {
    e->random = random;
    e->places = 0;
    e->found = false;
    eject_promises(e);
    eject_want(e, 1);
    e->soft_cost = 0;
    resume(e);
    standing_copy(&e->base, &e->now);
    appraise(e);
    if (start) adopt(e, start);
    try_often(e, (uint64_t)(TRIALS * (double)places), limit);
    if (e->found) anneal(e, places, limit);
    return e->found ? &e->best : NULL;
}
