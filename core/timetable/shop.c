#include "core/timetable/shop.h"

#include <stdio.h>
#include <string.h>

static const int64_t FAR = INT64_C(1) << 40; /* minutes: two million years */
static const int64_t LONGEST_LAG = 10 * 1000 * 1000;

const char *shop_task_name(const struct timetable_problem *p, int task, char text[96]) {
    if (p->tasks[task].name)
        snprintf(text, 96, "\"%s\"", p->tasks[task].name);
    else
        snprintf(text, 96, "task %d", task);
    return text;
}

const char *shop_lag_name(const struct timetable_problem *p, int lag, char text[96]) {
    if (p->lags[lag].name)
        snprintf(text, 96, "\"%s\"", p->lags[lag].name);
    else
        snprintf(text, 96, "lag %d", lag);
    return text;
}

bool shop_may(const struct timetable_problem *p, int task, int person) {
    const struct timetable_task *t = &p->tasks[task];
    if (t->person != TIMETABLE_ANYBODY) return t->person == person;
    return (p->persons[person].skills & t->skills) == t->skills;
}

static enum status bad(struct why *why, enum status s, const char *list, int i, const char *member,
                       const char *text) {
    char field[96];
    snprintf(field, sizeof field, "/%s/%d/%s", list, i, member);
    return why_say(why, s, field, "%s", text);
}

static bool in(int64_t x, int64_t lo, int64_t hi) {
    return x >= lo && x <= hi;
}
static bool date(int64_t x) {
    return x == TIMETABLE_UNSAID || in(x, -FAR, FAR);
}
static bool index_or_none(int i, int n) {
    return in(i, TIMETABLE_NONE, n - 1);
}

static enum status check_sizes(const struct timetable_problem *p, struct why *why) {
    const struct {
        const char *list;
        int n, most;
    } size[] = {
        {"/tasks", p->tasks_n, TIMETABLE_MAX_TASKS},
        {"/lags", p->lags_n, TIMETABLE_MAX_LAGS},
        {"/persons", p->persons_n, TIMETABLE_MAX_PERSONS},
        {"/resources", p->resources_n, TIMETABLE_MAX_RESOURCES},
        {"/holds", p->holds_n, TIMETABLE_MAX_HOLDS},
        {"/setups", p->setups_n, TIMETABLE_MAX_TASKS},
        {"/climates", p->climates_n, TIMETABLE_MAX_TASKS},
    };
    for (size_t i = 0; i < sizeof size / sizeof *size; i++)
        if (!in(size[i].n, 0, size[i].most))
            return why_say(why, E_TOO_LARGE, size[i].list, "%d rows; 0 to %d are possible.",
                           size[i].n, size[i].most);
    if (!in(p->now, -FAR, FAR)) return why_say(why, E_DOMAIN, "/now", "The date is out of range.");
    if (!in(p->sitting_gap_min, 0, 100000))
        return why_say(why, E_DOMAIN, "/sitting_gap_min", "It must be 0 to 100000 minutes.");
    return OK;
}

static enum status check_spans(const struct timetable_span *s, int n, const char *list, int row,
                               const char *field, struct why *why) {
    if (!in(n, 0, TIMETABLE_MAX_WINDOWS))
        return bad(why, E_TOO_LARGE, list, row, field, "There are too many of them.");
    for (int k = 0; k < n; k++)
        if (!in(s[k].from, -FAR, FAR) || !in(s[k].to, -FAR, FAR) || s[k].to <= s[k].from ||
            (k && s[k].from <= s[k - 1].to))
            return bad(why, E_DOMAIN, list, row, field,
                       "They must be in order, not empty and not touch each other.");
    return OK;
}

static enum status check_persons(const struct timetable_problem *p, struct why *why) {
    for (int i = 0; i < p->persons_n; i++) {
        const struct timetable_person *q = &p->persons[i];
        enum status s = check_spans(q->windows, q->windows_n, "persons", i, "windows", why);
        if (s) return s;
    }
    return OK;
}

static enum status check_resources(const struct timetable_problem *p, struct why *why) {
    for (int i = 0; i < p->resources_n; i++) {
        const struct timetable_resource *r = &p->resources[i];
        if (!in(r->capacity, 0, 1000000000))
            return bad(why, E_DOMAIN, "resources", i, "capacity", "It must be 0 to 1e9.");
        enum status s = check_spans(r->shut, r->shut_n, "resources", i, "shut", why);
        if (s) return s;
    }
    return OK;
}

