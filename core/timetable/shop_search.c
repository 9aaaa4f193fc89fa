#include "core/timetable/shop_search.h"

#include "core/timetable/deadline.h"

#include <math.h>
#include <string.h>

enum {
    RULES = 6,
    ASK_EVERY = 4,
    PATIENCE = 40,       /* minutes that a task may end later to go on with a wet tool */
    ORDERS_A_STEP = 32,  /* orders tried in the time of one timetable */
    STAGGERS_SHARE = 64, /* one order of so many is of pieces set off against each other */
    CYCLE = 100000,      /* orders of an annealing, the next of which begins at the best order */
    CYCLES_MOST = 4,     /* if no limit is given */
    DONE_ORDERS = 10000, /* without a sitting saved, once lateness and finish are proven */
};

/* Heat of an annealing in minutes of energy, first and last; and what counts how much in it, by
 * what bounds the finish. Tried on the realistic shop. */
static const double HOT = 50, COLD = 2;
static const struct order_weights PLACES_SCARCE = {
    .late = 10, .beyond = 6, .room_start = 16, .sitting = 5, .broken = 10};
static const struct order_weights HANDS_SCARCE = {.late = 10,
                                                  .beyond = 3,
                                                  .mean_end = .5,
                                                  .room_start = 10,
                                                  .setup = 40,
                                                  .sitting = 5,
                                                  .broken = 10};

/* How much of the places each task takes, of what all take. */
static void weigh_room(struct shop_search *s) {
    const struct timetable_problem *p = s->d->shop->p;
    double sum = 0;
    for (int k = 0; k < p->holds_n; k++) {
        const struct timetable_hold *h = &p->holds[k];
        double minutes = p->tasks[h->first].work_min;
        if (h->until_lag >= 0) minutes += (double)p->lags[h->until_lag].min_min;
        if (h->amount <= 0 || minutes <= 0) continue;
        double share = minutes * h->amount / p->resources[h->resource].capacity;
        s->room[h->first] += share;
        sum += share;
    }
    for (int i = 0; i < p->tasks_n && sum > 0; i++) s->room[i] /= sum;
}

enum status shop_search_make(struct shop_search *s, struct decoder *d, uint64_t seed,
                             struct arena *arena) {
    size_t n = (size_t)d->shop->p->tasks_n + 1;
    *s = (struct shop_search){.d = d};
    random_seed(&s->random, seed);
    struct shop_found *f = &s->best;
    f->rank = arena_array(arena, n, sizeof *f->rank);
    f->not_before = arena_array(arena, n, sizeof *f->not_before);
    f->keep_person = arena_array(arena, n, sizeof *f->keep_person);
    f->go_on_with = arena_array(arena, n, sizeof *f->go_on_with);
    s->trial = arena_array(arena, n, sizeof *s->trial);
    s->latest = arena_array(arena, n, sizeof *s->latest);
    s->room = arena_array(arena, n, sizeof *s->room);
    if (!f->rank || !f->not_before || !f->keep_person || !f->go_on_with || !s->trial ||
        !s->latest || !s->room)
        return E_MEMORY;
    weigh_room(s);
    return stagger_make(&s->stagger, d->shop, arena);
}

/* Most pressing first: due date less what must still follow; without one, the longest rest. */
static void rank_by_due(const struct shop *s, double *rank) {
    const struct timetable_problem *p = s->p;
    for (int i = 0; i < p->tasks_n; i++)
        rank[i] = p->tasks[i].due == TIMETABLE_UNSAID || !p->tasks[i].weight
                      ? 1e15 - (double)s->tail[i]
                      : (double)(p->tasks[i].due - p->tasks[i].work_min);
    bool moved = true;
    for (int round = 0; moved && round <= p->tasks_n; round++) {
        moved = false;
        for (int k = p->lags_n; k-- > 0;) {
            const struct timetable_lag *l = &p->lags[k];
            if (l->min_min == TIMETABLE_UNSAID) continue;
            double r = rank[l->to] - (double)l->min_min - p->tasks[l->from].work_min;
            if (r < rank[l->from] && rank[l->to] < 1e14) rank[l->from] = r, moved = true;
        }
    }
}

