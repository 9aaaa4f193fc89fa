/* The solver beside a brute force that walks every start, person and shared set-up of thousands of
 * tiny workshops with hours, drying, maxima, holds and set-ups. */
#include "test/check.h"
#include "test/model/timetable_draw.h"
#include "test/model/timetable_judge.h"

enum { HORIZON = 48, MOST = 5 };

/* Draws of each kind. Under sanitizers, six times as slow, fewer: what they look for shows in any.
 */
#ifdef __SANITIZE_ADDRESS__
enum { CROWDED = 300, SHOPS = 400 };
#else
enum { CROWDED = 800, SHOPS = 1200 };
#endif

struct brute {
    const struct timetable_problem *p;
    struct timetable_place place[MOST];
    struct timetable_span cut[MOST][16];
    struct timetable_lag_time lag[24];
    struct timetable_answer answer;
    int64_t lateness, finish; /* of the best; INT64_MAX: none */
};

enum { FAR = 4 * HORIZON };
static int before[2][FAR + 1]; /* working minutes of a person before each minute */

static void count_hours(const struct timetable_problem *p) {
    for (int q = 0; q < p->persons_n; q++)
        for (int t = 0; t < FAR; t++) {
            before[q][t + 1] = before[q][t];
            for (int w = 0; w < p->persons[q].windows_n; w++)
                before[q][t + 1] +=
                    p->persons[q].windows[w].from <= t && t < p->persons[q].windows[w].to;
        }
}

static int64_t worked(int q, int64_t from, int64_t to) {
    return before[q][to] - before[q][from];
}

/* Least end with so much work since `from`, or -1. */
static int64_t end_of(int q, int64_t from, int64_t work) {
    for (int64_t t = from; t <= 2 * HORIZON; t++)
        if (worked(q, from, t) == work) return t;
    return -1;
}

static int64_t lag_end(const struct timetable_problem *p, const struct timetable_lag *l, int64_t t,
                       int64_t minutes) {
    if (l->climate < 0) return t + minutes;
    const struct timetable_climate *c = &p->climates[l->climate];
    int64_t done = 0;
    for (; done < 1000 * minutes; t++) {
        int64_t rate = 1000;
        for (int k = 0; k < c->rates_n; k++)
            if (c->rates[k].from <= t) rate = c->rates[k].progress_permille;
        done += rate;
    }
    return t;
}

static void segments(struct brute *b, int i) {
    struct timetable_place *x = &b->place[i];
    x->segments = b->cut[i];
    x->segments_n = 0;
    if (x->person < 0) return;
    const struct timetable_person *q = &b->p->persons[x->person];
    for (int w = 0; w < q->windows_n; w++) {
        int64_t from = q->windows[w].from > x->block_from ? q->windows[w].from : x->block_from;
        int64_t to = q->windows[w].to < x->block_to ? q->windows[w].to : x->block_to;
        if (from < to) b->cut[i][x->segments_n++] = (struct timetable_span){from, to};
    }
}

static void walk(struct brute *b, int i, int64_t late, int64_t finish);

static void go_on(struct brute *b, int i, int64_t late, int64_t finish) {
    const struct timetable_task *t = &b->p->tasks[i];
    struct timetable_place *x = &b->place[i];
    x->late_min = t->due != TIMETABLE_UNSAID && x->end > t->due ? x->end - t->due : 0;
    late += t->weight * x->late_min;
    if (x->end > finish) finish = x->end;
    if (late > b->lateness || (late == b->lateness && finish >= b->finish)) return;
    for (int k = 0; k < i; k++)
        if (x->person >= 0 && b->place[k].person == x->person &&
            b->place[k].block_from < x->block_to && x->block_from < b->place[k].block_to &&
            b->place[k].block_from < b->place[k].block_to && x->block_from < x->block_to)
            return;
    segments(b, i);
    walk(b, i + 1, late, finish);
}

/* All ways to do task i from `start` with one person. */
static void with_person(struct brute *b, int i, int64_t start, int64_t hands, int person,
                        int64_t late, int64_t finish) {
    const struct timetable_task *t = &b->p->tasks[i];
    const int q = person;
    const struct timetable_setup *row = t->setup >= 0 ? &b->p->setups[t->setup] : NULL;
    if (worked(q, start, start + 1) != 1) return;
    int64_t end = end_of(q, start, hands);
    if (end < 0) return;
    bool shares = row && row->keep_wet_min > 0;
    for (int follows = -1; follows < (shares ? b->p->tasks_n : 0); follows++) {
        if (follows == i || (follows >= 0 && b->p->tasks[follows].setup != t->setup)) continue;
        int32_t setup = row && follows < 0 ? row->setup_min : 0;
        int64_t from = start;
        while (from > 0 && worked(q, from, start) < setup) from--;
        if (worked(q, from, start) != setup) continue;
        for (int kept = 0; kept <= shares; kept++) {
            int32_t cleanup = row && !kept ? row->cleanup_min : 0;
            int64_t to = end_of(q, end, cleanup);
            if (to < 0) continue;
            b->place[i] = (struct timetable_place){
                false,   TIMETABLE_NONE, start, end,     from,
                to,      person,         setup, cleanup, (int32_t)(hands - t->work_min),
                follows, .late_min = 0};
            go_on(b, i, late, finish);
        }
    }
}

