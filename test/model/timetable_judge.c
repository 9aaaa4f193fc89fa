#include "test/model/timetable_judge.h"

#include <stdarg.h>
#include <stdio.h>

static char verdict[300];

bool timetable_judge_wordless;

static const char *wrong(const char *fmt, ...) __attribute__((format(printf, 1, 2)));
static const char *wrong(const char *fmt, ...) {
    if (timetable_judge_wordless) return "wrong";
    va_list ap;
    va_start(ap, fmt);
    vsnprintf(verdict, sizeof verdict, fmt, ap);
    va_end(ap);
    return verdict;
}

/* Working minutes of a person within [from, to). */
static int64_t at_work(const struct timetable_person *q, int64_t from, int64_t to) {
    int64_t sum = 0;
    for (int w = 0; w < q->windows_n; w++) {
        int64_t a = q->windows[w].from > from ? q->windows[w].from : from;
        int64_t b = q->windows[w].to < to ? q->windows[w].to : to;
        if (a < b) sum += b - a;
    }
    return sum;
}

static bool in_one_window(const struct timetable_person *q, int64_t from, int64_t to) {
    for (int w = 0; w < q->windows_n; w++)
        if (q->windows[w].from <= from && to <= q->windows[w].to) return true;
    return false;
}

/* First minute at which so much drying has passed since t, minute by minute. */
static int64_t passed(const struct timetable_problem *p, const struct timetable_lag *l, int64_t t,
                      int64_t minutes) {
    if (l->climate < 0) return t + minutes;
    const struct timetable_climate *c = &p->climates[l->climate];
    for (int64_t done = 0; done < minutes * 1000; t++) {
        int64_t rate = 1000;
        for (int k = 0; k < c->rates_n && c->rates[k].from <= t; k++)
            rate = c->rates[k].progress_permille;
        done += rate;
    }
    return t;
}

static int64_t base_of(const struct timetable_lag *l, const struct timetable_answer *a) {
    return l->from_start ? a->places[l->from].start : a->places[l->from].end;
}

static const char *judge_hands(const struct timetable_problem *p, const struct timetable_answer *a,
                               int i) {
    const struct timetable_task *t = &p->tasks[i];
    const struct timetable_place *x = &a->places[i];
    int64_t hands = (int64_t)t->work_min + x->scuff_min;
    if (t->person == TIMETABLE_NOBODY || hands == 0) {
        if (x->person != TIMETABLE_NOBODY || x->end - x->start != hands || x->setup_min ||
            x->cleanup_min || x->block_from != x->start || x->block_to != x->end)
            return wrong("task %d: runs without hands, but not for its length", i);
        return NULL;
    }
    if (x->person < 0 || x->person >= p->persons_n) return wrong("task %d: nobody does it", i);
    const struct timetable_person *q = &p->persons[x->person];
    if (t->person >= 0 ? t->person != x->person : (q->skills & t->skills) != t->skills)
        return wrong("task %d: wrong person", i);
    if (at_work(q, x->block_from, x->start) != x->setup_min ||
        at_work(q, x->start, x->end) != hands || at_work(q, x->end, x->block_to) != x->cleanup_min)
        return wrong("task %d: set-up, work or clean-up do not fill their time", i);
    if (!t->pausable && !in_one_window(q, x->block_from, x->block_to))
        return wrong("task %d: paused though it must not", i);
    if (at_work(q, x->start, x->start + 1) != 1) return wrong("task %d: starts outside hours", i);
    int64_t cut = 0;
    for (int k = 0; k < x->segments_n; k++) {
        const struct timetable_span *s = &x->segments[k];
        if (s->from < x->block_from || s->to > x->block_to || !in_one_window(q, s->from, s->to) ||
            (k && s->from <= x->segments[k - 1].to))
            return wrong("task %d: segment %d is wrong", i, k);
        cut += s->to - s->from;
    }
    if (cut != x->setup_min + hands + x->cleanup_min) return wrong("task %d: segments' sum", i);
    return NULL;
}

