/* After a slip: most things stay where they are.
 *
 * The old order is kept and no open task starts before its old time, so that whatever the slip does
 * not touch comes out where it was, and what it touches moves to the right only as far as it must
 * (right shift, Abumaizar and Svestka 1997, IJPR 35). Where people have no time to spare a shift
 * would run through all that follows; so, as another try, what cannot stay gives way: everything
 * else is placed first, where it was, and it takes the gaps. If that breaks promises that could be
 * kept, the tasks that must follow the moved ones, then all tasks are set free, and the timetable
 * with the least lateness, then the least moved, is taken. */
#include "core/timetable/timetable.h"

#include "core/timetable/answer.h"
#include "core/timetable/shop_bound.h"
#include "core/timetable/shop_search.h"

#include <string.h>

enum { ROUNDS = 60 };

struct replan {
    const struct timetable_problem *p;
    const struct timetable_answer *old;
    const int *old_task;
    struct decoder d;
    double *rank, *best;
    int64_t *not_before; /* of the best */
    int *keep_person;
    bool keeps;
    bool found;
    int64_t lateness;
    double moved;
};

static const struct timetable_place *old_place(const struct replan *r, int i) {
    int k = r->old_task ? r->old_task[i] : i;
    if (k < 0 || k >= r->old->tasks_n || r->old->places[k].blocked) return NULL;
    return &r->old->places[k];
}

static bool is_open(const struct replan *r, int i) {
    return r->p->tasks[i].state == TIMETABLE_OPEN && r->d.shop->blocked_by[i] == TIMETABLE_NONE;
}

/* What it costs people that things move: promises most, then what comes soon. */
static double moved_by(const struct replan *r) {
    double sum = 0;
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct timetable_place *was = old_place(r, i);
        if (!was || !is_open(r, i)) continue;
        double by = (double)(r->d.stand[i].start - was->start);
        if (by == 0 && r->d.stand[i].person == was->person) continue;
        double days = (double)(was->start - r->p->now) / 1440;
        double near = 1 / (1 + (days > 0 ? days : 0));
        sum += near * (10 + (by < 0 ? -by : by) / 60);
        if (r->p->tasks[i].due != TIMETABLE_UNSAID) sum += 100;
    }
    return sum;
}

/* Builds from r->rank and the decoder's wishes; keeps it when it is better. */
static void attempt(struct replan *r, bool keeps) {
    size_t n = (size_t)r->p->tasks_n;
    r->d.keep_windows = keeps;
    if (!decode(&r->d, r->rank)) return;
    int64_t late = r->d.score.lateness;
    double moved = moved_by(r);
    if (r->found && (late > r->lateness || (late == r->lateness && moved >= r->moved))) return;
    r->found = true;
    r->lateness = late;
    r->moved = moved;
    r->keeps = keeps;
    memcpy(r->best, r->rank, n * sizeof *r->best);
    memcpy(r->not_before, r->d.not_before, n * sizeof *r->not_before);
    memcpy(r->keep_person, r->d.keep_person, n * sizeof *r->keep_person);
}

/* Wishes: old times and persons for all but the free ones. free NULL: for all. */
static void wish(struct replan *r, const bool *free) {
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct timetable_place *was = old_place(r, i);
        bool keep = was && !(free && free[i]);
        r->d.not_before[i] = keep ? was->start : INT64_MIN;
        r->d.keep_person[i] = keep && was->person >= 0 && was->person < r->p->persons_n &&
                                      shop_may(r->p, i, was->person)
                                  ? was->person
                                  : TIMETABLE_ANYBODY;
    }
}

static void rank_as_before(struct replan *r) {
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct timetable_place *was = old_place(r, i);
        int64_t due = r->p->tasks[i].due;
        if (was)
            r->rank[i] = (double)(was->start - r->p->now);
        else if (due != TIMETABLE_UNSAID)
            r->rank[i] = (double)(due - r->p->now);
        else
            r->rank[i] = (double)(r->d.shop->earliest[i] - r->p->now);
    }
}

