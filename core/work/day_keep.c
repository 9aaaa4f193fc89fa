#include "core/work/day_keep.h"

#include <string.h>

/* A tool that was laid down a moment ago is still wet. */
static bool still_wet(const struct day_tasks *d, const struct timetable_task *task, int64_t now) {
    return task->setup != TIMETABLE_NONE && task->person != TIMETABLE_NOBODY &&
           task->fixed_end <= now && task->fixed_end + d->setups[task->setup].keep_wet_min >= now;
}

/* Through breaks and nights; who has begun out of hours goes on until it is done. */
static int64_t worked_until(const struct timetable_person *p, int64_t from, int64_t min) {
    int i = 0;
    while (i < p->windows_n && p->windows[i].to <= from) i++;
    for (; i < p->windows_n && p->windows[i].from <= from; i++) {
        const struct timetable_span *w = &p->windows[i];
        if (w->to - from >= min) break;
        min -= w->to - from;
        from = i + 1 < p->windows_n ? w[1].from : w->to;
    }
    return from + min;
}

int64_t day_keep_since(const struct plan_options *o, int64_t begin) {
    enum { DAYS_BACK = 14 };
    int64_t since = begin;
    for (size_t i = 0; i < o->kept_n; i++) {
        const struct task_kept *k = &o->kept[i];
        bool under_way = k->begun_utc_min != INT64_MIN && k->done_utc_min == INT64_MIN;
        if (under_way && k->begun_utc_min < since) since = k->begun_utc_min;
    }
    return since < begin - DAYS_BACK * 1440 ? begin - DAYS_BACK * 1440 : since;
}

/* Whose time it takes while it is under way: who began it, else the first who is there. */
static void task_fix(const struct day_tasks *d, const struct day_crew *crew,
                     struct timetable_task *task, const struct task_kept *k, int64_t now) {
    task->state = TIMETABLE_FIXED;
    task->fixed_start = k->begun_utc_min;
    task->fixed_end = k->done_utc_min;
    if (k->done_utc_min == INT64_MIN) { /* under way: until its time is over, at least until now */
        int32_t ready = task->setup == TIMETABLE_NONE ? 0 : d->setups[task->setup].setup_min;
        int who = day_crew_find(crew, k->person);
        task->fixed_person = task->person == TIMETABLE_NOBODY ? TIMETABLE_NOBODY
                             : who == TIMETABLE_NONE          ? 0
                                                              : who;
        task->fixed_end = k->begun_utc_min + ready + task->work_min;
        if (task->pausable && task->fixed_person >= 0)
            task->fixed_end = worked_until(&crew->people[task->fixed_person], k->begun_utc_min,
                                           ready + task->work_min);
        if (task->fixed_end < now) task->fixed_end = now;
    }
    if (task->fixed_end < task->fixed_start) task->fixed_end = task->fixed_start;
}

static const struct task_kept *kept_of(const struct plan_options *o, const struct plan *plan,
                                       const struct day_meta *m) {
    if (m->kind != DAY_WORK) return NULL;
    for (size_t k = 0; k < o->kept_n; k++)
        if (!strcmp(o->kept[k].id, m->id) && !strcmp(o->kept[k].piece, plan->pieces[m->piece].id))
            return &o->kept[k];
    return NULL;
}

/* What was begun before its turn no longer waits for what should have come first; that may still be
 * done. */
static void turns_drop(struct day_tasks *d) {
    for (size_t i = 0; i < d->lags_n; i++) {
        struct timetable_lag *lag = &d->lags[i];
        if (d->tasks[lag->to].state != TIMETABLE_FIXED ||
            d->tasks[lag->from].state == TIMETABLE_FIXED)
            continue;
        lag->min_min = lag->max_min = TIMETABLE_UNSAID;
        lag->climate = TIMETABLE_NONE, lag->scuff_min = 0;
        struct day_meta *m = &d->meta[lag->from];
        if (m->dry_lag == (int)i) m->dry_lag = TIMETABLE_NONE, m->drying = false;
        if (m->hard_lag == (int)i) m->hard_lag = TIMETABLE_NONE;
        for (size_t k = 0; k < d->holds_n; k++)
            if (d->holds[k].until_lag == (int)i) d->holds[k].until_lag = TIMETABLE_NONE;
    }
}

void day_keep_tasks(const struct plan_options *o, const struct plan *plan,
                    const struct day_crew *crew, struct day_tasks *d) {
    for (size_t i = 0; i < d->n; i++) {
        const struct task_kept *k = kept_of(o, plan, &d->meta[i]);
        if (!k) continue;
        if (k->begun_utc_min != INT64_MIN) {
            task_fix(d, crew, &d->tasks[i], k, o->now_utc_min);
            int who = crew->people_n == 1 ? 0 : day_crew_find(crew, k->person);
            if (who != TIMETABLE_NONE && still_wet(d, &d->tasks[i], o->now_utc_min))
                d->tasks[i].fixed_person = who;
        }
        if (k->not_before_utc_min != INT64_MIN) d->tasks[i].release = k->not_before_utc_min;
    }
    turns_drop(d);
    day_pots_loosen(d, false); /* what is mixed already may be too old for its first coat as well */
}