static enum status check_rows(const struct timetable_problem *p, struct why *why) {
    for (int i = 0; i < p->setups_n; i++) {
        const struct timetable_setup *q = &p->setups[i];
        if (!in(q->setup_min, 0, 1440) || !in(q->cleanup_min, 0, 1440) ||
            !in(q->keep_wet_min, 0, 100000))
            return bad(why, E_DOMAIN, "setups", i, "setup_min",
                       "Set-up and clean-up take 0 to 1440 minutes, kept wet 0 to 100000.");
    }
    for (int i = 0; i < p->climates_n; i++) {
        const struct timetable_climate *c = &p->climates[i];
        for (int k = 0; k < c->rates_n; k++) {
            const struct timetable_rate *r = &c->rates[k];
            if (!in(r->from, -FAR, FAR) || (k && r->from <= c->rates[k - 1].from) ||
                !in(r->progress_permille, k + 1 == c->rates_n, 4000))
                return bad(why, E_DOMAIN, "climates", i, "rates",
                           "Rates must be in order of time, 0 to 4000, the last one above 0.");
        }
    }
    return OK;
}

static enum status check_task(const struct timetable_problem *p, int i, struct why *why) {
    const struct timetable_task *t = &p->tasks[i];
    if (!in(t->work_min, 0, 100000))
        return bad(why, E_DOMAIN, "tasks", i, "work_min", "It must be 0 to 100000 minutes.");
    if (!in(t->person, TIMETABLE_NOBODY, p->persons_n - 1))
        return bad(why, E_REFERENCE, "tasks", i, "person", "There is no such person.");
    if (!index_or_none(t->setup, p->setups_n))
        return bad(why, E_REFERENCE, "tasks", i, "setup", "There is no such set-up.");
    if (!in(t->piece, TIMETABLE_NONE, TIMETABLE_MAX_TASKS))
        return bad(why, E_REFERENCE, "tasks", i, "piece", "It must be a small number or none.");
    if (!date(t->release) || !date(t->due) || !(date(t->wait) || t->wait == TIMETABLE_UNKNOWN))
        return bad(why, E_DOMAIN, "tasks", i, "release", "A date is out of range.");
    if (!in(t->weight, 0, 1000000))
        return bad(why, E_DOMAIN, "tasks", i, "weight", "It must be 0 to 1000000.");
    if (t->state != TIMETABLE_OPEN && t->state != TIMETABLE_FIXED)
        return bad(why, E_DOMAIN, "tasks", i, "state", "It must be open or fixed.");
    if (t->state == TIMETABLE_FIXED &&
        (!in(t->fixed_start, -FAR, FAR) || !in(t->fixed_end, t->fixed_start, FAR) ||
         !in(t->fixed_person, TIMETABLE_NOBODY, p->persons_n - 1)))
        return bad(why, E_DOMAIN, "tasks", i, "fixed_start",
                   "A fixed task needs its start, an end not before it, and a person or nobody.");
    return OK;
}

static enum status check_lag(const struct timetable_problem *p, int i, struct why *why) {
    const struct timetable_lag *l = &p->lags[i];
    if (!in(l->from, 0, p->tasks_n - 1) || !in(l->to, 0, p->tasks_n - 1) || l->from == l->to)
        return bad(why, E_REFERENCE, "lags", i, "from", "It must join two tasks of the list.");
    if (!index_or_none(l->climate, p->climates_n))
        return bad(why, E_REFERENCE, "lags", i, "climate", "There is no such climate.");
    int64_t least = l->climate == TIMETABLE_NONE ? -LONGEST_LAG : 0;
    if (l->min_min != TIMETABLE_UNSAID && !in(l->min_min, least, LONGEST_LAG))
        return bad(why, E_DOMAIN, "lags", i, "min_min", "The minimum is out of range.");
    if (l->max_min != TIMETABLE_UNSAID) {
        if (!in(l->max_min, least, LONGEST_LAG))
            return bad(why, E_DOMAIN, "lags", i, "max_min", "The maximum is out of range.");
        if (l->min_min != TIMETABLE_UNSAID && l->max_min < l->min_min) {
            char field[32], text[96];
            snprintf(field, sizeof field, "/lags/%d", i);
            return why_say(why, E_IMPOSSIBLE, field,
                           "%s: it needs %lld minutes at least and %lld at most. Choose a maximum "
                           "not below the minimum.",
                           shop_lag_name(p, i, text), (long long)l->min_min, (long long)l->max_min);
        }
    }
    if (!in(l->scuff_min, INT32_MIN, 100000))
        return bad(why, E_DOMAIN, "lags", i, "scuff_min", "It must be at most 100000 minutes.");
    return OK;
}

