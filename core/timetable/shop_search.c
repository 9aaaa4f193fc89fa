#include "core/timetable/shop_search.h"

#include "core/timetable/deadline.h"

#include <math.h>
#include <string.h>

enum {
    RULES = 6,
    IDLE_MOST = 20000, /* moves without a better one until giving up, if no limit is given */
    DONE_IDLE = 300,   /* the same once lateness and finish are proven */
    ASK_EVERY = 4,
    ROOM_TRIES = 3,    /* for a task that takes room */
    REACH = 12,        /* places that a task moves by in the order */
    PATIENCE = 40,     /* minutes */
    STAGGERS = 240000, /* tries of staggered pieces, times tasks */
    STAGGERS_LEAST = 100,
    STAGGERS_MOST = 2000,
};

/* Simulated annealing: first heat as a fraction of the time until the finish, and what a move
 * leaves of it; and what counts how much. Tried on the realistic shop. */
static const double HEAT_FRACTION = .0003, COOLING = .9995;
static const double MAKES_GOOD = 15; /* what tasks placed later may yet save */
static const double PER_LATE = 10, PER_BEYOND = 1, PER_MEAN_END = .5, PER_ROOM_START = 10,
                    PER_SITTING = 5;

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
    s->rank = arena_array(arena, n, sizeof *s->rank);
    s->best_rank = arena_array(arena, n, sizeof *s->best_rank);
    s->trial = arena_array(arena, n, sizeof *s->trial);
    s->order = arena_array(arena, n, sizeof *s->order);
    s->latest = arena_array(arena, n, sizeof *s->latest);
    s->room = arena_array(arena, n, sizeof *s->room);
    s->cost = arena_array(arena, n, sizeof *s->cost);
    if (!s->rank || !s->best_rank || !s->trial || !s->order || !s->latest || !s->room || !s->cost)
        return E_MEMORY;
    weigh_room(s);
    if (!decode_keeps(d, arena)) return E_MEMORY;
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

/* Tries a list of ranks; keeps the best. */
static bool attempt(struct shop_search *s, const double *rank, struct manner manner) {
    s->steps++;
    s->d->manner = manner;
    if (!decode(s->d, rank)) return false;
    if (s->found && !score_less(&s->d->score, &s->best)) return true;
    s->found = true;
    s->best = s->d->score;
    s->best_manner = manner;
    memcpy(s->best_rank, rank, (size_t)s->d->shop->p->tasks_n * sizeof *rank);
    return true;
}

/* Aims at the closing time before the best finish, but at nothing proven impossible. */
static void aim(struct shop_search *s, int64_t bound) {
    const struct shop *shop = s->d->shop;
    int64_t target = closing_before(shop, s->best.finish);
    if (target < bound) target = bound;
    if (target >= s->best.finish) target = s->best.finish - 1;
    if (!deadlines(shop, target, INT64_MAX, s->latest)) /* out of reach: still a direction */
        for (int i = 0; i < shop->p->tasks_n; i++) s->latest[i] = target - shop->tail[i];
    for (int i = 0; i < shop->p->tasks_n; i++) s->latest[i] = all_worked(shop, s->latest[i]);
    s->target = target;
}

/* What task i costs where it stands. */
static double cost_of(const struct shop_search *s, int i, const struct stand *x) {
    const struct shop *shop = s->d->shop;
    const struct timetable_problem *p = shop->p;
    const struct timetable_task *t = &p->tasks[i];
    int persons = p->persons_n ? p->persons_n : 1;
    int64_t beyond = all_worked(shop, x->end) - s->latest[i];
    double cost = PER_MEAN_END * (double)(x->end - p->now) / p->tasks_n;
    if (t->due != TIMETABLE_UNSAID && x->end > t->due)
        cost += PER_LATE * t->weight * (double)(x->end - t->due);
    if (beyond > 0) cost += PER_BEYOND * (double)beyond / persons;
    if (s->room[i] > 0)
        cost += PER_ROOM_START * s->room[i] * (double)all_worked(shop, x->start) / persons;
    return cost;
}

static double more_than_kept(const void *ctx, int i, const struct stand *x) {
    const struct shop_search *s = ctx;
    return cost_of(s, i, x) - s->cost[i];
}

/* Of what the decoder holds. */
static double energy(const struct shop_search *s) {
    const struct decoder *d = s->d;
    double sum = PER_SITTING * d->score.sittings;
    for (int i = 0; i < d->shop->p->tasks_n; i++)
        if (d->stand[i].placed) sum += cost_of(s, i, &d->stand[i]);
    return sum;
}

/* The current manner, now and then changed. */
static struct manner other_manner(struct shop_search *s) {
    struct manner m = s->manner;
    if (random_below(&s->random, 8) == 0) m.keep_windows = !m.keep_windows;
    return m;
}

/* Tries are measured against what the decoder holds. */
static void price(struct shop_search *s, const double *rank) {
    s->energy = PER_SITTING * s->d->score.sittings;
    for (int i = 0; i < s->d->shop->p->tasks_n; i++)
        if (s->d->stand[i].placed) s->energy += s->cost[i] = cost_of(s, i, &s->d->stand[i]);
    decode_keep(s->d, rank);
}

/* Tries that cost `most` more than what is kept are given up. */
static void watch(struct shop_search *s, double most) {
    s->d->watch = (struct decode_watch){more_than_kept, s, most + MAKES_GOOD};
}