static void walk(struct brute *b, int i, int64_t late, int64_t finish) {
    const struct timetable_problem *p = b->p;
    if (i == p->tasks_n) {
        timetable_judge_wordless = true;
        bool broken = timetable_judge_rules(p, &b->answer) != NULL;
        timetable_judge_wordless = false;
        if (broken) return;
        b->lateness = late;
        b->finish = finish;
        return;
    }
    const struct timetable_task *t = &p->tasks[i];
    int64_t from = t->release != TIMETABLE_UNSAID ? t->release : 0;
    for (int k = 0; k < p->lags_n; k++) { /* lags go from lower to higher tasks */
        const struct timetable_lag *l = &p->lags[k];
        if (l->to != i) continue;
        int64_t base = l->from_start ? b->place[l->from].start : b->place[l->from].end;
        int64_t dry = lag_end(p, l, base, l->min_min);
        if (dry > from) from = dry;
    }
    for (int64_t start = from; start < HORIZON; start++) {
        int64_t hands = t->work_min;
        bool missed = false;
        for (int k = 0; k < p->lags_n; k++) {
            const struct timetable_lag *l = &p->lags[k];
            if (l->to != i || l->max_min == TIMETABLE_UNSAID) continue;
            int64_t base = l->from_start ? b->place[l->from].start : b->place[l->from].end;
            if (start <= lag_end(p, l, base, l->max_min)) continue;
            if (l->scuff_min < 0)
                missed = true;
            else
                hands += l->scuff_min;
        }
        if (missed) return;
        if (t->person == TIMETABLE_NOBODY || hands == 0) {
            b->place[i] = (struct timetable_place){false,
                                                   TIMETABLE_NONE,
                                                   start,
                                                   start + hands,
                                                   start,
                                                   start + hands,
                                                   TIMETABLE_NOBODY,
                                                   0,
                                                   0,
                                                   (int32_t)(hands - t->work_min),
                                                   TIMETABLE_NONE,
                                                   .late_min = 0};
            go_on(b, i, late, finish);
            continue;
        }
        for (int q = 0; q < p->persons_n; q++)
            if (t->person >= 0 ? t->person == q : (p->persons[q].skills & t->skills) == t->skills)
                with_person(b, i, start, hands, q, late, finish);
    }
}

/* The best there is, walked, if it is better than this; else b holds this. */
static void walk_below(struct brute *b, const struct timetable_problem *p, int64_t lateness,
                       int64_t finish) {
    count_hours(p);
    *b = (struct brute){.p = p, .lateness = lateness, .finish = finish};
    b->answer = (struct timetable_answer){
        .places = b->place, .lags = b->lag, .tasks_n = p->tasks_n, .lags_n = p->lags_n};
    walk(b, 0, 0, 0);
}

static enum status solved(const struct drawn *d, uint64_t steps, struct arena *arena,
                          struct timetable_answer *out) {
    struct why why = {0};
    return timetable_solve(&d->problem, (struct limit){.steps = steps}, 1, arena, out, &why);
}

/* The answer keeps every rule, and its bound is not above the best. */
static bool is_right(const struct drawn *d, const struct timetable_answer *a, const struct brute *b,
                     uint64_t seed) {
    bool over = a->bound.lateness > b->lateness ||
                (a->bound.lateness == b->lateness && a->bound.finish > b->finish);
    bool right = !over && !timetable_judge(&d->problem, a);
    if (!right)
        printf("seed %d: bound %d %d, best %d %d\n", (int)seed, (int)a->bound.lateness,
               (int)a->bound.finish, (int)b->lateness, (int)b->finish);
    return right;
}

static void draw_crowd(struct drawn *d, uint64_t seed) {
    draw_crowded(d, seed * 11 + 5, 3);
}

static void draw_coats(struct drawn *d, uint64_t seed) {
    draw_alike(d, seed * 17 + 9, 4 + (seed % 4 == 0));
}

/* Bounds by the places, which only searches of a hundred timetables and more look for; `often`:
 * they raise the bound in one of so many at least. */
static void cases_places(const char *what, void (*draw)(struct drawn *, uint64_t), int often) {
    static struct drawn d;
    static struct brute b;
    CASE(what) {
        int raised = 0, reached = 0, compared = 0;
        for (uint64_t seed = 0; seed < CROWDED; seed++) {
            struct arena arena;
            struct timetable_answer plain, a;
            draw(&d, seed);
            arena_init(&arena, alloc_heap(), 0);
            if (!solved(&d, 60, &arena, &plain) && !solved(&d, 120, &arena, &a) &&
                a.score.finish <= HORIZON - 4) {
                walk_below(&b, &d.problem, a.score.lateness, a.score.finish + 1);
                CHECK(b.lateness < a.score.lateness || b.finish <= a.score.finish);
                CHECK(is_right(&d, &a, &b, seed));
                raised += a.bound.finish > plain.bound.finish;
                reached += a.bound.finish == b.finish;
                compared++;
            }
            arena_free(&arena);
        }
        printf("compared %d, bound raised by places %d, bound is the best %d\n", compared, raised,
               reached);
        CHECK(3 * compared > 2 * CROWDED && often * raised > CROWDED);
    }
}

