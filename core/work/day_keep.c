#include "core/work/day_keep.h"

#include <string.h>

static void task_fix(struct timetable_task *task, const struct task_kept *k, int64_t now) {
    task->state = TIMETABLE_FIXED;
    task->fixed_start = k->begun_utc_min;
    task->fixed_end = k->done_utc_min;
    if (k->done_utc_min == INT64_MIN) { /* under way: until its time is over, at least until now */
        task->fixed_end = k->begun_utc_min + task->work_min;
        if (task->fixed_end < now) task->fixed_end = now;
        task->fixed_person = task->person == TIMETABLE_NOBODY ? TIMETABLE_NOBODY : 0;
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
        if (d->meta[lag->from].dry_lag == (int)i)
            d->meta[lag->from].dry_lag = TIMETABLE_NONE, d->meta[lag->from].drying = false;
    }
}

void day_keep_tasks(const struct plan_options *o, const struct plan *plan, struct day_tasks *d) {
    for (size_t i = 0; i < d->n; i++) {
        const struct task_kept *k = kept_of(o, plan, &d->meta[i]);
        if (!k) continue;
        if (k->begun_utc_min != INT64_MIN) task_fix(&d->tasks[i], k, o->now_utc_min);
        if (k->not_before_utc_min != INT64_MIN) d->tasks[i].release = k->not_before_utc_min;
    }
    turns_drop(d);
}

size_t day_keep_accepted(const struct plan_options *o, const struct plan *plan,
                         const struct day_tasks *d, struct arena *arena,
                         struct timetable_answer *out_old, int **out_old_task) {
    struct timetable_place *places = arena_array(arena, d->n + 1, sizeof *places);
    int *old_task = arena_array(arena, d->n + 1, sizeof *old_task);
    size_t accepted = 0;
    if (!places || !old_task) return 0;
    for (size_t i = 0; i < d->n; i++) {
        const struct task_kept *k = kept_of(o, plan, &d->meta[i]);
        old_task[i] = TIMETABLE_NONE;
        if (!k || k->start_utc_min == INT64_MIN || k->end_utc_min == INT64_MIN) continue;
        bool hands = d->tasks[i].person != TIMETABLE_NOBODY;
        old_task[i] = (int)i;
        places[i] = (struct timetable_place){.start = k->start_utc_min,
                                             .end = k->end_utc_min,
                                             .block_from = k->start_utc_min,
                                             .block_to = k->end_utc_min,
                                             /* who it was is not kept: anyone may do it */
                                             .person = hands ? TIMETABLE_ANYBODY : TIMETABLE_NOBODY,
                                             .follows = TIMETABLE_NONE};
        accepted += d->tasks[i].state == TIMETABLE_OPEN;
    }
    /* How late the accepted days were is not kept, and nothing is stirred up to be less late: what
     * comes after its promised day is said, and the days can be laid out anew. */
    *out_old = (struct timetable_answer){
        .places = places, .tasks_n = (int)d->n, .score.lateness = INT64_MAX};
    *out_old_task = old_task;
    return accepted;
}
