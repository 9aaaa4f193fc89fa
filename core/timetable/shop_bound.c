#include "core/timetable/shop_bound.h"

#include "core/timetable/deadline.h"
#include "core/timetable/shop_sessions.h"

#include <string.h>

enum {
    PROMISES_MOST = 14,
    TOOLS_MOST = 9 /* promises; beyond, set-ups are left out of lateness */,
    INTERVALS_MOST = 800 /* tasks; beyond, chains and the whole work */
};

static const int64_t ANY_FINISH = INT64_C(1) << 42; /* beyond all dates */

struct bounder {
    const struct shop *s;
    int64_t late;    /* weighted lateness that is allowed; INT64_MAX: any */
    int64_t *latest; /* [tasks_n] latest end for a given finish */
    int *by_start, *by_end;
    int n;                     /* tasks with hands on, still open */
    struct session_need *need; /* [setups_n] */
    int *in_row;               /* [setups_n] tasks of each row that must lie in an interval */
};

/* Least t by which all persons together have worked `work` minutes since `from`. */
static int64_t when_worked(const struct shop *s, int64_t from, int64_t work) {
    if (work <= 0) return from;
    int64_t want = all_worked(s, from) + work, lo = from, hi = from;
    for (int q = 0; q < s->p->persons_n; q++) {
        const struct hours *h = &s->hours[q];
        if (h->n && h->windows[h->n - 1].to > hi) hi = h->windows[h->n - 1].to;
    }
    if (all_worked(s, hi) < want) return hi;
    while (hi - lo > 1) {
        int64_t mid = lo + (hi - lo) / 2;
        if (all_worked(s, mid) >= want)
            hi = mid;
        else
            lo = mid;
    }
    return hi;
}

static bool needs_hands(const struct shop *s, int i) {
    return shop_open(s, i) && s->p->tasks[i].person != TIMETABLE_NOBODY &&
           s->p->tasks[i].work_min > 0;
}

/* Shell sort by key, ascending. */
static void sort_by(int *list, int n, const int64_t *key) {
    for (int gap = n / 2; gap > 0; gap /= 2)
        for (int i = gap; i < n; i++) {
            int x = list[i], j = i;
            for (; j >= gap && key[list[j - gap]] > key[x]; j -= gap) list[j] = list[j - gap];
            list[j] = x;
        }
}

/* Set-ups and clean-ups as the tasks of an interval that begins now are counted one by one. Tools
 * are set up in front of the first task of a session, so in the interval. Once all tasks of a row
 * must lie in it their clean-ups do too, but for one that each person may be at when it ends. */
struct tool_time {
    int64_t setup, cleanup, longest_cleanup;
};

static void count_tools(struct bounder *b, int i, struct tool_time *sum) {
    int row = b->s->p->tasks[i].setup;
    if (row < 0) return;
    const struct timetable_setup *t = &b->s->p->setups[row];
    const struct session_need *need = &b->need[row];
    int n = ++b->in_row[row];
    sum->setup += (sessions_least(need, n) - sessions_least(need, n - 1)) * (int64_t)t->setup_min;
    if (n < need->tasks) return;
    sum->cleanup += sessions_runs(need, n) * (int64_t)t->cleanup_min;
    if (t->cleanup_min > sum->longest_cleanup) sum->longest_cleanup = t->cleanup_min;
}

static int64_t tool_minutes(const struct bounder *b, const struct tool_time *sum) {
    int64_t cleanup = sum->cleanup - b->s->p->persons_n * sum->longest_cleanup;
    return sum->setup + (cleanup > 0 ? cleanup : 0);
}

/* Does every interval hold the work that must lie in it if all is over by `finish`? */
static bool fits_by(struct bounder *b, int64_t finish) {
    const struct shop *s = b->s;
    if (!deadlines(s, finish, b->late, b->latest)) return false;
    if (b->n > INTERVALS_MOST) return true;
    sort_by(b->by_end, b->n, b->latest);
    int64_t tried = INT64_MIN;
    for (int a = 0; a < b->n; a++) {
        int64_t from = s->earliest[b->by_start[a]];
        if (from == tried) continue;
        tried = from;
        int64_t work = 0, before = all_worked(s, from);
        bool from_now = before == all_worked(s, s->p->now);
        struct tool_time tools = {0};
        for (int k = 0; k < s->p->setups_n; k++) b->in_row[k] = 0;
        for (int k = 0; k < b->n; k++) {
            int i = b->by_end[k];
            if (s->earliest[i] < from) continue;
            work += s->p->tasks[i].work_min;
            if (from_now) count_tools(b, i, &tools);
            bool last = k + 1 == b->n || b->latest[b->by_end[k + 1]] > b->latest[i];
            if (last && work + tool_minutes(b, &tools) > all_worked(s, b->latest[i]) - before)
                return false;
        }
    }
    return true;
}