/* New tasks as urgent as what must follow them. */
static void press_new(struct replan *r) {
    bool moved = true;
    for (int round = 0; moved && round <= r->p->tasks_n; round++) {
        moved = false;
        for (int k = r->p->lags_n; k-- > 0;) {
            const struct timetable_lag *l = &r->p->lags[k];
            if (l->min_min == TIMETABLE_UNSAID || l->min_min < 0 || old_place(r, l->from)) continue;
            double rank = r->rank[l->to] - (double)l->min_min - r->p->tasks[l->from].work_min;
            if (rank < r->rank[l->from]) r->rank[l->from] = rank, moved = true;
        }
    }
}

/* Can the old block of task i not stay, whatever else moves? */
static bool displaced(const struct replan *r, int i) {
    const struct timetable_place *was = old_place(r, i);
    if (!was || !is_open(r, i) || was->block_from < r->p->now) return true;
    for (int k = r->d.shop->lags_in.first[i]; k < r->d.shop->lags_in.first[i + 1]; k++) {
        const struct timetable_lag *l = &r->p->lags[r->d.shop->lags_in.item[k]];
        const struct timetable_task *from = &r->p->tasks[l->from];
        if (from->state == TIMETABLE_FIXED && l->min_min != TIMETABLE_UNSAID &&
            lag_dry(r->d.shop, l, lag_base(l, from->fixed_start, from->fixed_end)) > was->start)
            return true;
    }
    if (was->person < 0 || was->block_to <= was->block_from) return false;
    if (was->person >= r->p->persons_n || !shop_may(r->p, i, was->person)) return true;
    const struct hours *h = &r->d.shop->hours[was->person];
    int64_t work = hours_worked(h, was->block_to) - hours_worked(h, was->block_from);
    if (work < was->end - was->start && !r->p->tasks[i].pausable) return true; /* a day off */
    for (int k = 0; k < r->p->tasks_n; k++) {
        const struct timetable_task *t = &r->p->tasks[k];
        if (t->state == TIMETABLE_FIXED && t->fixed_person == was->person &&
            t->fixed_start < was->block_to && t->fixed_end > was->block_from)
            return true;
    }
    return false;
}

/* What cannot stay goes last and takes the gaps; the first that this moves in turn goes
 * last the next time.
 */
static void give_way(struct replan *r, bool *last, bool all) {
    const double behind = 1e9; /* minutes: after all others */
    for (int i = 0; i < r->p->tasks_n; i++) last[i] = displaced(r, i);
    for (int round = 0; round < ROUNDS; round++) {
        rank_as_before(r);
        press_new(r);
        for (int i = 0; i < r->p->tasks_n; i++)
            if (last[i]) r->rank[i] += behind;
        attempt(r, round % 2 == 0);
        int first = -1; /* the others may have moved only because of this one */
        for (int i = 0; i < r->p->tasks_n; i++) {
            const struct timetable_place *was = old_place(r, i);
            if (last[i] || !was || !is_open(r, i) || r->d.stand[i].start == was->start) continue;
            if (all) last[i] = true;
            if (first < 0 || was->start < old_place(r, first)->start) first = i;
        }
        if (first >= 0)
            last[first] = true;
        else if (round > 0)
            return;
    }
}

/* Pieces one of whose tasks stands later than before in the decoder's timetable. */
static void free_moved_pieces(const struct replan *r, bool *free) {
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct timetable_place *was = old_place(r, i);
        free[i] = !was || (is_open(r, i) && r->d.stand[i].start != was->start);
    }
    for (int i = 0; i < r->p->tasks_n; i++)
        for (int k = 0; k < r->p->tasks_n && !free[i]; k++)
            free[i] = free[k] && r->p->tasks[k].piece >= 0 &&
                      r->p->tasks[k].piece == r->p->tasks[i].piece && is_open(r, i);
}

/* Promises first among the free ones, each time another weight of the due date. */
static void search_free(struct replan *r, const bool *free, struct limit limit, uint64_t tries,
                        struct random *random, int64_t least) {
    for (uint64_t k = 0; k < tries && r->lateness > least; k++) {
        if (limit_asked(&limit)) return;
        rank_as_before(r);
        press_new(r);
        double ahead = random_unit(random) * 4 * 1440;
        for (int i = 0; i < r->p->tasks_n; i++)
            if (!free || free[i]) r->rank[i] -= ahead * random_unit(random);
        attempt(r, k % 2 == 0);
    }
}