static enum status check_hold(const struct timetable_problem *p, int i, struct why *why) {
    const struct timetable_hold *h = &p->holds[i];
    if (!in(h->first, 0, p->tasks_n - 1) || !in(h->last, 0, p->tasks_n - 1))
        return bad(why, E_REFERENCE, "holds", i, "first", "There is no such task.");
    if (!in(h->resource, 0, p->resources_n - 1))
        return bad(why, E_REFERENCE, "holds", i, "resource", "There is no such resource.");
    if (!index_or_none(h->until_lag, p->lags_n) ||
        (h->until_lag != TIMETABLE_NONE && (p->lags[h->until_lag].from != h->last ||
                                            p->lags[h->until_lag].min_min == TIMETABLE_UNSAID)))
        return bad(why, E_REFERENCE, "holds", i, "until_lag",
                   "It must be a lag from the last task that has a minimum.");
    if (!in(h->amount, 0, 1000000000))
        return bad(why, E_DOMAIN, "holds", i, "amount", "It must be 0 to 1e9.");
    int64_t sum = h->amount; /* with what the same task takes of it elsewhere */
    for (int k = 0; k < i; k++)
        if (p->holds[k].first == h->first && p->holds[k].resource == h->resource)
            sum += p->holds[k].amount;
    if (sum > p->resources[h->resource].capacity && p->tasks[h->first].state == TIMETABLE_OPEN) {
        char field[32], text[96];
        const char *name = p->resources[h->resource].name;
        snprintf(field, sizeof field, "/holds/%d", i);
        return why_say(why, E_IMPOSSIBLE, field,
                       "%s needs %lld of %s, but there are only %d. Make room or take less.",
                       shop_task_name(p, h->first, text), (long long)sum,
                       name ? name : "a resource", p->resources[h->resource].capacity);
    }
    return OK;
}

/* Is there anybody who has the time at all? */
static enum status check_hands(const struct shop *s, int i, struct why *why) {
    const struct timetable_problem *p = s->p;
    const struct timetable_task *t = &p->tasks[i];
    if (t->state == TIMETABLE_FIXED || t->person == TIMETABLE_NOBODY || t->work_min == 0) return OK;
    char field[32], text[96];
    int64_t longest = 0, whole = 0;
    int able = 0;
    for (int q = 0; q < p->persons_n; q++) {
        if (!shop_may(p, i, q)) continue;
        able++;
        const struct hours *h = &s->hours[q];
        int64_t w = hours_longest(h), left = 0;
        if (h->n) left = hours_worked(h, INT64_MAX) - hours_worked(h, p->now);
        if (w > longest) longest = w;
        if (left > whole) whole = left;
    }
    if (!able) {
        snprintf(field, sizeof field, "/tasks/%d/skills", i);
        return why_say(why, E_IMPOSSIBLE, field,
                       "%s: nobody in the shop has what it asks for. Name another person or skill.",
                       shop_task_name(p, i, text));
    }
    snprintf(field, sizeof field, "/tasks/%d/work_min", i);
    if (!t->pausable && t->work_min > longest)
        return why_say(why, E_IMPOSSIBLE, field,
                       "%s takes %d minutes without a pause, but the longest time at work in one "
                       "go is %lld minutes. Split it, let it pause, or open the shop longer.",
                       shop_task_name(p, i, text), t->work_min, (long long)longest);
    if (t->work_min > whole)
        return why_say(why, E_IMPOSSIBLE, field,
                       "%s takes %d minutes, but only %lld working minutes are given from now on.",
                       shop_task_name(p, i, text), t->work_min, (long long)whole);
    return OK;
}

/* key(i, which) for every i gives the owner of item i; fills owner lists by counting. */
static bool list_make(struct shop_list *list, int owners, int items, int (*key)(const void *, int),
                      const void *ctx, struct arena *arena) {
    list->first = arena_array(arena, (size_t)owners + 2, sizeof *list->first);
    list->item = arena_array(arena, (size_t)items + 1, sizeof *list->item);
    if (!list->first || !list->item) return false;
    for (int i = 0; i < items; i++)
        if (key(ctx, i) >= 0) list->first[key(ctx, i) + 2]++;
    for (int k = 2; k <= owners + 1; k++) list->first[k] += list->first[k - 1];
    for (int i = 0; i < items; i++)
        if (key(ctx, i) >= 0) list->item[list->first[key(ctx, i) + 1]++] = i;
    return true;
}

static int lag_to(const void *ctx, int i) {
    return ((const struct timetable_lag *)ctx)[i].to;
}
static int task_setup(const void *ctx, int i) {
    return ((const struct timetable_task *)ctx)[i].setup;
}
static int lag_from(const void *ctx, int i) {
    return ((const struct timetable_lag *)ctx)[i].from;
}