/* Hands with the set-ups that no sharing saves, and the last end within working hours. */
static void cases_tools(void) {
    static struct drawn d;
    static struct brute b;
    CASE("workshops short of hands and tools: what they prove is never above the best") {
        int work_alone = 0, late_reached = 0, reached = 0, compared = 0;
        for (uint64_t seed = 0; seed < CROWDED; seed++) {
            struct arena arena;
            struct timetable_answer a, plain;
            draw_tools(&d, seed * 13 + 3, 3);
            arena_init(&arena, alloc_heap(), 0);
            if (!solved(&d, 60, &arena, &a) && a.score.finish <= HORIZON - 4) {
                walk_below(&b, &d.problem, INT64_MAX, INT64_MAX);
                CHECK(is_right(&d, &a, &b, seed));
                CHECK(!a.proven || (a.score.finish == b.finish && a.score.lateness == b.lateness));
                late_reached += b.lateness > 0 && a.bound.lateness == b.lateness;
                for (int i = 0; i < 3; i++) d.task[i].setup = TIMETABLE_NONE;
                work_alone +=
                    !solved(&d, 60, &arena, &plain) && plain.bound.finish < a.bound.finish;
                reached += a.bound.lateness == b.lateness && a.bound.finish == b.finish;
                compared++;
            }
            arena_free(&arena);
        }
        printf("compared %d, bound raised by set-ups %d, bound is the best %d, of those late %d\n",
               compared, work_alone, reached, late_reached);
        CHECK(3 * compared > 2 * CROWDED && 15 * work_alone > CROWDED &&
              150 * late_reached > CROWDED);
    }
}

int main(void) {
    static struct drawn d;
    static struct brute b;
    int same = 0, better = 0, proven = 0, impossible = 0, none = 0;
    CASE("workshops: never better than brute force, bound never above it, proofs true") {
        for (uint64_t seed = 0; seed < SHOPS; seed++) {
            draw_shop(&d, seed * 7 + 1, seed % 10 ? 2 + (int)(seed % 2) : 4);
            struct arena arena;
            arena_init(&arena, alloc_heap(), 0);
            struct timetable_answer a;
            struct why why = {0};
            enum status st =
                timetable_solve(&d.problem, (struct limit){.steps = 200}, 1, &arena, &a, &why);
            if (st == OK) CHECK(!timetable_judge(&d.problem, &a));
            if (st == OK && a.score.finish > HORIZON - 4) { /* beyond what is walked */
                arena_free(&arena);
                continue;
            }
            /* look only for what is as good or better: much less to walk */
            walk_below(&b, &d.problem, st ? INT64_MAX : a.score.lateness,
                       st ? INT64_MAX : a.score.finish + 1);
            bool exists = b.finish != INT64_MAX;
            if (st == E_IMPOSSIBLE) {
                impossible++;
                if (exists && !strstr(why.field, "/holds")) {
                    printf("seed %d: called impossible: %s\n", (int)seed, why.text);
                    CHECK(!exists);
                }
            } else if (st == E_LIMIT) {
                none += exists;
            } else {
                CHECK(st == OK);
                /* not found again: the brute force does not reach what the solver found */
                CHECK(b.lateness != a.score.lateness || b.finish <= a.score.finish);
                bool equal = a.score.lateness == b.lateness && a.score.finish == b.finish;
                bool beats = a.score.lateness < b.lateness ||
                             (a.score.lateness == b.lateness && a.score.finish < b.finish);
                bool above = a.bound.lateness > b.lateness || a.bound.finish > b.finish;
                if (beats || above || (a.proven && !equal))
                    printf("seed %d: solver %d %d bound %d %d brute %d %d\n", (int)seed,
                           (int)a.score.lateness, (int)a.score.finish, (int)a.bound.lateness,
                           (int)a.bound.finish, (int)b.lateness, (int)b.finish);
                CHECK(!beats && !above && !(a.proven && !equal));
                same += equal, better += !equal, proven += a.proven;
            }
            arena_free(&arena);
        }
        printf("best %d, not best %d, proven %d, impossible %d, missed %d\n", same, better, proven,
               impossible, none);
        CHECK(same >= 98 * (same + better + none) / 100);
    }
    cases_places("crowded workshops: what drying places prove is never above the best", draw_crowd,
                 30);
    cases_places("workshops of coats alike: places, hands and order prove nothing above the best",
                 draw_coats, 5);
    cases_tools();
    return check_done();
}