static enum status list_changes(const struct replan *r, const struct timetable_answer *a,
                                struct arena *arena, struct timetable_change **out, int *out_n) {
    struct timetable_change *c = arena_array(arena, (size_t)r->p->tasks_n + 1, sizeof *c);
    if (!c) return E_MEMORY;
    int n = 0;
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct timetable_place *was = old_place(r, i), *is = &a->places[i];
        if (is->blocked && !was) continue;
        if (was && !is->blocked && was->start == is->start && was->end == is->end &&
            was->person == is->person)
            continue;
        const int64_t no = TIMETABLE_UNSAID;
        struct timetable_change x = {i,
                                     was ? was->start : no,
                                     was ? was->end : no,
                                     is->start,
                                     is->end,
                                     was ? was->person : TIMETABLE_NOBODY,
                                     is->person,
                                     r->p->tasks[i].due != no,
                                     was && !is->blocked ? is->end - was->end : 0};
        int k = n++;
        for (; k > 0 && c[k - 1].start > x.start; k--) c[k] = c[k - 1];
        c[k] = x;
    }
    *out = c;
    *out_n = n;
    return OK;
}

static enum status no_memory(struct why *why) {
    return why_say(why, E_MEMORY, "", "There is not enough memory for the timetable.");
}

enum status timetable_replan(const struct timetable_problem *problem,
                             const struct timetable_answer *old, const int *old_task,
                             struct limit limit, uint64_t seed, struct arena *arena,
                             struct timetable_answer *out_answer,
                             struct timetable_change **out_changes, int *out_changes_n,
                             struct why *why) {
    struct shop shop;
    struct replan r = {.p = problem, .old = old, .old_task = old_task};
    struct timetable_score bound;
    struct random random;
    size_t n = (size_t)problem->tasks_n + 1;
    enum status st = shop_make(problem, arena, &shop, why);
    if (st) return st;
    r.rank = arena_array(arena, n, sizeof *r.rank);
    r.best = arena_array(arena, n, sizeof *r.best);
    r.not_before = arena_array(arena, n, sizeof *r.not_before);
    r.keep_person = arena_array(arena, n, sizeof *r.keep_person);
    bool *free = arena_array(arena, n, sizeof *free);
    if (!r.rank || !r.best || !r.not_before || !r.keep_person || !free ||
        !decoder_make(&r.d, &shop, arena) || shop_bound(&shop, arena, &bound))
        return no_memory(why);
    random_seed(&random, seed);
    wish(&r, NULL);
    rank_as_before(&r);
    press_new(&r);
    attempt(&r, false);
    attempt(&r, true);
    give_way(&r, free, true);
    give_way(&r, free, false);
    int64_t least = bound.lateness > old->score.lateness ? bound.lateness : old->score.lateness;
    uint64_t tries = limit.steps ? limit.steps : 60;
    if (!r.found || r.lateness > least) {
        if (r.found)
            free_moved_pieces(&r, free);
        else
            memset(free, 1, n * sizeof *free);
        wish(&r, free);
        search_free(&r, free, limit, tries / 2, &random, least);
    }
    if (!r.found) {
        memset(free, 1, n * sizeof *free);
        wish(&r, free);
        r.lateness = INT64_MAX;
        search_free(&r, NULL, limit, tries, &random, least);
    }
    if (!r.found)
        return why_say(why, E_LIMIT, "/tasks", "No new timetable was found that keeps every rule.");
    memcpy(r.d.not_before, r.not_before, n * sizeof *r.not_before);
    memcpy(r.d.keep_person, r.keep_person, n * sizeof *r.keep_person);
    r.d.keep_windows = r.keeps;
    struct timetable_answer a;
    struct timetable_change *changes;
    int changes_n;
    if (!decode(&r.d, r.best) || answer_make(&r.d, arena, &a) ||
        list_changes(&r, &a, arena, &changes, &changes_n))
        return no_memory(why);
    a.bound = bound;
    answer_judge(&a, problem->now);
    *out_answer = a;
    *out_changes = changes;
    *out_changes_n = changes_n;
    return OK;
}