/* Current = what the decoder holds: ranks become the places in the order of placing. */
static void settle(struct shop_search *s) {
    s->order_n = s->d->order_n;
    memcpy(s->order, s->d->order, (size_t)s->order_n * sizeof *s->order);
    for (int k = 0; k < s->order_n; k++) s->rank[s->order[k]] = k;
    s->manner = s->d->manner;
    price(s, s->rank);
}

/* A task to move, most often one that takes room. */
static int pick(struct shop_search *s) {
    const struct shop_list *holds = &s->d->shop->holds_at;
    int i = 0;
    for (int tries = 0; tries <= ROOM_TRIES; tries++) {
        i = s->order[random_below(&s->random, (uint32_t)s->order_n)];
        if (holds->first[i + 1] > holds->first[i]) break;
    }
    return i;
}

/* A neighbor of the current order in trial: one task, or a piece's stretch, goes elsewhere. */
static void move(struct shop_search *s) {
    int n = s->order_n;
    const struct timetable_problem *p = s->d->shop->p;
    memcpy(s->trial, s->rank, (size_t)p->tasks_n * sizeof *s->trial);
    int moves = 1 + (int)random_below(&s->random, 3);
    for (int k = 0; k < moves; k++) {
        int i = pick(s);
        double reach = random_below(&s->random, 4) ? REACH : n;
        double by = (random_unit(&s->random) * 2 - 1) * reach;
        bool stretch = p->tasks[i].piece >= 0 && random_below(&s->random, 4) == 0;
        double length = 1 + random_unit(&s->random) * 10;
        for (int m = 0; stretch && m < n; m++) {
            int other = s->order[m];
            if (other != i && p->tasks[other].piece == p->tasks[i].piece &&
                fabs(s->rank[other] - s->rank[i]) < length)
                s->trial[other] += by;
        }
        s->trial[i] += by + .5 * random_unit(&s->random);
    }
}

static bool reached(const struct shop_search *s, const struct timetable_score *bound) {
    return s->found && s->best.lateness <= bound->lateness && s->best.finish <= bound->finish;
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
        attempt(s, s->trial, (struct manner){.keep_windows = rule % 2 == 0});
    }
    for (int tries = 0; !s->found && tries < 200;
         tries++) { /* maxima are hard to meet: by chance */
        if (over(s, limit)) return;
        rank_by_rule(s, RULES, s->trial);
        attempt(s, s->trial, (struct manner){.keep_windows = random_below(&s->random, 2)});
    }
}

/* Looks for pieces well set off against each other: the first tenth at random, then what is best
 * in small changes. Leaves the ranks of the least energy in rank. */
static void search_staggered(struct shop_search *s, const struct limit *limit) {
    size_t n = (size_t)s->d->shop->p->tasks_n;
    const struct manner manner = s->manner;
    int tries = STAGGERS / (int)(n ? n : 1);
    if (tries < STAGGERS_LEAST) tries = STAGGERS_LEAST;
    if (tries > STAGGERS_MOST) tries = STAGGERS_MOST;
    if (limit->steps && (uint64_t)tries > limit->steps / 4) tries = (int)(limit->steps / 4);
    const double rules = s->energy;
    bool any = false;
    for (int k = 0; k < tries && !over(s, limit); k++) {
        if (!any || k < tries / 10)
            stagger_draw(&s->stagger, &s->random);
        else
            stagger_change(&s->stagger, &s->random);
        stagger_rank(&s->stagger, s->trial);
        if (any) watch(s, 0);
        if (attempt(s, s->trial, manner) && (!any || energy(s) < s->energy)) {
            any = true;
            price(s, s->trial);
            if (s->energy < rules) memcpy(s->rank, s->trial, n * sizeof *s->rank);
        } else if (any) {
            stagger_undo(&s->stagger);
        }
    }
    s->d->watch.more = NULL;
}

/* Moves tasks by simulated annealing, from ranks. */
static void anneal(struct shop_search *s, const struct limit *limit,
                   const struct timetable_score *bound) {
    double heat = HEAT_FRACTION * (double)(s->best.finish - s->d->shop->p->now) + 1;
    for (uint64_t idle = 0; s->order_n > 1 && !over(s, limit); idle++) {
        if (idle > (reached(s, bound)             ? DONE_IDLE
                    : limit->steps || limit->stop ? UINT64_MAX
                                                  : IDLE_MOST))
            return;
        struct timetable_score before = s->best;
        move(s);
        struct manner manner = other_manner(s);
        heat = heat * COOLING + 1e-3;
        double most = -log(1 - random_unit(&s->random)) * heat;
        watch(s, most);
        bool found = attempt(s, s->trial, manner);
        if (found && s->best.finish <= s->target) { /* aim higher; the best is in the decoder */
            aim(s, bound->finish);
            settle(s);
        } else if (found && energy(s) - s->energy <= most) {
            settle(s);
        }
        if (score_less(&s->best, &before)) idle = 0;
    }
}

void shop_search_run(struct shop_search *s, const struct limit *limit,
                     const struct timetable_score *bound) {
    size_t n = (size_t)s->d->shop->p->tasks_n;
    memcpy(s->rank, s->best_rank, n * sizeof *s->rank);
    s->manner = s->best_manner;
    s->manner.patience = PATIENCE;
    s->d->manner = s->manner;
    if (!decode(s->d, s->rank)) return;
    aim(s, bound->finish);
    s->energy = energy(s);
    if (!reached(s, bound)) search_staggered(s, limit);
    memcpy(s->trial, s->rank, n * sizeof *s->trial);
    s->d->manner = s->manner;
    if (!decode(s->d, s->trial)) return;
    settle(s);
    anneal(s, limit, bound);
    s->d->watch.more = NULL;
    decode_forget(s->d);
}
