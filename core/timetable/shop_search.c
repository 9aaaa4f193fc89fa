#include "core/timetable/shop_search.h"

#include <math.h>
#include <string.h>

enum {
    RULES = 6,
    IDLE_MOST = 20000, /* moves without a better one until giving up, if no limit is given */
    DONE_IDLE = 300,   /* the same once lateness and finish are proven */
    ASK_EVERY = 4,
};

/* Simulated annealing: first heat as a fraction of the time until the finish, and what a move
 * leaves of it; tried on the realistic shop. */
static const double HEAT_FRACTION = .003, COOLING = .999;

enum status shop_search_make(struct shop_search *s, struct decoder *d, uint64_t seed,
                             struct arena *arena) {
    size_t n = (size_t)d->shop->p->tasks_n + 1;
    *s = (struct shop_search){.d = d};
    random_seed(&s->random, seed);
    s->rank = arena_array(arena, n, sizeof *s->rank);
    s->best_rank = arena_array(arena, n, sizeof *s->best_rank);
    s->trial = arena_array(arena, n, sizeof *s->trial);
    s->order = arena_array(arena, n, sizeof *s->order);
    return s->rank && s->best_rank && s->trial && s->order ? OK : E_MEMORY;
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
static bool attempt(struct shop_search *s, const double *rank, bool keeps) {
    s->steps++;
    s->d->keep_windows = keeps;
    if (!decode(s->d, rank)) return false;
    if (s->found && !score_less(&s->d->score, &s->best)) return true;
    s->found = true;
    s->best = s->d->score;
    s->best_keeps = keeps;
    memcpy(s->best_rank, rank, (size_t)s->d->shop->p->tasks_n * sizeof *rank);
    return true;
}

/* What the moves descend: the score, and how early things are on the whole, since most moves change
 * neither lateness nor finish. */
static double energy(const struct decoder *d) {
    const struct timetable_problem *p = d->shop->p;
    double sum = 0;
    int n = 0;
    for (int i = 0; i < p->tasks_n; i++)
        if (d->stand[i].placed) sum += (double)(d->stand[i].end - p->now), n++;
    return 10 * (double)d->score.lateness + (double)d->score.finish + 2 * sum / (n ? n : 1) +
           5 * d->score.sittings;
}

/* Current = what the decoder holds: ranks become the places in order of start. */
static void settle(struct shop_search *s) {
    const struct timetable_problem *p = s->d->shop->p;
    int n = 0;
    for (int i = 0; i < p->tasks_n; i++)
        if (s->d->stand[i].placed && p->tasks[i].state == TIMETABLE_OPEN) s->order[n++] = i;
    for (int gap = n / 2; gap > 0; gap /= 2) /* Shell sort by start, then by rank */
        for (int i = gap; i < n; i++) {
            int x = s->order[i], j = i;
            for (; j >= gap; j -= gap) {
                int y = s->order[j - gap];
                int64_t a = s->d->stand[y].start, b = s->d->stand[x].start;
                if (a < b || (a == b && s->trial[y] <= s->trial[x])) break;
                s->order[j] = y;
            }
            s->order[j] = x;
        }
    s->order_n = n;
    for (int k = 0; k < n; k++) s->rank[s->order[k]] = k;
    s->energy = energy(s->d);
}

/* A neighbor of the current order in trial: one task, or a piece's stretch, goes elsewhere. */
static void move(struct shop_search *s) {
    int n = s->order_n;
    const struct timetable_problem *p = s->d->shop->p;
    memcpy(s->trial, s->rank, (size_t)p->tasks_n * sizeof *s->trial);
    int moves = 1 + (int)random_below(&s->random, 3);
    for (int k = 0; k < moves; k++) {
        int i = s->order[random_below(&s->random, (uint32_t)n)];
        double reach = random_below(&s->random, 4) ? 12 : n;
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

void shop_search_run(struct shop_search *s, const struct limit *limit,
                     const struct timetable_score *bound) {
    for (int rule = 0; rule < 2 * RULES; rule++) {
        if (s->steps && over(s, limit)) return;
        rank_by_rule(s, rule / 2, s->trial);
        attempt(s, s->trial, rule % 2 == 0);
    }
    for (int tries = 0; !s->found && tries < 200;
         tries++) { /* maxima are hard to meet: by chance */
        if (over(s, limit)) return;
        rank_by_rule(s, RULES, s->trial);
        attempt(s, s->trial, random_below(&s->random, 2));
    }
    if (!s->found) return;
    memcpy(s->trial, s->best_rank, (size_t)s->d->shop->p->tasks_n * sizeof *s->trial);
    s->d->keep_windows = s->best_keeps;
    if (!decode(s->d, s->trial)) return;
    settle(s);
    double heat = HEAT_FRACTION * (double)(s->best.finish - s->d->shop->p->now) + 1;
    for (uint64_t idle = 0; s->order_n > 1 && !over(s, limit); idle++) {
        if (idle > (reached(s, bound)             ? DONE_IDLE
                    : limit->steps || limit->stop ? UINT64_MAX
                                                  : IDLE_MOST))
            return;
        struct timetable_score before = s->best;
        move(s);
        bool keeps = random_below(&s->random, 8) ? s->best_keeps : !s->best_keeps;
        heat = heat * COOLING + 1e-3;
        if (attempt(s, s->trial, keeps) &&
            energy(s->d) - s->energy <= -log(1 - random_unit(&s->random)) * heat)
            settle(s);
        if (score_less(&s->best, &before)) idle = 0;
    }
}
