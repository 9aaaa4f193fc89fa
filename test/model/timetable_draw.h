/* Random small workshops for the model tests; the same seed draws the same one. */
#ifndef TEST_MODEL_TIMETABLE_DRAW_H
#define TEST_MODEL_TIMETABLE_DRAW_H

#include "core/base/random.h"
#include "core/timetable/timetable.h"

struct drawn {
    struct timetable_problem problem;
    struct timetable_task task[12];
    struct timetable_lag lag[24];
    struct timetable_person person[2];
    struct timetable_span window[2][8];
    struct timetable_resource resource[2];
    struct timetable_span shut[4];
    struct timetable_hold hold[8];
    struct timetable_setup setup[2];
    struct timetable_climate climate[1];
    struct timetable_rate rate[6];
};

/* The second resource is shut now and then, in every second workshop. */
static inline void draw_shut(struct drawn *d, uint64_t seed) {
    struct random r;
    random_seed(&r, seed ^ 0x3c3c);
    if (random_below(&r, 2)) return;
    int64_t t = (int64_t)random_below(&r, 6);
    for (int k = 0; k < 4; k++) {
        d->shut[k].from = t;
        d->shut[k].to = t + 1 + (int64_t)random_below(&r, 6);
        t = d->shut[k].to + 1 + (int64_t)random_below(&r, 9);
    }
    d->resource[1].shut = d->shut;
    d->resource[1].shut_n = 4;
}

/* tasks: 1..12. Short days of few minutes, so that a brute force can walk every start. */
static inline void draw_shop(struct drawn *d, uint64_t seed, int tasks) {
    struct random r;
    random_seed(&r, seed);
    *d = (struct drawn){0};
    int persons = 1 + (random_below(&r, 3) == 0);
    for (int q = 0; q < persons; q++) {
        int64_t t = (int64_t)random_below(&r, 3);
        for (int k = 0; k < 8; k++) {
            int64_t len = 4 + (int64_t)random_below(&r, 6);
            d->window[q][k] = (struct timetable_span){t, t + len};
            t += len + 1 + (int64_t)random_below(&r, 5);
        }
        d->person[q] = (struct timetable_person){NULL, 1u + 2u * (uint32_t)q, d->window[q], 8};
    }
    int64_t at = 0;
    for (int k = 0; k < 6; k++) {
        d->rate[k] =
            (struct timetable_rate){at, k == 5 ? 1000 : (int32_t)random_below(&r, 5) * 500};
        at += 1 + (int64_t)random_below(&r, 10);
    }
    d->climate[0] = (struct timetable_climate){d->rate, 6};
    for (int k = 0; k < 2; k++) {
        d->resource[k].capacity = 1 + (int32_t)random_below(&r, 3);
        d->setup[k] =
            (struct timetable_setup){NULL, (int32_t)random_below(&r, 2),
                                     (int32_t)random_below(&r, 2), (int32_t)random_below(&r, 5)};
    }
    for (int i = 0; i < tasks; i++) {
        struct timetable_task *t = &d->task[i];
        *t = timetable_work((int32_t)random_below(&r, 4));
        t->pausable = random_below(&r, 2);
        t->skills = random_below(&r, 4) ? 1 : 0;
        t->piece = i % 2;
        t->setup = (int)random_below(&r, 4) - 2;
        if (t->setup < 0) t->setup = TIMETABLE_NONE;
        if (random_below(&r, 5) == 0) t->person = TIMETABLE_NOBODY, t->setup = TIMETABLE_NONE;
        if (persons == 2 && random_below(&r, 5) == 0) t->person = 1;
        if (random_below(&r, 4) == 0) t->release = (int64_t)random_below(&r, 12);
        if (random_below(&r, 2))
            t->due = 4 + (int64_t)random_below(&r, 16),
            t->weight = 1 + (int32_t)random_below(&r, 3);
    }
    int lags = 0, holds = 0;
    for (int i = 1; i < tasks; i++)
        for (int n = 0; n < 2 && lags < 24; n++) {
            if (random_below(&r, 5) < 2) continue;
            struct timetable_lag *l = &d->lag[lags++];
            *l = (struct timetable_lag){.from = (int)random_below(&r, (uint32_t)i),
                                        .to = i,
                                        .from_start = random_below(&r, 4) == 0,
                                        .min_min = (int64_t)random_below(&r, 7),
                                        .max_min = TIMETABLE_UNSAID,
                                        .climate = random_below(&r, 2) ? 0 : TIMETABLE_NONE,
                                        .scuff_min = -1};
            if (random_below(&r, 3) == 0) {
                l->max_min = l->min_min + (int64_t)random_below(&r, 8);
                if (random_below(&r, 3)) l->scuff_min = 1 + (int32_t)random_below(&r, 2);
            }
            if (random_below(&r, 3) == 0 && holds < 8)
                d->hold[holds++] = (struct timetable_hold){l->from, l->from,
                                                           (int)random_below(&r, 2), 1, lags - 1};
        }
    for (int k = 0; k < holds; k++) {
        int32_t cap = d->resource[d->hold[k].resource].capacity;
        if (cap > 1 && random_below(&r, 2)) d->hold[k].amount = 2;
    }
    d->problem = (struct timetable_problem){.now = 0,
                                            .tasks = d->task,
                                            .lags = d->lag,
                                            .persons = d->person,
                                            .resources = d->resource,
                                            .holds = d->hold,
                                            .setups = d->setup,
                                            .climates = d->climate,
                                            .tasks_n = tasks,
                                            .lags_n = lags,
                                            .persons_n = persons,
                                            .resources_n = 2,
                                            .holds_n = holds,
                                            .setups_n = 2,
                                            .climates_n = 1,
                                            .sitting_gap_min = 1};
    draw_shut(d, seed);
}

