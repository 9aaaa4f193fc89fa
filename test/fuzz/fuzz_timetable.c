/* Timetables: any problem, malformed ones too, gives an error with words or an answer in which the
 * independent judge finds no rule broken; so does a re-plan of it some hours later. */
#include "core/timetable/timetable.h"
#include "test/fuzz/fuzz.h"
#include "test/model/timetable_judge.h"

#include <stdio.h>
#include <stdlib.h>

enum { TASKS = 10, LAGS = 14, WINDOWS = 10, STEPS = 110 };

struct bytes {
    const uint8_t *at;
    size_t left;
};

/* Next byte as a number below n; 255 stands for one that may be out of range. */
static int next(struct bytes *b, int n) {
    int v = 0;
    if (b->left) v = *b->at++, b->left--;
    return v == 255 ? -1 - n : v % (n > 0 ? n : 1);
}

struct world {
    struct timetable_problem p;
    struct timetable_task task[TASKS];
    struct timetable_lag lag[LAGS];
    struct timetable_span window[2][WINDOWS];
    struct timetable_person person[2];
    struct timetable_resource resource[2];
    struct timetable_hold hold[TASKS];
    struct timetable_setup setup[2];
    struct timetable_rate rate[4];
    struct timetable_climate climate[1];
};

static int64_t maybe(struct bytes *b, int n) {
    return next(b, 3) ? TIMETABLE_UNSAID : next(b, n);
}

static int count(struct bytes *b, int most) {
    int n = next(b, most + 1);
    return n < 0 || n > most ? most : n;
}

static void world_draw(struct world *w, struct bytes *b) {
    *w = (struct world){0};
    struct timetable_problem *p = &w->p;
    *p = (struct timetable_problem){.tasks = w->task,
                                    .lags = w->lag,
                                    .persons = w->person,
                                    .resources = w->resource,
                                    .holds = w->hold,
                                    .setups = w->setup,
                                    .climates = w->climate,
                                    .tasks_n = count(b, TASKS),
                                    .lags_n = count(b, LAGS),
                                    .persons_n = count(b, 2),
                                    .resources_n = count(b, 2),
                                    .holds_n = count(b, TASKS),
                                    .setups_n = 2,
                                    .climates_n = 1,
                                    .sitting_gap_min = next(b, 4)};
    for (int q = 0; q < 2; q++) {
        int64_t t = next(b, 4);
        for (int k = 0; k < WINDOWS; k++) {
            int64_t end = t + 3 + next(b, 12);
            w->window[q][k] = (struct timetable_span){t, end};
            t = end + 1 + next(b, 10);
        }
        w->person[q] = (struct timetable_person){NULL, (uint32_t)next(b, 4), w->window[q], WINDOWS};
        w->resource[q].capacity = next(b, 4);
        w->setup[q] = (struct timetable_setup){NULL, next(b, 4), next(b, 4), next(b, 6)};
    }
    for (int k = 0; k < 4; k++) w->rate[k] = (struct timetable_rate){9 * k, 500 + 500 * next(b, 3)};
    w->climate[0] = (struct timetable_climate){w->rate, 4};
    for (int i = 0; i < p->tasks_n; i++) {
        struct timetable_task *t = &w->task[i];
        t->work_min = next(b, 6), t->pausable = next(b, 2) == 1,
        t->person = next(b, p->persons_n + 2) - 2;
        t->skills = (uint32_t)next(b, 2), t->piece = next(b, 3) - 1, t->setup = next(b, 3) - 1;
        t->release = maybe(b, 30), t->due = maybe(b, 60), t->weight = next(b, 4);
        t->wait = next(b, 9) ? TIMETABLE_UNSAID : next(b, 2) ? 12 : TIMETABLE_UNKNOWN;
    }
    for (int k = 0; k < p->lags_n; k++) {
        struct timetable_lag *l = &w->lag[k];
        l->from = next(b, p->tasks_n), l->to = next(b, p->tasks_n);
        if (next(b, 8) && l->from > l->to) { /* most of them forward, so that there is an answer */
            int other = l->from;
            l->from = l->to, l->to = other;
        }
        if (l->from == l->to && l->to + 1 < p->tasks_n) l->to++;
        l->from_start = next(b, 4) == 1;
        l->min_min = next(b, 4) ? next(b, 12) : TIMETABLE_UNSAID;
        l->max_min = next(b, 3) ? TIMETABLE_UNSAID : 12 + next(b, 30);
        l->climate = next(b, 2) - 1, l->scuff_min = next(b, 4) - 1;
        if (l->climate == 0 && next(b, 2)) l->from_start = false;
    }
    for (int k = 0; k < p->holds_n; k++) {
        struct timetable_hold *h = &w->hold[k];
        h->first = next(b, p->tasks_n), h->last = next(b, 3) ? h->first : next(b, p->tasks_n);
        h->resource = next(b, p->resources_n), h->amount = next(b, 3);
        h->until_lag = next(b, p->lags_n + 1) - 1;
        for (int m = 0; m < p->lags_n && next(b, 16); m++)
            if (w->lag[m].from == h->last) h->until_lag = m;
        if (h->until_lag >= 0 && h->until_lag < p->lags_n &&
            (w->lag[h->until_lag].from != h->last ||
             w->lag[h->until_lag].min_min == TIMETABLE_UNSAID))
            h->until_lag = TIMETABLE_NONE;
    }
}

static void judge(const struct timetable_problem *p, const struct timetable_answer *a) {
    const char *bad = timetable_judge(p, a);
    if (!bad) return;
    fprintf(stderr, "%s\n", bad);
    abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    static struct world w;
    struct bytes b = {data, size};
    struct arena arena;
    struct timetable_answer a, again;
    struct timetable_change *changes;
    struct why why = {0};
    int n;
    world_draw(&w, &b);
    arena_init(&arena, alloc_heap(), (size_t)64 << 20);
    enum status s = timetable_solve(&w.p, (struct limit){.steps = STEPS}, 1, &arena, &a, &why);
    if (s && !why.text[0]) abort();
    if (!s) {
        judge(&w.p, &a);
        w.p.now = 15;
        for (int i = 0; i < w.p.tasks_n; i++) {
            const struct timetable_place *x = &a.places[i];
            if (x->blocked || x->block_from >= w.p.now) continue;
            w.task[i].state = TIMETABLE_FIXED;
            w.task[i].fixed_start = x->start, w.task[i].fixed_end = x->end + next(&b, 5);
            if (w.task[i].fixed_end < x->end) w.task[i].fixed_end = x->end;
            w.task[i].fixed_person = x->person;
        }
        s = timetable_replan(&w.p, &a, NULL, (struct limit){.steps = STEPS}, 1, &arena, &again,
                             &changes, &n, &why);
        if (s && !why.text[0]) abort();
        if (!s) judge(&w.p, &again);
    }
    arena_free(&arena);
    return 0;
}