static void rank_by_rule(struct shop_search *s, int rule, double *rank) {
    const struct shop *shop = s->d->shop;
    const struct timetable_problem *p = shop->p;
    if (rule == 0) {
        rank_by_due(shop, rank);
        return;
    }
    for (int i = 0; i < p->tasks_n; i++) {
        double tail = (double)shop->tail[i];
        if (rule == 1)
            rank[i] = -tail;
        else if (rule == 2)
            rank[i] = (double)shop->earliest[i];
        else if (rule == 3)
            rank[i] = p->tasks[i].piece * 1e9 - tail; /* piece after piece */
        else
            rank[i] = -tail * (.5 + random_unit(&s->random));
    }
}

/* Builds from the ranks in trial and the decoder's wishes; keeps the best. */
static bool attempt(struct shop_search *s, struct manner manner) {
    size_t n = (size_t)s->d->shop->p->tasks_n;
    s->steps++;
    s->d->manner = manner;
    if (!decode(s->d, s->trial)) return false;
    if (s->found && !score_less(&s->d->score, &s->best.score)) return true;
    struct shop_found *f = &s->best;
    s->found = true;
    f->score = s->d->score;
    f->manner = manner;
    memcpy(f->rank, s->trial, n * sizeof *f->rank);
    memcpy(f->not_before, s->d->not_before, n * sizeof *f->not_before);
    memcpy(f->keep_person, s->d->keep_person, n * sizeof *f->keep_person);
    memcpy(f->go_on_with, s->d->go_on_with, n * sizeof *f->go_on_with);
    return true;
}

bool shop_search_best(struct shop_search *s) {
    size_t n = (size_t)s->d->shop->p->tasks_n;
    const struct shop_found *f = &s->best;
    memcpy(s->d->not_before, f->not_before, n * sizeof *f->not_before);
    memcpy(s->d->keep_person, f->keep_person, n * sizeof *f->keep_person);
    memcpy(s->d->go_on_with, f->go_on_with, n * sizeof *f->go_on_with);
    s->d->manner = f->manner;
    return s->found && decode(s->d, f->rank);
}

/* Aims at the closing time before the best finish, but at nothing proven impossible. */
static void aim(struct shop_search *s, int64_t bound) {
    const struct shop *shop = s->d->shop;
    int64_t target = closing_before(shop, s->best.score.finish);
    if (target < bound) target = bound;
    if (target >= s->best.score.finish) target = s->best.score.finish - 1;
    if (!deadlines(shop, target, s->best.score.lateness,
                   s->latest)) /* out of reach: still a direction */
        for (int i = 0; i < shop->p->tasks_n; i++) s->latest[i] = target - shop->tail[i];
    for (int i = 0; i < shop->p->tasks_n; i++) s->latest[i] = all_worked(shop, s->latest[i]);
    s->target = target;
}

static bool reached(const struct shop_search *s, const struct timetable_score *bound) {
    return s->found && s->best.score.lateness <= bound->lateness &&
           s->best.score.finish <= bound->finish;
}

static bool over(struct shop_search *s, const struct limit *limit) {
    if (limit->steps && s->steps >= limit->steps) return true;
    if (s->steps % ASK_EVERY == 0 && limit_asked(limit)) s->stopped = true;
    return s->stopped;
}

void shop_search_begin(struct shop_search *s, const struct limit *limit) {
    for (int rule = 0; rule < 2 * RULES; rule++) {
        if (s->steps && over(s, limit)) return;
        rank_by_rule(s, rule / 2, s->trial);
        attempt(s, (struct manner){.keep_windows = rule % 2 == 0});
    }
    for (int tries = 0; !s->found && tries < 200;
         tries++) { /* maxima are hard to meet: by chance */
        if (over(s, limit)) return;
        rank_by_rule(s, RULES, s->trial);
        attempt(s, (struct manner){.keep_windows = random_below(&s->random, 2)});
    }
}

/* ---- orders ---- */