/* The same crowded: one place to dry on, every coat holds it, chains of coats on short days. */
static inline void draw_crowded(struct drawn *d, uint64_t seed, int tasks) {
    struct random r;
    draw_shop(d, seed, tasks);
    random_seed(&r, seed ^ 0x5a5a);
    struct timetable_problem *p = &d->problem;
    p->lags_n = p->holds_n = 0;
    for (int k = 0; k < 2; k++)
        d->setup[k] =
            (struct timetable_setup){NULL, (int32_t)random_below(&r, 3),
                                     (int32_t)random_below(&r, 3), (int32_t)random_below(&r, 4)};
    d->resource[0].capacity = 1 + (int32_t)random_below(&r, 2);
    for (int i = 0; i < tasks; i++) {
        struct timetable_task *t = &d->task[i];
        t->work_min = 1 + (int32_t)random_below(&r, 2);
        t->person = TIMETABLE_ANYBODY;
        t->skills = 0;
        t->pausable = random_below(&r, 6) == 0;
        t->setup = (int)random_below(&r, 3) - 1;
        t->release = TIMETABLE_UNSAID;
        if (i + 1 == tasks) continue;
        int k = p->lags_n++;
        d->lag[k] = (struct timetable_lag){.from = i,
                                           .to = i + 1 + (random_below(&r, 2) && i + 2 < tasks),
                                           .min_min = 1 + (int64_t)random_below(&r, 6),
                                           .max_min = TIMETABLE_UNSAID,
                                           .climate = random_below(&r, 2) ? 0 : TIMETABLE_NONE,
                                           .scuff_min = -1};
        d->hold[p->holds_n++] = (struct timetable_hold){i, i, 0, 1, k};
    }
}

/* Hands and tools are what is short: one or two tools for all, nothing that may pause, set-ups as
 * long as the work, places that only one coat or two can dry on. */
static inline void draw_tools(struct drawn *d, uint64_t seed, int tasks) {
    struct random r;
    draw_crowded(d, seed, tasks);
    random_seed(&r, seed ^ 0xa5a5);
    struct timetable_problem *p = &d->problem;
    int rows = 1 + (int)random_below(&r, 2);
    for (int k = 0; k < 2; k++)
        d->setup[k] =
            (struct timetable_setup){NULL, 1 + (int32_t)random_below(&r, 2),
                                     (int32_t)random_below(&r, 3), (int32_t)random_below(&r, 5)};
    bool dry = random_below(&r, 2);
    if (!dry) p->holds_n = 0;
    for (int i = 0; i < tasks; i++) {
        struct timetable_task *t = &d->task[i];
        t->pausable = random_below(&r, 8) == 0;
        t->setup = (int)random_below(&r, (uint32_t)rows);
        t->due = TIMETABLE_UNSAID;
        if (seed % 2 && random_below(&r, 2)) t->due = 4 + (int64_t)random_below(&r, 12);
        t->weight = 1 + (int32_t)random_below(&r, 3);
    }
    for (int k = 0; k < p->lags_n; k++) {
        bool free = random_below(&r, 2);
        d->lag[k].min_min = free ? 0 : 1 + (int64_t)random_below(&r, 3);
        if (free) d->lag[k].from_start = true, d->lag[k].climate = TIMETABLE_NONE;
    }
}

/* Coats that are all alike, two to a piece: what counts is how many begin by when, how many
 * hands there are, and what must come first. No tools, no dates. */
static inline void draw_alike(struct drawn *d, uint64_t seed, int tasks) {
    struct random r;
    draw_crowded(d, seed, tasks);
    random_seed(&r, seed ^ 0x33cc);
    struct timetable_problem *p = &d->problem;
    int32_t work = 1 + (int32_t)random_below(&r, 3);
    int64_t dry = 1 + (int64_t)random_below(&r, 5);
    int climate = random_below(&r, 2) ? 0 : TIMETABLE_NONE;
    bool follow = random_below(&r, 4);
    d->resource[0].capacity = 1 + (int32_t)random_below(&r, 3);
    p->lags_n = p->holds_n = 0;
    for (int i = 0; i < tasks; i++) {
        struct timetable_task *t = &d->task[i];
        t->work_min = work;
        t->pausable = false;
        t->setup = TIMETABLE_NONE;
        t->due = TIMETABLE_UNSAID;
        if (random_below(&r, 3) == 0) t->release = (int64_t)random_below(&r, 8);
        int lag = TIMETABLE_NONE;
        if (i % 2 == 0 && i + 1 < tasks && follow) {
            lag = p->lags_n++;
            d->lag[lag] = (struct timetable_lag){.from = i,
                                                 .to = i + 1,
                                                 .min_min = dry,
                                                 .max_min = TIMETABLE_UNSAID,
                                                 .climate = climate,
                                                 .scuff_min = -1};
        }
        d->hold[p->holds_n++] = (struct timetable_hold){i, i, 0, 1, lag};
    }
}

#endif
