/* After a slip: most things stay where they are.
 *
 * The old timetable is taken up as far as it can stay, and what cannot is mended task by task
 * (eject.h). The decoder then builds what came of it, so that a re-plan keeps every rule that a
 * plan keeps. Where that is later than must be, whole timetables are tried (replan_whole.c). The
 * timetable with the least lateness, then the least moved, is taken. */
#include "core/timetable/answer.h"
#include "core/timetable/eject.h"
#include "core/timetable/replan_inside.h"
#include "core/timetable/shop_bound.h"

#include <string.h>

enum { PLACES = 160000 }; /* looked at to mend task by task */

static const double HANGS_COST = .5; /* share of what moving costs for what hangs on the slip */

const struct timetable_place *replan_old_place(const struct replan *r, int i) {
    int k = r->old_task ? r->old_task[i] : i;
    if (k < 0 || k >= r->old->tasks_n || r->old->places[k].blocked) return NULL;
    return &r->old->places[k];
}

bool replan_open(const struct replan *r, int i) {
    return r->p->tasks[i].state == TIMETABLE_OPEN && r->d.shop->blocked_by[i] == TIMETABLE_NONE;
}

static double moved_by(const struct replan *r) {
    double sum = 0;
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct timetable_place *was = replan_old_place(r, i);
        if (was && replan_open(r, i))
            sum +=
                r->weight[i] * move_cost(r->p, i, was, r->d.stand[i].start, r->d.stand[i].person);
    }
    return sum;
}

static bool kept_make(struct kept *k, size_t n, struct arena *arena) {
    *k = (struct kept){.rank = arena_array(arena, n, sizeof *k->rank),
                       .not_before = arena_array(arena, n, sizeof *k->not_before),
                       .keep_person = arena_array(arena, n, sizeof *k->keep_person),
                       .go_on_with = arena_array(arena, n, sizeof *k->go_on_with),
                       .shifted = arena_array(arena, n, sizeof *k->shifted)};
    return k->rank && k->not_before && k->keep_person && k->go_on_with && k->shifted;
}

static void keep(const struct replan *r, struct kept *k, double moved) {
    size_t n = (size_t)r->p->tasks_n;
    k->found = true;
    k->lateness = r->d.score.lateness;
    k->moved = moved;
    k->keeps = r->d.manner.keep_windows;
    for (size_t i = 0; i < n; i++) {
        const struct timetable_place *was = replan_old_place(r, (int)i);
        k->shifted[i] = was && replan_open(r, (int)i) && r->d.stand[i].start != was->start;
    }
    memcpy(k->rank, r->rank, n * sizeof *k->rank);
    memcpy(k->not_before, r->d.not_before, n * sizeof *k->not_before);
    memcpy(k->keep_person, r->d.keep_person, n * sizeof *k->keep_person);
    memcpy(k->go_on_with, r->d.go_on_with, n * sizeof *k->go_on_with);
}

static bool better(const struct replan *r, double moved, const struct kept *k) {
    int64_t late = r->d.score.lateness;
    return !k->found || late < k->lateness || (late == k->lateness && moved < k->moved);
}

void replan_take_up(struct replan *r, const struct kept *k) {
    size_t n = (size_t)r->p->tasks_n;
    memcpy(r->rank, k->rank, n * sizeof *r->rank);
    memcpy(r->d.not_before, k->not_before, n * sizeof *k->not_before);
    memcpy(r->d.keep_person, k->keep_person, n * sizeof *k->keep_person);
    memcpy(r->d.go_on_with, k->go_on_with, n * sizeof *k->go_on_with);
    r->d.manner.keep_windows = k->keeps;
}

/* Builds again what was kept. */
static bool decode_kept(struct replan *r, const struct kept *k) {
    replan_take_up(r, k);
    return decode(&r->d, r->rank);
}