static int64_t least_finish(struct bounder *b) {
    const struct shop *s = b->s;
    int64_t lo = s->p->now, work = 0, first = INT64_MAX;
    for (int i = 0; i < s->p->tasks_n; i++) {
        if (s->blocked_by[i] == TIMETABLE_NONE && s->earliest_end[i] > lo) lo = s->earliest_end[i];
        if (!needs_hands(s, i)) continue;
        work += s->p->tasks[i].work_min;
        if (s->earliest[i] < first) first = s->earliest[i];
    }
    if (!b->n) return lo;
    int64_t t = when_worked(s, first, work);
    if (t > lo) lo = t;
    if (fits_by(b, lo)) return lo;
    int64_t step = 60, hi = lo + step; /* lo never fits; find hi that does, then halve */
    while (!fits_by(b, hi)) {
        lo = hi;
        step *= 2;
        hi = lo + step;
        if (step > INT64_C(1) << 30) return lo;
    }
    while (hi - lo > 1) {
        int64_t mid = lo + (hi - lo) / 2;
        if (fits_by(b, mid))
            hi = mid;
        else
            lo = mid;
    }
    return hi;
}

/* ---- lateness ---- */

struct promises {
    int task[PROMISES_MOST];
    int n;
    bool all; /* no more than fit */
};

static int64_t late(const struct timetable_task *t, int64_t end) {
    return t->due != TIMETABLE_UNSAID && end > t->due ? t->weight * (end - t->due) : 0;
}

/* Promises that each task must precede, as bits. */
static void mark_before(const struct shop *s, const struct promises *w, uint32_t *mask) {
    const struct timetable_problem *p = s->p;
    for (int k = 0; k < w->n; k++) mask[w->task[k]] |= 1u << k;
    bool moved = true;
    for (int round = 0; moved && round <= p->tasks_n; round++) {
        moved = false;
        for (int k = p->lags_n; k-- > 0;) {
            const struct timetable_lag *l = &p->lags[k];
            if (l->min_min == TIMETABLE_UNSAID || l->min_min < 0 || l->from_start) continue;
            uint32_t both = mask[l->from] | mask[l->to];
            if (both != mask[l->from]) mask[l->from] = both, moved = true;
        }
    }
}

/* Set-ups and clean-ups of what must be over before all promises of a set are kept. */
static int64_t tools_of(struct bounder *b, const uint32_t *mask, uint32_t set) {
    struct tool_time sum = {0};
    for (int k = 0; k < b->s->p->setups_n; k++) b->in_row[k] = 0;
    for (int i = 0; i < b->s->p->tasks_n; i++)
        if (mask[i] & set && needs_hands(b->s, i)) count_tools(b, i, &sum);
    return tool_minutes(b, &sum);
}

static int64_t lateness_by_orders(struct bounder *b, const struct promises *w, int64_t *work,
                                  int64_t *best, const uint32_t *mask) {
    const struct shop *s = b->s;
    uint32_t sets = 1u << w->n;
    int64_t total = 0, first = INT64_MAX;
    for (int i = 0; i < s->p->tasks_n; i++) {
        if (!needs_hands(s, i)) continue;
        work[mask[i]] += s->p->tasks[i].work_min;
        total += s->p->tasks[i].work_min;
        if (s->earliest[i] < first) first = s->earliest[i];
    }
    for (int k = 0; k < w->n; k++) /* work[S]: of tasks that precede none outside S */
        for (uint32_t set = 0; set < sets; set++)
            if (set >> k & 1) work[set] += work[set ^ (1u << k)];
    best[0] = 0;
    for (uint32_t set = 1; set < sets; set++) {
        int64_t needed = total - work[(sets - 1) ^ set];
        int64_t ready = needed ? when_worked(s, first, needed) : INT64_MIN;
        int64_t tools = w->n <= TOOLS_MOST ? tools_of(b, mask, set) : 0;
        if (tools) {
            int64_t set_up =
                when_worked(s, s->p->now, needed + tools); /* not before `first` only */
            if (set_up > ready) ready = set_up;
        }
        best[set] = INT64_MAX;
        for (int k = 0; k < w->n; k++) {
            if (!(set >> k & 1)) continue;
            int i = w->task[k];
            int64_t end = s->earliest_end[i] > ready ? s->earliest_end[i] : ready;
            int64_t sum = best[set ^ (1u << k)] + late(&s->p->tasks[i], task_end_from(s, i, end));
            if (sum < best[set]) best[set] = sum;
        }
    }
    return best[sets - 1];
}

