#include "core/work/day_recoat.h"

#include "core/timetable/climate.h"

enum { GRID_MIN = 15, AHEAD_DAYS = 21 };

struct asked {
    const struct timetable_problem *p;
    const struct timetable_lag *lag;
    struct drying dries;
    bool by_air; /* by dries; else by the clock */
};

static int64_t after(const struct asked *a, int64_t at, int64_t minutes) {
    return drying_after(a->by_air ? &a->dries : NULL, at, minutes);
}

static int32_t setup_of(const struct asked *a, int task, bool before) {
    int row = a->p->tasks[task].setup;
    if (row == TIMETABLE_NONE) return 0;
    return before ? a->p->setups[row].setup_min : a->p->setups[row].cleanup_min;
}

/* Can somebody lay the next coat on in its window, when the film below is on at `end`? */
static bool in_time(const struct asked *a, int64_t end) {
    const struct timetable_task *to = &a->p->tasks[a->lag->to];
    int64_t first = after(a, end, a->lag->min_min), last = after(a, end, a->lag->max_min);
    if (first < a->p->now) first = a->p->now;
    int64_t need = to->pausable ? 1 : to->work_min + setup_of(a, a->lag->to, false);
    for (int q = 0; q < a->p->persons_n; q++) {
        const struct timetable_person *who = &a->p->persons[q];
        if (to->skills & ~who->skills) continue;
        for (int i = 0; i < who->windows_n && who->windows[i].from <= last; i++) {
            int64_t from = who->windows[i].from + setup_of(a, a->lag->to, true);
            int64_t start = from > first ? from : first;
            if (start <= last && start + need <= who->windows[i].to) return true;
        }
    }
    return false;
}

/* Is there an hour at which the film below can be finished so that the next is in time? */
static bool keepable(const struct asked *a) {
    const struct timetable_task *of = &a->p->tasks[a->lag->from];
    if (of->state == TIMETABLE_FIXED) return in_time(a, of->fixed_end);
    int64_t need = of->pausable ? 1 : of->work_min + setup_of(a, a->lag->from, true);
    for (int q = 0; q < a->p->persons_n; q++) {
        const struct timetable_person *who = &a->p->persons[q];
        int64_t until = a->p->now + AHEAD_DAYS * 1440;
        if (of->skills & ~who->skills) continue;
        for (int i = 0; i < who->windows_n && who->windows[i].from < until; i++) {
            int64_t from = who->windows[i].from > a->p->now ? who->windows[i].from : a->p->now;
            for (int64_t end = from + need; end <= who->windows[i].to; end += GRID_MIN)
                if (in_time(a, end)) return true;
        }
    }
    return false;
}

static bool is_window(const struct day_tasks *d, size_t i) {
    const struct timetable_lag *lag = &d->lags[i];
    return lag->max_min != TIMETABLE_UNSAID && lag->scuff_min > 0 &&
           d->meta[lag->to].pot_lag != (int)i;
}

static void say(struct ledger *l, struct notices *out, const char *text, const char *remedy) {
    struct notice *n =
        text ? notice_add(l, out, RANK_MIND, "window", text, "CP", CERTAINTY_COMMON) : NULL;
    if (n) n->remedy = remedy;
}

static const char remedy[] = "Open longer on one day, or take a product that waits longer.";

enum status day_recoat_find(const struct timetable_problem *p, const struct day_tasks *d,
                            const struct plan *plan, struct ledger *l, struct notices *out,
                            struct day_recoat *r) {
    r->price = arena_array(l->arena, d->lags_n + 1, sizeof *r->price);
    r->keepable = arena_array(l->arena, d->lags_n + 1, sizeof *r->keepable);
    struct drying *air = arena_array(l->arena, d->climates_n + 1, sizeof *air);
    size_t lost = 0;
    int lost_n = 0;
    if (!r->price || !r->keepable || !air) return E_MEMORY;
    for (size_t c = 0; c < d->climates_n; c++) {
        size_t rows = (size_t)d->climates[c].rates_n;
        int *near = arena_array(l->arena, DRYING_NEAR * rows + 1, sizeof *near);
        if (!near) return E_MEMORY;
        air[c] = drying_make(&d->climates[c], near);
    }
    for (size_t i = 0; i < d->lags_n; i++) {
        const struct timetable_lag *lag = &d->lags[i];
        struct asked a = {.p = p, .lag = lag, .by_air = lag->climate != TIMETABLE_NONE};
        if (a.by_air) a.dries = air[lag->climate];
        r->price[i] = lag->scuff_min;
        bool open = is_window(d, i) && d->tasks[lag->to].state == TIMETABLE_OPEN;
        r->keepable[i] = open && keepable(&a);
        if (open && !r->keepable[i] && !lost_n++) lost = i;
    }
    if (!lost_n) return OK;
    const struct day_meta *m = &d->meta[d->lags[lost].from];
    say(l, out,
        arena_print(l->arena,
                    "%s, %s: the hours do not let the next coat on in its window, so it is planned "
                    "with a scuff all the same%s.",
                    plan->pieces[m->piece].title, m->name,
                    lost_n > 1 ? arena_print(l->arena, "; %d more like it", lost_n - 1) : ""),
        remedy);
    return OK;
}

static bool moved(const struct timetable_answer *a, const struct timetable_answer *old,
                  const int *old_task, int i) {
    return !old || old_task[i] == TIMETABLE_NONE ||
           a->places[i].start != old->places[old_task[i]].start;
}

bool day_recoat_missed(const struct day_tasks *d, const struct day_recoat *r,
                       const struct timetable_answer *a, const struct timetable_answer *old,
                       const int *old_task) {
    for (size_t i = 0; i < d->lags_n; i++)
        if (r->keepable[i] && a->lags[i].missed &&
            (moved(a, old, old_task, d->lags[i].from) || moved(a, old, old_task, d->lags[i].to)))
            return true;
    return false;
}

void day_recoat_tighten(struct day_tasks *d, const struct day_recoat *r, int64_t from_min) {
    for (size_t i = 0; i < d->lags_n; i++)
        d->lags[i].scuff_min = r->keepable[i] && d->lags[i].max_min >= from_min ? -1 : r->price[i];
}

void day_recoat_say_loose(struct ledger *l, struct notices *out) {
    say(l, out,
        "No order of the work was found that keeps every recoat window. Some are planned to pass, "
        "with a scuff each.",
        remedy);
}
