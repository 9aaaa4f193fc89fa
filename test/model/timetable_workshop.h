/* A workshop of realistic size for bench and tests: pieces x 40 tasks (take-down, four groups of
 * parts with eight steps each, assembly), drying by day and night, recoat windows, shared set-ups,
 * four drying places, one to three people. Durations and dates are drawn from the seed. */
#ifndef TEST_MODEL_TIMETABLE_WORKSHOP_H
#define TEST_MODEL_TIMETABLE_WORKSHOP_H

#include "core/base/random.h"
#include "core/timetable/timetable.h"

enum {
    WORKSHOP_DAYS = 400,
    WORKSHOP_PER_PIECE = 40,
    WORKSHOP_PIECES = 50,
    WORKSHOP_TASKS = WORKSHOP_PIECES * WORKSHOP_PER_PIECE,
};

struct workshop {
    struct timetable_problem problem;
    struct timetable_task task[WORKSHOP_TASKS];
    struct timetable_lag lag[2 * WORKSHOP_TASKS];
    struct timetable_hold hold[WORKSHOP_TASKS];
    struct timetable_person person[3];
    struct timetable_span window[3][2 * WORKSHOP_DAYS];
    struct timetable_resource resource[2];
    struct timetable_setup setup[12];
    struct timetable_rate rate[2 * WORKSHOP_DAYS];
    struct timetable_climate climate[1];
    struct random random;
};

static inline int workshop_task(struct workshop *w, int piece, int32_t min, int setup,
                                bool pausable) {
    int i = w->problem.tasks_n++;
    w->task[i] = timetable_work(min + 5 * (int32_t)random_below(&w->random, 5));
    w->task[i].pausable = pausable, w->task[i].piece = piece, w->task[i].setup = setup;
    return i;
}

static inline int workshop_lag(struct workshop *w, int from, int to, int64_t min, int64_t max,
                               int32_t scuff) {
    int k = w->problem.lags_n++;
    w->lag[k] =
        (struct timetable_lag){NULL, from, to, false, min, max, min ? 0 : TIMETABLE_NONE, scuff};
    return k;
}

/* One group of parts: clean, scuff, prime, nib, color, color, clear, clear. Returns the last. */
static inline int workshop_group(struct workshop *w, int piece, int before) {
    static const int64_t dry[5] = {120, 240, 240, 120, 120}; /* prime, 2 color, 2 clear */
    int product = 3 * (piece % 4);
    int clean = workshop_task(w, piece, 10, TIMETABLE_NONE, true);
    int scuff = workshop_task(w, piece, 15, TIMETABLE_NONE, true);
    workshop_lag(w, before, clean, 0, TIMETABLE_UNSAID, -1);
    workshop_lag(w, clean, scuff, 60, TIMETABLE_UNSAID, -1);
    int last = scuff, lag = -1;
    for (int step = 0; step < 6; step++) {
        bool nib = step == 1;
        int coat = step - (step > 1);
        int setup = nib ? TIMETABLE_NONE : product + (coat > 0) + (coat > 2);
        int i = workshop_task(w, piece, nib ? 5 : 10, setup, nib);
        if (lag < 0)
            workshop_lag(w, last, i, 0, TIMETABLE_UNSAID, -1);
        else {
            w->lag[lag].to = i;
            if (step == 5) w->lag[lag].max_min = 2880, w->lag[lag].scuff_min = 10;
        }
        lag = -1;
        if (!nib) {
            lag = workshop_lag(w, i, i, dry[coat], TIMETABLE_UNSAID, -1);
            w->hold[w->problem.holds_n++] = (struct timetable_hold){i, i, 0, 1, lag};
        }
        last = i;
    }
    return lag;
}

static inline void workshop_hours(struct workshop *w, int people) {
    for (int q = 0; q < people; q++) {
        int n = 0;
        for (int day = 0; day < WORKSHOP_DAYS; day++) {
            int64_t at = (int64_t)day * 1440;
            if (day % 7 > 4) continue;
            w->window[q][n++] = (struct timetable_span){at + 480, at + 720};
            if (q < 2) w->window[q][n++] = (struct timetable_span){at + 765, at + 1020};
        }
        w->person[q] = (struct timetable_person){NULL, 0, w->window[q], n};
    }
    for (int day = 0; day < WORKSHOP_DAYS; day++) {
        w->rate[2 * day] = (struct timetable_rate){(int64_t)day * 1440 + 420, 1000};
        w->rate[2 * day + 1] = (struct timetable_rate){(int64_t)day * 1440 + 1140, 600};
    }
}

/* pieces 1..WORKSHOP_PIECES, people 1..3, places: drying places. slack: working days that a piece
 * in turn is promised after the one before. */
static inline void workshop_draw(struct workshop *w, uint64_t seed, int pieces, int people,
                                 int places, int slack) {
    *w = (struct workshop){0};
    random_seed(&w->random, seed);
    workshop_hours(w, people);
    w->problem.now = 480;
    for (int k = 0; k < 12; k++) w->setup[k] = (struct timetable_setup){NULL, 5, 10, 45};
    for (int piece = 0; piece < pieces; piece++) {
        int survey = workshop_task(w, piece, 15, TIMETABLE_NONE, true);
        int take_down = workshop_task(w, piece, 30, TIMETABLE_NONE, true);
        int repair = workshop_task(w, piece, 40, TIMETABLE_NONE, true);
        int fill = workshop_task(w, piece, 20, TIMETABLE_NONE, true);
        workshop_lag(w, survey, take_down, 0, TIMETABLE_UNSAID, -1);
        workshop_lag(w, take_down, repair, 0, TIMETABLE_UNSAID, -1);
        workshop_lag(w, repair, fill, 0, TIMETABLE_UNSAID, -1);
        int lag[4];
        for (int g = 0; g < 4; g++) lag[g] = workshop_group(w, piece, g % 2 ? take_down : fill);
        int hang = workshop_task(w, piece, 30, TIMETABLE_NONE, true);
        for (int g = 0; g < 4; g++) {
            w->lag[lag[g]].to = hang;
            w->lag[lag[g]].min_min = 1440;
            w->hold[w->problem.holds_n - 1 - 5 * (3 - g)].until_lag = TIMETABLE_NONE;
        }
        int fittings = workshop_task(w, piece, 20, TIMETABLE_NONE, true);
        int check = workshop_task(w, piece, 10, TIMETABLE_NONE, true);
        int pack = workshop_task(w, piece, 20, TIMETABLE_NONE, true);
        workshop_lag(w, hang, fittings, 0, TIMETABLE_UNSAID, -1);
        workshop_lag(w, fittings, check, 0, TIMETABLE_UNSAID, -1);
        workshop_lag(w, check, pack, 0, TIMETABLE_UNSAID, -1);
        int64_t day = 4 + (int64_t)(piece + 1) * slack + (int64_t)random_below(&w->random, 3);
        w->task[pack].due = (day / 5 * 7 + day % 5) * 1440 + 1020;
        w->task[pack].weight = 1 + (int32_t)random_below(&w->random, 3);
    }
    w->resource[0].capacity = places;
    w->climate[0] = (struct timetable_climate){w->rate, 2 * WORKSHOP_DAYS};
    struct timetable_problem *p = &w->problem;
    p->tasks = w->task;
    p->lags = w->lag;
    p->persons = w->person;
    p->resources = w->resource;
    p->holds = w->hold;
    p->setups = w->setup;
    p->climates = w->climate;
    p->persons_n = people;
    p->resources_n = 1;
    p->setups_n = 12;
    p->climates_n = 1;
    p->sitting_gap_min = 60;
}

#endif