static enum status least_lateness(const struct shop *s, struct arena *arena, int64_t *out) {
    const struct timetable_problem *p = s->p;
    struct promises w = {.all = true};
    int64_t chains = 0, stands = 0; /* stands: of what is fixed, whatever the order */
    for (int i = 0; i < p->tasks_n; i++) {
        if (s->blocked_by[i] != TIMETABLE_NONE) continue;
        if (!shop_open(s, i)) {
            stands += late(&p->tasks[i], p->tasks[i].fixed_end);
            continue;
        }
        chains += late(&p->tasks[i], s->earliest_end[i]);
        if (p->tasks[i].due == TIMETABLE_UNSAID || !p->tasks[i].weight) continue;
        if (w.n == PROMISES_MOST)
            w.all = false;
        else
            w.task[w.n++] = i;
    }
    *out = stands + chains;
    if (!w.n || !w.all) return OK;
    struct bounder b = {.s = s};
    b.need = arena_array(arena, (size_t)p->setups_n + 1, sizeof *b.need);
    b.in_row = arena_array(arena, (size_t)p->setups_n + 1, sizeof *b.in_row);
    uint32_t *mask = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *mask);
    int64_t *work = arena_array(arena, (size_t)1 << w.n, sizeof *work);
    int64_t *best = arena_array(arena, (size_t)1 << w.n, sizeof *best);
    if (!b.need || !b.in_row || !mask || !work || !best) return E_MEMORY;
    sessions_needed(s, b.need);
    mark_before(s, &w, mask);
    int64_t orders = lateness_by_orders(&b, &w, work, best, mask);
    if (orders > chains) *out = stands + orders;
    return OK;
}

static enum status bounder_make(struct bounder *b, const struct shop *s, int64_t late,
                                struct arena *arena) {
    const struct timetable_problem *p = s->p;
    size_t n = (size_t)p->tasks_n + 1;
    *b = (struct bounder){.s = s, .late = late};
    b->latest = arena_array(arena, n, sizeof *b->latest);
    b->by_start = arena_array(arena, n, sizeof *b->by_start);
    b->by_end = arena_array(arena, n, sizeof *b->by_end);
    b->need = arena_array(arena, (size_t)p->setups_n + 1, sizeof *b->need);
    b->in_row = arena_array(arena, (size_t)p->setups_n + 1, sizeof *b->in_row);
    if (!b->latest || !b->by_start || !b->by_end || !b->need || !b->in_row) return E_MEMORY;
    sessions_needed(s, b->need);
    for (int i = 0; i < p->tasks_n; i++)
        if (needs_hands(s, i)) b->by_start[b->n] = b->by_end[b->n] = i, b->n++;
    sort_by(b->by_start, b->n, s->earliest);
    return OK;
}

enum status shop_bound_finish(const struct shop *s, int64_t late, struct arena *arena,
                              int64_t *out) {
    struct bounder b;
    if (bounder_make(&b, s, late, arena)) return E_MEMORY;
    *out = over_from(s, least_finish(&b));
    return OK;
}

enum status shop_bound_late(const struct shop *s, int64_t least, int64_t known, struct arena *arena,
                            int64_t *out) {
    struct bounder b;
    int64_t stands = 0; /* lateness of what is fixed */
    *out = least;
    if (bounder_make(&b, s, 0, arena)) return E_MEMORY;
    for (int i = 0; i < s->p->tasks_n; i++)
        if (s->blocked_by[i] == TIMETABLE_NONE && !shop_open(s, i))
            stands += late(&s->p->tasks[i], s->p->tasks[i].fixed_end);
    while (*out < known) { /* no timetable is less late than *out */
        int64_t mid = *out + (known - *out) / 2;
        b.late = mid - stands;
        if (b.late >= 0 && fits_by(&b, ANY_FINISH))
            known = mid;
        else
            *out = mid + 1;
    }
    return OK;
}

enum status shop_bound(const struct shop *s, struct arena *arena, struct timetable_score *out) {
    *out = (struct timetable_score){0, 0, 0};
    enum status st = shop_bound_finish(s, INT64_MAX, arena, &out->finish);
    return st ? st : least_lateness(s, arena, &out->lateness);
}