/* ---- who it was, and with whose set-up ---------------------------------------------------------
 *
 * The book keeps times and people, not tools: gone on with is the wet tool that was just laid down.
 * Where nobody is named, in books from before, it is the one who was free then and may do it. */

struct accepted {
    const struct day_tasks *d;
    const struct day_crew *crew;
    struct timetable_place *places;
    int *order; /* by start */
    int n;
};

static bool at_work(const struct timetable_person *p, int64_t at) {
    for (int i = 0; i < p->windows_n && p->windows[i].from <= at; i++)
        if (at < p->windows[i].to) return true;
    return false;
}

/* The task before in `order`, of the same person and set-up and not gone on with yet, whose tool is
 * still wet; TIMETABLE_NONE. */
static int wet_before(const struct accepted *a, int at, int person, const bool *followed) {
    int i = a->order[at], row = a->d->tasks[i].setup;
    if (row == TIMETABLE_NONE) return TIMETABLE_NONE;
    for (int k = at; k-- > 0;) {
        int f = a->order[k];
        if (a->d->tasks[f].setup != row || a->places[f].person != person || followed[f]) continue;
        bool wet = a->places[f].end <= a->places[i].start &&
                   a->places[f].end + a->d->setups[row].keep_wet_min >= a->places[i].start;
        return wet ? f : TIMETABLE_NONE;
    }
    return TIMETABLE_NONE;
}

static int whose(const struct accepted *a, int i, const int64_t *busy_until) {
    const struct timetable_task *t = &a->d->tasks[i];
    for (int p = 0; p < a->crew->people_n; p++) {
        const struct timetable_person *q = &a->crew->people[p];
        if ((t->skills & ~q->skills) || busy_until[p] > a->places[i].start) continue;
        if (at_work(q, a->places[i].start)) return p;
    }
    return TIMETABLE_ANYBODY;
}

static bool infer(struct accepted *a, struct arena *arena) {
    int64_t busy_until[DAY_CREW_MAX];
    bool *followed = arena_array(arena, a->d->n + 1, sizeof *followed);
    if (!followed) return false;
    memset(followed, 0, (a->d->n + 1) * sizeof *followed);
    for (int p = 0; p < DAY_CREW_MAX; p++) busy_until[p] = INT64_MIN;
    for (int k = 0; k < a->n; k++) {
        int i = a->order[k], row = a->d->tasks[i].setup;
        struct timetable_place *at = &a->places[i];
        if (at->person == TIMETABLE_NOBODY) continue;
        if (at->person == TIMETABLE_ANYBODY) at->person = whose(a, i, busy_until);
        if (at->person < 0) continue;
        busy_until[at->person] = at->end;
        if (row == TIMETABLE_NONE) continue;
        int f = wet_before(a, k, at->person, followed);
        at->follows = f;
        at->block_to += a->d->setups[row].cleanup_min;
        if (f == TIMETABLE_NONE) {
            at->block_from -= a->d->setups[row].setup_min;
        } else {
            followed[f] = true;
            a->places[f].block_to = a->places[f].end;
        }
    }
    return true;
}

static void by_start(struct accepted *a, int i) {
    int k = a->n++;
    for (; k > 0 && a->places[a->order[k - 1]].start > a->places[i].start; k--)
        a->order[k] = a->order[k - 1];
    a->order[k] = i;
}

size_t day_keep_accepted(const struct plan_options *o, const struct plan *plan,
                         const struct day_tasks *d, const struct day_crew *crew,
                         struct arena *arena, struct timetable_answer *out_old,
                         int **out_old_task) {
    struct accepted a = {.d = d,
                         .crew = crew,
                         .places = arena_array(arena, d->n + 1, sizeof *a.places),
                         .order = arena_array(arena, d->n + 1, sizeof *a.order)};
    int *old_task = arena_array(arena, d->n + 1, sizeof *old_task);
    size_t accepted = 0;
    if (!a.places || !a.order || !old_task) return 0;
    for (size_t i = 0; i < d->n; i++) {
        const struct task_kept *k = kept_of(o, plan, &d->meta[i]);
        old_task[i] = TIMETABLE_NONE;
        if (!k || k->start_utc_min == INT64_MIN || k->end_utc_min == INT64_MIN) continue;
        int who = day_crew_find(crew, k->person);
        if (d->tasks[i].person == TIMETABLE_NOBODY) who = TIMETABLE_NOBODY;
        old_task[i] = (int)i;
        a.places[i] =
            (struct timetable_place){.start = k->start_utc_min,
                                     .end = k->end_utc_min,
                                     .block_from = k->start_utc_min,
                                     .block_to = k->end_utc_min,
                                     .person = who == TIMETABLE_NONE ? TIMETABLE_ANYBODY : who,
                                     .follows = TIMETABLE_NONE};
        by_start(&a, (int)i);
        accepted += d->tasks[i].state == TIMETABLE_OPEN;
    }
    if (accepted && !infer(&a, arena)) return 0;
    /* How late the accepted days were is not kept, and nothing is stirred up to be less late: what
     * comes after its promised day is said, and the days can be laid out anew. */
    *out_old = (struct timetable_answer){
        .places = a.places, .tasks_n = (int)d->n, .score.lateness = INT64_MAX};
    *out_old_task = old_task;
    return accepted;
}