/* An annealing in hand. */
struct anneal {
    struct order order;
    struct shop_moves moves;
    int *task;                      /* [n] the order of the least energy since the target was set */
    bool *goes_on;                  /* [tasks_n] of it */
    double least;                   /* its energy */
    struct timetable_score offered; /* best of what the decoder was given */
    int cycles;                     /* begun */
};

static bool orders_over(struct shop_search *s, const struct limit *limit) {
    if (++s->orders % ORDERS_A_STEP) return s->stopped;
    s->steps++;
    return over(s, limit);
}

/* Of an order's places: what the decoder should make of it. */
static struct timetable_score hoped(const struct order *o) {
    const struct timetable_problem *p = o->shop->p;
    struct timetable_score sum = {0, p->now, 0};
    for (int i = 0; i < p->tasks_n; i++) {
        if (o->shop->blocked_by[i] != TIMETABLE_NONE) continue;
        const struct timetable_task *t = &p->tasks[i];
        int64_t end = o->place[i].end;
        if (end > sum.finish) sum.finish = end;
        if (t->due != TIMETABLE_UNSAID && end > t->due) sum.lateness += t->weight * (end - t->due);
    }
    return sum;
}

/* Gives the decoder the order as it stands: all as early as it can be; if that comes out worse,
 * all where it stands in the order. */
static void offer(struct shop_search *s, const struct order *o) {
    struct decoder *d = s->d;
    const struct manner manner = {.keep_windows = false, .patience = PATIENCE};
    struct timetable_score want = hoped(o);
    for (int i = 0; i < o->shop->p->tasks_n; i++) {
        if (o->at[i] < 0) continue;
        s->trial[i] = (double)(o->place[i].start - o->shop->p->now) + 1e-4 * o->at[i];
        d->keep_person[i] = o->place[i].person >= 0 ? o->place[i].person : TIMETABLE_ANYBODY;
        d->go_on_with[i] = o->place[i].follows;
    }
    if (!attempt(s, manner) || score_less(&want, &d->score)) {
        for (int k = 0; k < o->n; k++) d->not_before[o->task[k]] = o->place[o->task[k]].start;
        attempt(s, manner);
    }
    for (int i = 0; i < o->shop->p->tasks_n; i++) {
        d->not_before[i] = INT64_MIN;
        d->keep_person[i] = TIMETABLE_ANYBODY;
        d->go_on_with[i] = TIMETABLE_NONE;
    }
}

/* Notes an order of less energy than all since the target was set; the decoder sees it when it
 * promises to be better. */
static void note(struct shop_search *s, struct anneal *a, const struct timetable_score *bound) {
    const struct order *o = &a->order;
    memcpy(a->task, o->task, (size_t)o->n * sizeof *a->task);
    memcpy(a->goes_on, o->goes_on, (size_t)o->shop->p->tasks_n * sizeof *a->goes_on);
    a->least = o->energy;
    struct timetable_score want = hoped(o);
    want.sittings = reached(s, bound) ? 0 : INT32_MAX; /* they count once the rest is proven */
    if (!score_less(&want, &s->best.score) || !score_less(&want, &a->offered)) return;
    a->offered = want;
    offer(s, o);
}

/* The ends that are wanted from now on; the energy of what stands is another. */
static void aim_at(struct shop_search *s, struct anneal *a, int64_t bound) {
    aim(s, bound);
    order_aim(&a->order, s->latest);
    a->least = a->order.energy;
}

/* The order of least energy stands again. */
static void go_back(struct shop_search *s, struct anneal *a) {
    const struct order *o = &a->order;
    for (int k = 0; k < o->n; k++) s->trial[a->task[k]] = k;
    memcpy(o->goes_on, a->goes_on, (size_t)o->shop->p->tasks_n * sizeof *a->goes_on);
    order_set(&a->order, s->trial);
}

/* Pieces well set off against each other: the first tenth at random, then what is best in small
 * changes. */