static const char *judge_setup(const struct timetable_problem *p, const struct timetable_answer *a,
                               int i) {
    const struct timetable_task *t = &p->tasks[i];
    const struct timetable_place *x = &a->places[i];
    const struct timetable_setup *row = t->setup >= 0 ? &p->setups[t->setup] : NULL;
    int followers = 0;
    for (int k = 0; k < p->tasks_n; k++)
        followers += !a->places[k].blocked && a->places[k].follows == i;
    if (followers > 1) return wrong("task %d: two follow it", i);
    bool hands = x->person != TIMETABLE_NOBODY;
    if (x->setup_min != (row && hands && x->follows < 0 ? row->setup_min : 0))
        return wrong("task %d: set-up", i);
    if (x->cleanup_min != (row && hands && !followers ? row->cleanup_min : 0))
        return wrong("task %d: clean-up", i);
    if (x->follows >= 0) {
        const struct timetable_place *f = &a->places[x->follows];
        if (!row || p->tasks[x->follows].setup != t->setup || f->blocked ||
            f->person != x->person || x->start < f->end || x->start - f->end > row->keep_wet_min)
            return wrong("task %d: cannot go on with the set-up of %d", i, x->follows);
    }
    return NULL;
}

static const char *judge_task(const struct timetable_problem *p, const struct timetable_answer *a,
                              int i) {
    const struct timetable_task *t = &p->tasks[i];
    const struct timetable_place *x = &a->places[i];
    if (t->state == TIMETABLE_FIXED)
        return x->blocked || x->start != t->fixed_start || x->end != t->fixed_end ||
                       x->person != t->fixed_person
                   ? wrong("task %d: did not stay", i)
                   : NULL;
    if (x->blocked) return NULL;
    if (t->wait == TIMETABLE_UNKNOWN) return wrong("task %d: cannot be placed yet", i);
    if (x->block_from < p->now || x->start < x->block_from || x->end < x->start ||
        x->block_to < x->end)
        return wrong("task %d: times out of order", i);
    if ((t->release != TIMETABLE_UNSAID && x->start < t->release) ||
        (t->wait != TIMETABLE_UNSAID && x->start < t->wait))
        return wrong("task %d: before its date", i);
    int64_t late = t->due != TIMETABLE_UNSAID && x->end > t->due ? x->end - t->due : 0;
    if (x->late_min != late) return wrong("task %d: minutes late", i);
    const char *bad = judge_hands(p, a, i);
    return bad ? bad : judge_setup(p, a, i);
}

static const char *judge_lags(const struct timetable_problem *p, const struct timetable_answer *a) {
    for (int i = 0; i < p->tasks_n; i++) {
        int64_t scuff = 0;
        for (int k = 0; k < p->lags_n; k++) {
            const struct timetable_lag *l = &p->lags[k];
            if (l->to != i || a->places[i].blocked || a->places[l->from].blocked) continue;
            if (p->tasks[i].state == TIMETABLE_FIXED && p->tasks[l->from].state == TIMETABLE_FIXED)
                continue;
            int64_t base = base_of(l, a), start = a->places[i].start;
            if (l->min_min != TIMETABLE_UNSAID && start < passed(p, l, base, l->min_min))
                return wrong("lag %d: minimum not kept", k);
            if (l->max_min == TIMETABLE_UNSAID || start <= passed(p, l, base, l->max_min)) continue;
            if (l->scuff_min < 0) return wrong("lag %d: maximum missed", k);
            scuff += l->scuff_min;
        }
        if (!a->places[i].blocked && p->tasks[i].state == TIMETABLE_OPEN &&
            a->places[i].scuff_min != scuff)
            return wrong("task %d: scuff %d not %lld", i, a->places[i].scuff_min, (long long)scuff);
    }
    return NULL;
}

static const char *judge_persons(const struct timetable_problem *p,
                                 const struct timetable_answer *a) {
    for (int i = 0; i < p->tasks_n; i++)
        for (int k = 0; k < i; k++) {
            const struct timetable_place *x = &a->places[i], *y = &a->places[k];
            if (x->blocked || y->blocked || x->person < 0 || x->person != y->person) continue;
            if (p->tasks[i].state == TIMETABLE_FIXED && p->tasks[k].state == TIMETABLE_FIXED)
                continue;
            if (x->block_from < y->block_to && y->block_from < x->block_to &&
                x->block_from < x->block_to && y->block_from < y->block_to)
                return wrong("tasks %d and %d: one person does both at once", k, i);
        }
    return NULL;
}

static bool hold_span(const struct timetable_problem *p, const struct timetable_answer *a, int k,
                      struct timetable_span *out) {
    const struct timetable_hold *h = &p->holds[k];
    if (a->places[h->first].blocked) return false;
    *out = (struct timetable_span){a->places[h->first].start, INT64_MAX};
    if (a->places[h->last].blocked) return true; /* taken until what blocks it comes */
    out->to = a->places[h->last].end;
    if (h->until_lag >= 0) {
        const struct timetable_lag *l = &p->lags[h->until_lag];
        int64_t dry = passed(p, l, base_of(l, a), l->min_min);
        if (dry > out->to) out->to = dry;
    }
    return out->from < out->to;
}