void replan_attempt(struct replan *r, bool keeps, struct kept *mended) {
    r->d.manner.keep_windows = keeps;
    if (!decode(&r->d, r->rank)) return;
    double moved = moved_by(r);
    if (better(r, moved, &r->best)) keep(r, &r->best, moved);
    if (mended && mended != &r->best && better(r, moved, mended)) keep(r, mended, moved);
    if (!mended && (!r->lean.found || moved < r->lean.moved)) keep(r, &r->lean, moved);
}

/* Index now of a task of the old timetable, or TIMETABLE_NONE. */
static int now_of(const struct replan *r, int old) {
    if (!r->old_task) return old < r->p->tasks_n ? old : TIMETABLE_NONE;
    for (int i = 0; i < r->p->tasks_n; i++)
        if (r->old_task[i] == old) return i;
    return TIMETABLE_NONE;
}

void replan_wish(struct replan *r, const bool *free) {
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct timetable_place *was = replan_old_place(r, i);
        bool keep = was && !(free && free[i]);
        int f = keep && was->follows >= 0 ? now_of(r, was->follows) : TIMETABLE_NONE;
        if (f >= 0 && r->p->tasks[f].setup != r->p->tasks[i].setup) f = TIMETABLE_NONE;
        r->d.go_on_with[i] = f;
        r->d.not_before[i] = keep ? was->start : INT64_MIN;
        r->d.keep_person[i] = keep && was->person >= 0 && was->person < r->p->persons_n &&
                                      shop_may(r->p, i, was->person)
                                  ? was->person
                                  : TIMETABLE_ANYBODY;
    }
}

/* New tasks as urgent as what must follow them. */
static void press_new(struct replan *r) {
    bool moved = true;
    for (int round = 0; moved && round <= r->p->tasks_n; round++) {
        moved = false;
        for (int k = r->p->lags_n; k-- > 0;) {
            const struct timetable_lag *l = &r->p->lags[k];
            if (l->min_min == TIMETABLE_UNSAID || l->min_min < 0 || replan_old_place(r, l->from))
                continue;
            double rank = r->rank[l->to] - (double)l->min_min - r->p->tasks[l->from].work_min;
            if (rank < r->rank[l->from]) r->rank[l->from] = rank, moved = true;
        }
    }
}

void replan_rank(struct replan *r) {
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct timetable_place *was = replan_old_place(r, i);
        int64_t due = r->p->tasks[i].due;
        if (was)
            r->rank[i] = (double)(was->start - r->p->now);
        else if (due != TIMETABLE_UNSAID)
            r->rank[i] = (double)(due - r->p->now);
        else
            r->rank[i] = (double)(r->d.shop->earliest[i] - r->p->now);
    }
    press_new(r);
}

bool replan_displaced(const struct replan *r, int i) {
    const struct timetable_place *was = replan_old_place(r, i);
    if (!was || !replan_open(r, i) || was->block_from < r->p->now) return true;
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

void replan_mark_after(const struct replan *r, bool *mark) {
    bool more = true;
    while (more) {
        more = false;
        for (int k = 0; k < r->p->lags_n; k++) {
            const struct timetable_lag *l = &r->p->lags[k];
            if (l->min_min != TIMETABLE_UNSAID && mark[l->from] && !mark[l->to])
                more = mark[l->to] = true;
        }
    }
}

/* What hangs on the slip will be looked at anyway; that others move is what disturbs. */
static void weigh(struct replan *r, bool *mark) {
    for (int i = 0; i < r->p->tasks_n; i++)
        mark[i] = replan_open(r, i) && replan_old_place(r, i) && replan_displaced(r, i);
    replan_mark_after(r, mark);
    for (int i = 0; i < r->p->tasks_n; i++) r->weight[i] = mark[i] ? HANGS_COST : 1;
}

/* Has the decoder build this timetable. */
static void rebuild(struct replan *r, const struct stand *stand) {
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct stand *x = &stand[i];
        if (!x->placed || !replan_open(r, i)) continue;
        r->rank[i] = (double)(x->start - r->p->now);
        r->d.not_before[i] = x->start;
        r->d.go_on_with[i] = x->follows;
        r->d.keep_person[i] = x->person >= 0 ? x->person : TIMETABLE_ANYBODY;
    }
    replan_attempt(r, false, NULL);
}