static void set_off(struct shop_search *s, struct anneal *a, uint64_t tries,
                    const struct limit *limit, const struct timetable_score *bound) {
    double least = INFINITY;
    for (uint64_t k = 0; k < tries && !orders_over(s, limit); k++) {
        if (k < tries / 10)
            stagger_draw(&s->stagger, &s->random);
        else
            stagger_change(&s->stagger, &s->random);
        stagger_rank(&s->stagger, s->trial);
        order_set(&a->order, s->trial);
        if (a->order.energy < a->least) note(s, a, bound);
        if (a->order.energy < least)
            least = a->order.energy;
        else if (k)
            stagger_undo(&s->stagger);
    }
}

/* Where hands are scarce, every other annealing arranges lots in its first half, and mostly what is
 * in them in the other; where places are, to keep lots together costs more than it finds. */
static double share_of_lots(const struct shop_search *s, const struct anneal *a, uint64_t k,
                            uint64_t tries) {
    return !s->hands_scarce || a->cycles % 2 == 1 ? 0 : k < tries / 2 ? .5 : .05;
}

static void cool(struct shop_search *s, struct anneal *a, uint64_t tries, const struct limit *limit,
                 const struct timetable_score *bound) {
    double heat = HOT, cooling = pow(COLD / HOT, 1 / (double)tries);
    for (uint64_t k = 0; k < tries && !orders_over(s, limit); k++, heat *= cooling) {
        a->moves.lots_share = share_of_lots(s, a, k, tries);
        double most = a->order.energy - log(1 - random_unit(&s->random)) * heat;
        if (!moves_try(&a->moves, &s->random, most) || a->order.energy >= a->least) continue;
        struct timetable_score before = s->best.score;
        note(s, a, bound);
        if (score_less(&s->best.score, &before) && s->best.score.finish <= s->target)
            aim_at(s, a, bound->finish);
    }
}

enum status shop_search_run(struct shop_search *s, const struct limit *limit,
                            const struct timetable_score *bound, struct arena *arena) {
    const struct timetable_problem *p = s->d->shop->p;
    struct anneal a = {0};
    int64_t longest = s->best.score.finish - p->now;
    if (limit->steps && s->steps >= limit->steps) return OK;
    const struct order_weights *weights = s->hands_scarce ? &HANDS_SCARCE : &PLACES_SCARCE;
    enum status st = order_make(&a.order, s->d->shop, s->best.score.finish + longest / 2 + 7 * 1440,
                                s->room, weights, arena);
    if (st) return st == E_TOO_LARGE ? OK : st;
    a.task = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *a.task);
    a.goes_on = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *a.goes_on);
    if (!a.task || !a.goes_on || moves_make(&a.moves, &a.order, &s->stagger, s->room, arena))
        return E_MEMORY;
    if (a.order.n < 2 || !shop_search_best(s)) return OK;
    for (int i = 0; i < p->tasks_n; i++) {
        s->trial[i] = s->d->stand[i].placed ? (double)(s->d->stand[i].start - p->now) : 0;
        a.order.goes_on[i] = s->d->stand[i].placed && s->d->stand[i].follows >= 0;
    }
    order_set(&a.order, s->trial);
    a.offered = s->best.score;
    a.least = INFINITY;
    aim_at(s, &a, bound->finish);
    note(s, &a, bound);
    uint64_t cycle = CYCLE;
    if (limit->steps && (limit->steps - s->steps) * ORDERS_A_STEP < cycle)
        cycle = (limit->steps - s->steps) * ORDERS_A_STEP;
    if (!reached(s, bound)) set_off(s, &a, cycle / STAGGERS_SHARE, limit, bound);
    for (int k = 0; !over(s, limit) && (limit->steps || limit->stop || k < CYCLES_MOST); k++) {
        go_back(s, &a);
        if (isinf(a.order.energy)) return OK; /* the order's way to reckon leads to nothing */
        bool done = reached(s, bound);
        int32_t sittings = s->best.score.sittings;
        a.cycles = k;
        cool(s, &a, done ? DONE_ORDERS : cycle, limit, bound);
        if (done && s->best.score.sittings == sittings) return OK;
    }
    go_back(s, &a);
    if (!isinf(a.order.energy)) offer(s, &a.order); /* perhaps fewer sittings */
    return OK;
}