static const char *judge_holds(const struct timetable_problem *p,
                               const struct timetable_answer *a) {
    struct timetable_span s, o;
    for (int k = 0; k < p->holds_n; k++) {
        if (!hold_span(p, a, k, &s)) continue;
        const struct timetable_resource *r = &p->resources[p->holds[k].resource];
        for (int m = 0; m < r->shut_n && p->tasks[p->holds[k].first].state == TIMETABLE_OPEN; m++)
            if (p->holds[k].amount && s.from < r->shut[m].to && r->shut[m].from < s.to)
                return wrong("hold %d: resource %d is shut", k, p->holds[k].resource);
        int64_t sum = 0;
        bool open = false;
        for (int m = 0; m < p->holds_n; m++) {
            if (p->holds[m].resource != p->holds[k].resource || !hold_span(p, a, m, &o)) continue;
            if (o.from > s.from || o.to <= s.from) continue;
            sum += p->holds[m].amount;
            open |= p->tasks[p->holds[m].first].state == TIMETABLE_OPEN && o.from == s.from;
        }
        if (open && sum > r->capacity)
            return wrong("hold %d: resource %d overfull", k, p->holds[k].resource);
    }
    return NULL;
}

static int64_t next_begin(const struct timetable_problem *p, const struct timetable_answer *a,
                          int person, int64_t after, int64_t *out_to) {
    int64_t best = INT64_MAX;
    for (int i = 0; i < p->tasks_n; i++) {
        const struct timetable_place *x = &a->places[i];
        if (x->blocked || x->person != person || x->block_from >= x->block_to) continue;
        for (int k = 0; k < x->segments_n; k++)
            if (x->segments[k].from >= after && x->segments[k].from < best)
                best = x->segments[k].from, *out_to = x->segments[k].to;
    }
    return best;
}

static const char *judge_score(const struct timetable_problem *p,
                               const struct timetable_answer *a) {
    int64_t late = 0, finish = p->now, to = 0;
    int32_t sittings = 0;
    bool fixed = false;
    for (int i = 0; i < p->tasks_n; i++) {
        fixed |= p->tasks[i].state == TIMETABLE_FIXED;
        const struct timetable_place *x = &a->places[i];
        if (x->blocked) continue;
        if (x->end > finish) finish = x->end;
        if (p->tasks[i].due != TIMETABLE_UNSAID && x->end > p->tasks[i].due)
            late += p->tasks[i].weight * (x->end - p->tasks[i].due);
    }
    for (int q = 0; q < p->persons_n; q++) {
        int64_t last = INT64_MIN;
        for (int64_t t = INT64_MIN; (t = next_begin(p, a, q, t, &to)) != INT64_MAX; t++) {
            if (last == INT64_MIN || t - last > p->sitting_gap_min) sittings++;
            last = to;
        }
    }
    if (late != a->score.lateness || finish != a->score.finish ||
        (!fixed && sittings != a->score.sittings))
        return wrong("score says %lld %lld %d, but it is %lld %lld %d",
                     (long long)a->score.lateness, (long long)a->score.finish, a->score.sittings,
                     (long long)late, (long long)finish, sittings);
    if (a->bound.lateness > late || (a->bound.lateness == late && a->bound.finish > finish))
        return wrong("the bound %lld %lld is above the timetable %lld %lld",
                     (long long)a->bound.lateness, (long long)a->bound.finish, (long long)late,
                     (long long)finish);
    return NULL;
}

const char *timetable_judge_rules(const struct timetable_problem *p,
                                  const struct timetable_answer *a) {
    const char *bad = NULL;
    if (a->tasks_n != p->tasks_n || a->lags_n != p->lags_n) return wrong("size");
    for (int i = 0; i < p->tasks_n && !bad; i++) bad = judge_task(p, a, i);
    if (!bad) bad = judge_lags(p, a);
    if (!bad) bad = judge_persons(p, a);
    if (!bad) bad = judge_holds(p, a);
    return bad;
}

const char *timetable_judge(const struct timetable_problem *p, const struct timetable_answer *a) {
    const char *bad = timetable_judge_rules(p, a);
    return bad ? bad : judge_score(p, a);
}
