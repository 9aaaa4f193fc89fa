/* The realistic shop: 6 pieces x 40 tasks, working hours, 4 drying places, one to three people.
 * Prints, per shop, time to the first answer, the answer after S processor seconds and how far it
 * is above its own bound, and what a re-plan after one slip costs and moves.
 *
 *   timetable_shop [--seconds S] [--seeds N] [--people P] [--search-seed R] */
#include "bench/cpu_time.h"
#include "test/model/timetable_judge.h"
#include "test/model/timetable_workshop.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct workshop shop;

/* Tasks that the slip pushes: those of its person in the way, and what lags hang on them. */
static void mark_touched(const struct timetable_answer *a, int slipped, int64_t until,
                         bool *touched) {
    for (int i = 0; i < shop.problem.tasks_n; i++) {
        const struct timetable_place *x = &a->places[i], *s = &a->places[slipped];
        touched[i] = i == slipped ||
                     (x->person == s->person && x->block_from < until && x->block_from >= s->end);
    }
    bool more = true;
    while (more) {
        more = false;
        for (int k = 0; k < shop.problem.lags_n; k++)
            if (touched[shop.lag[k].from] && !touched[shop.lag[k].to])
                more = touched[shop.lag[k].to] = true;
    }
}

/* On the third day at ten the task begun last takes `slip` minutes longer. */
static bool replan(const struct timetable_answer *a, int64_t slip, struct arena *arena) {
    static bool touched[WORKSHOP_TASKS];
    struct timetable_answer b;
    struct timetable_change *changes;
    struct why why = {0};
    int n = 0, slipped = 0, moved = 0, stray = 0, untouched = 0;
    shop.problem.now = 2 * 1440 + 600;
    for (int i = 0; i < shop.problem.tasks_n; i++) {
        struct timetable_task *t = &shop.task[i];
        const struct timetable_place *x = &a->places[i];
        t->state = TIMETABLE_OPEN;
        if (x->block_from >= shop.problem.now) continue;
        t->state = TIMETABLE_FIXED;
        t->fixed_start = x->start, t->fixed_end = x->end, t->fixed_person = x->person;
        if (x->start > a->places[slipped].start) slipped = i;
    }
    shop.task[slipped].fixed_end += slip;
    mark_touched(a, slipped, shop.task[slipped].fixed_end, touched);
    double t0 = cpu_seconds();
    enum status st = timetable_replan(&shop.problem, a, NULL, (struct limit){0}, 1, arena, &b,
                                      &changes, &n, &why);
    double took = cpu_seconds() - t0;
    const char *bad = st ? why.text : timetable_judge(&shop.problem, &b);
    for (int i = 0; !bad && i < shop.problem.tasks_n; i++) {
        if (shop.task[i].state != TIMETABLE_OPEN) continue;
        bool is = a->places[i].start != b.places[i].start;
        moved += is;
        stray += is && !touched[i] && slip > 0;
        untouched += !touched[i];
    }
    if (bad)
        printf("  re-plan: %s\n", bad);
    else
        printf("  %2d min slip: %.1f ms, %d moved, of them %d of %d untouched; late %lld -> %lld\n",
               (int)slip, took * 1e3, moved, stray, untouched, (long long)a->score.lateness,
               (long long)b.score.lateness);
    return !bad;
}

static bool run(uint64_t seed, int people, int slack, double seconds, uint64_t search_seed) {
    struct arena arena;
    struct timetable_answer first, a;
    struct why why = {0};
    workshop_draw(&shop, seed, 6, people, 4, slack);
    arena_init(&arena, alloc_heap(), 0);
    double t0 = cpu_seconds();
    enum status st =
        timetable_solve(&shop.problem, (struct limit){.steps = 1}, 1, &arena, &first, &why);
    double t1 = cpu_seconds(), end = t1 + seconds;
    if (!st)
        st = timetable_solve(&shop.problem, (struct limit){.stop = cpu_past, .ctx = &end},
                             search_seed, &arena, &a, &why);
    double t2 = cpu_seconds();
    const char *bad = st ? why.text : timetable_judge(&shop.problem, &a);
    if (bad) {
        printf("seed %d, %d people: %s\n", (int)seed, people, bad);
        arena_free(&arena);
        return false;
    }
    printf(
        "seed %2d people %d slack %d: %d tasks, first %.1f ms, %.2f s %llu tried; late %lld (bound "
        "%lld) finish %.1f d (bound %.1f) sittings %d -> %d; %s, gap %.2f %%\n",
        (int)seed, people, slack, shop.problem.tasks_n, (t1 - t0) * 1e3, t2 - t1,
        (unsigned long long)a.steps, (long long)a.score.lateness, (long long)a.bound.lateness,
        (double)a.score.finish / 1440, (double)a.bound.finish / 1440, first.score.sittings,
        a.score.sittings, a.proven ? "proven" : "not proven", a.gap_percent);
    bool calm = replan(&a, 0, &arena), slipped = replan(&a, 75, &arena);
    arena_free(&arena);
    return calm && slipped;
}

int main(int argc, char **argv) {
    double seconds = 1;
    int seeds = 3, least = 1, most = 3, bad = 0;
    uint64_t search_seed = 1;
    for (int i = 1; i + 1 < argc; i += 2) {
        if (!strcmp(argv[i], "--seconds")) seconds = atof(argv[i + 1]);
        if (!strcmp(argv[i], "--seeds")) seeds = atoi(argv[i + 1]);
        if (!strcmp(argv[i], "--people")) least = most = atoi(argv[i + 1]);
        if (!strcmp(argv[i], "--search-seed")) search_seed = strtoull(argv[i + 1], NULL, 10);
    }
    for (int people = least; people <= most; people++)
        for (int seed = 1; seed <= seeds; seed++)
            bad += !run((uint64_t)seed, people, seed % 2 ? 4 : 2, seconds, search_seed);
    return bad != 0;
}