/* Even items: the hold's first task, odd: its last. */
static int hold_end(const void *ctx, int i) {
    const struct timetable_hold *h = (const struct timetable_hold *)ctx + i / 2;
    if (i % 2 && h->first == h->last) return -1;
    return i % 2 ? h->last : h->first;
}

/* A wait without a date blocks its task and, through minimum lags, all that follows. */
static enum status find_blocked(struct shop *s, struct arena *arena) {
    const struct timetable_problem *p = s->p;
    int *stack = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *stack), n = 0;
    if (!stack) return E_MEMORY;
    for (int i = 0; i < p->tasks_n; i++) {
        s->blocked_by[i] = TIMETABLE_NONE;
        if (p->tasks[i].wait == TIMETABLE_UNKNOWN && p->tasks[i].state == TIMETABLE_OPEN)
            s->blocked_by[i] = i, stack[n++] = i;
    }
    while (n) {
        int i = stack[--n];
        s->blocked_n++;
        for (int k = s->lags_out.first[i]; k < s->lags_out.first[i + 1]; k++) {
            const struct timetable_lag *l = &p->lags[s->lags_out.item[k]];
            if (s->blocked_by[l->to] != TIMETABLE_NONE || l->min_min == TIMETABLE_UNSAID ||
                p->tasks[l->to].state != TIMETABLE_OPEN)
                continue;
            s->blocked_by[l->to] = s->blocked_by[i];
            stack[n++] = l->to;
        }
    }
    return OK;
}

static enum status check_all(const struct timetable_problem *p, struct why *why) {
    enum status st = check_sizes(p, why);
    if (!st) st = check_persons(p, why);
    if (!st) st = check_resources(p, why);
    if (!st) st = check_rows(p, why);
    for (int i = 0; !st && i < p->tasks_n; i++) st = check_task(p, i, why);
    for (int i = 0; !st && i < p->lags_n; i++) st = check_lag(p, i, why);
    for (int i = 0; !st && i < p->holds_n; i++) st = check_hold(p, i, why);
    return st;
}

enum status shop_make(const struct timetable_problem *p, struct arena *arena, struct shop *out_shop,
                      struct why *why) {
    enum status st = check_all(p, why);
    if (st) return st;
    struct shop s = {.p = p};
    size_t n = (size_t)p->tasks_n + 1;
    s.hours = arena_array(arena, (size_t)p->persons_n + 1, sizeof *s.hours);
    s.dryings = arena_array(arena, (size_t)p->climates_n + 1, sizeof *s.dryings);
    s.blocked_by = arena_array(arena, n, sizeof *s.blocked_by);
    s.tail = arena_array(arena, n, sizeof *s.tail);
    s.earliest = arena_array(arena, n, sizeof *s.earliest);
    s.earliest_end = arena_array(arena, n, sizeof *s.earliest_end);
    if (!s.earliest_end || !s.hours || !s.dryings || !s.blocked_by || !s.tail || !s.earliest ||
        !list_make(&s.lags_in, p->tasks_n, p->lags_n, lag_to, p->lags, arena) ||
        !list_make(&s.lags_out, p->tasks_n, p->lags_n, lag_from, p->lags, arena) ||
        !list_make(&s.same_setup, p->setups_n, p->tasks_n, task_setup, p->tasks, arena) ||
        !list_make(&s.holds_at, p->tasks_n, 2 * p->holds_n, hold_end, p->holds, arena))
        return why_no_memory(why);
    for (int i = 0; i < p->persons_n; i++) {
        const struct timetable_person *q = &p->persons[i];
        int64_t *before = arena_array(arena, (size_t)q->windows_n + 1, sizeof *before);
        int *near = arena_array(arena, HOURS_NEAR * (size_t)q->windows_n + 1, sizeof *near);
        if (!before || !near) return why_no_memory(why);
        s.hours[i] = hours_make(q->windows, q->windows_n, before, near);
    }
    for (int i = 0; i < p->climates_n; i++) {
        int *near =
            arena_array(arena, DRYING_NEAR * (size_t)p->climates[i].rates_n + 1, sizeof *near);
        if (!near) return why_no_memory(why);
        s.dryings[i] = drying_make(&p->climates[i], near);
    }
    if (find_blocked(&s, arena)) return why_no_memory(why);
    for (int i = 0; !st && i < p->tasks_n; i++)
        if (s.blocked_by[i] == TIMETABLE_NONE) st = check_hands(&s, i, why);
    if (!st) st = network_check(&s, arena, why);
    if (!st) *out_shop = s;
    return st;
}
