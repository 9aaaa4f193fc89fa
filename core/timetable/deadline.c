#include "core/timetable/deadline.h"

#include "core/timetable/shut.h"

int64_t all_worked(const struct shop *s, int64_t t) {
    int64_t sum = 0;
    for (int q = 0; q < s->p->persons_n; q++) sum += hours_worked(&s->hours[q], t);
    return sum;
}

/* Latest start of task i with person q (NOBODY: without) that ends by `end`. */
static int64_t start_with(const struct shop *s, int i, int q, int64_t end) {
    const struct timetable_task *t = &s->p->tasks[i];
    for (;;) {
        int64_t start = end - t->work_min, is = end;
        if (q != TIMETABLE_NOBODY) {
            start = hours_latest(&s->hours[q], end, t->work_min, t->pausable);
            if (start == INT64_MIN) return start;
            is = hours_end(&s->hours[q], start, t->work_min);
        }
        end = shut_end_before(s, i, start, is);
        if (end == is) return start;
    }
}

int64_t start_before(const struct shop *s, int i, int64_t end) {
    const struct timetable_task *t = &s->p->tasks[i];
    if (t->person == TIMETABLE_NOBODY || t->work_min == 0)
        return start_with(s, i, TIMETABLE_NOBODY, end);
    int64_t best = INT64_MIN;
    for (int q = 0; q < s->p->persons_n; q++) {
        if (!shop_may(s->p, i, q)) continue;
        int64_t b = start_with(s, i, q, end);
        if (b > best) best = b;
    }
    return best;
}

bool deadlines(const struct shop *s, int64_t finish, int64_t late, int64_t *latest) {
    const struct timetable_problem *p = s->p;
    for (int i = 0; i < p->tasks_n; i++) {
        const struct timetable_task *t = &p->tasks[i];
        latest[i] = finish;
        if (t->due == TIMETABLE_UNSAID || !t->weight || late / t->weight >= finish - t->due)
            continue;
        latest[i] = t->due + late / t->weight;
    }
    bool moved = true;
    for (int round = 0; moved && round <= p->tasks_n; round++) {
        moved = false;
        for (int k = p->lags_n; k-- > 0;) {
            const struct timetable_lag *l = &p->lags[k];
            if (l->min_min == TIMETABLE_UNSAID || !shop_open(s, l->from) || !shop_open(s, l->to))
                continue;
            int64_t start = start_before(s, l->to, latest[l->to]);
            if (start < s->earliest[l->to]) return false;
            if (l->from_start) continue; /* says nothing about the end when the task may pause */
            int64_t end = drying_before(lag_drying(s, l), start, l->min_min);
            if (end < latest[l->from]) latest[l->from] = end, moved = true;
        }
    }
    for (int i = 0; i < p->tasks_n; i++)
        if (shop_open(s, i) && start_before(s, i, latest[i]) < s->earliest[i]) return false;
    return true;
}

int64_t closing_before(const struct shop *s, int64_t t) {
    for (;;) {
        int64_t last = INT64_MIN;
        for (int q = 0; q < s->p->persons_n; q++) {
            int64_t to = hours_closing(&s->hours[q], t);
            if (to > last) last = to;
        }
        if (last == INT64_MIN) return last;
        t = last;
        if (all_worked(s, last + 1) == all_worked(s, last)) return last;
    }
}

/* Does a task with hands on come after the end of task i? */
static bool goes_on(const struct shop *s, int i) {
    for (int k = s->lags_out.first[i]; k < s->lags_out.first[i + 1]; k++) {
        const struct timetable_lag *l = &s->p->lags[s->lags_out.item[k]];
        if (l->min_min != TIMETABLE_UNSAID && l->min_min >= 0 && !l->from_start &&
            shop_open(s, l->to) && s->p->tasks[l->to].work_min > 0)
            return true;
    }
    return false;
}

/* First end >= t of a task with so much work. */
static int64_t end_from(const struct hours *h, int64_t t, int64_t work, bool pausable) {
    for (int w = hours_window(h, t - 1); w < h->n; w++) {
        int64_t end = h->windows[w].from + (pausable ? 1 : work);
        if (end < t) end = t;
        if (end <= h->windows[w].to) return end;
    }
    return INT64_MAX;
}

int64_t task_end_from(const struct shop *s, int i, int64_t t) {
    const struct timetable_task *x = &s->p->tasks[i];
    int64_t first = INT64_MAX;
    if (x->person == TIMETABLE_NOBODY || x->work_min == 0) return t;
    for (int q = 0; q < s->p->persons_n; q++) {
        if (!shop_may(s->p, i, q)) continue;
        int64_t end = end_from(&s->hours[q], t, x->work_min, x->pausable);
        if (end < first) first = end;
    }
    return first == INT64_MAX ? t : first;
}

int64_t over_from(const struct shop *s, int64_t t) {
    int64_t first = INT64_MAX;
    for (int i = 0; i < s->p->tasks_n; i++) {
        const struct timetable_task *x = &s->p->tasks[i];
        if (s->blocked_by[i] != TIMETABLE_NONE || goes_on(s, i)) continue;
        if (!shop_open(s, i)) {
            if (x->fixed_end >= t && x->fixed_end < first) first = x->fixed_end;
            continue;
        }
        int64_t end = task_end_from(s, i, t);
        if (end < first) first = end;
        if (first == t) return t;
    }
    return first == INT64_MAX ? t : first;
}