/* Begins with what right shift came to, if anything. */
static bool mend_by_task(struct replan *r, const struct limit *limit, struct random *random,
                         struct arena *arena) {
    size_t n = (size_t)r->p->tasks_n + 1;
    struct eject_old old = {arena_array(arena, n, sizeof *old.was),
                            arena_array(arena, n, sizeof *old.follows), r->weight,
                            arena_array(arena, n, sizeof *old.rank)};
    if (!old.was || !old.follows || !old.rank) return false;
    struct eject *e = eject_make(r->d.shop, old, arena);
    if (!e) return false;
    replan_wish(r, NULL);
    replan_rank(r);
    for (int i = 0; i < r->p->tasks_n; i++)
        old.was[i] = replan_old_place(r, i), old.follows[i] = r->d.go_on_with[i],
        old.rank[i] = r->rank[i];
    const struct stand *start = r->best.found && decode_kept(r, &r->best) ? r->d.stand : NULL;
    const struct standing *s = eject_run(e, start, PLACES, limit, random);
    replan_wish(r, NULL);
    if (s) rebuild(r, s->stand);
    return true;
}

/* Lateness that the old timetable has by the dates of today. */
static int64_t old_lateness(const struct replan *r) {
    int64_t sum = 0;
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct timetable_task *t = &r->p->tasks[i];
        const struct timetable_place *was = replan_old_place(r, i);
        int64_t end = t->state == TIMETABLE_FIXED ? t->fixed_end : was ? was->end : INT64_MIN;
        if (t->due != TIMETABLE_UNSAID && end > t->due) sum += t->weight * (end - t->due);
    }
    return sum;
}

static enum status list_changes(const struct replan *r, const struct timetable_answer *a,
                                struct arena *arena, struct timetable_change **out, int *out_n) {
    struct timetable_change *c = arena_array(arena, (size_t)r->p->tasks_n + 1, sizeof *c);
    if (!c) return E_MEMORY;
    int n = 0;
    for (int i = 0; i < r->p->tasks_n; i++) {
        const struct timetable_place *was = replan_old_place(r, i), *is = &a->places[i];
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
    r.weight = arena_array(arena, n, sizeof *r.weight);
    bool *free = arena_array(arena, n, sizeof *free);
    bool *stays = arena_array(arena, n, sizeof *stays);
    if (!r.rank || !r.weight || !kept_make(&r.best, n, arena) || !kept_make(&r.lean, n, arena) ||
        !free || !stays || !decoder_make(&r.d, &shop, arena) || shop_bound(&shop, arena, &bound))
        return why_no_memory(why);
    random_seed(&random, seed);
    weigh(&r, free);
    replan_wish(&r, NULL);
    replan_rank(&r);
    replan_attempt(&r, false, NULL);
    replan_attempt(&r, true, NULL);
    bool stays_all = r.best.found && r.best.moved == 0;
    if (!stays_all && !mend_by_task(&r, &limit, &random, arena)) return why_no_memory(why);
    int64_t must = bound.lateness > old_lateness(&r) ? bound.lateness : old_lateness(&r);
    if (!r.best.found || r.best.lateness > must)
        replan_whole(&r, free, stays, limit, bound.lateness, &random);
    if (!r.best.found)
        return why_say(why, E_LIMIT, "/tasks", "No new timetable was found that keeps every rule.");
    struct timetable_answer a;
    struct timetable_change *changes;
    int changes_n;
    if (!decode_kept(&r, &r.best) || answer_make(&r.d, arena, &a) ||
        list_changes(&r, &a, arena, &changes, &changes_n))
        return why_no_memory(why);
    a.bound = bound;
    answer_judge(&a, problem->now);
    *out_answer = a;
    *out_changes = changes;
    *out_changes_n = changes_n;
    return OK;
}
