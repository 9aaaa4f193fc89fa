#include "core/timetable/shop_sessions.h"

#include "core/timetable/deadline.h"

/* Longest time from the begin of a window to the end of one, breaks between no longer than `wet`.
 */
static int64_t longest_run(const struct shop *s, int64_t wet) {
    int64_t longest = 0;
    for (int q = 0; q < s->p->persons_n; q++) {
        const struct hours *h = &s->hours[q];
        for (int first = 0, w = 0; w < h->n; w++) {
            if (w && h->windows[w].from - h->windows[w - 1].to > wet) first = w;
            int64_t run = h->windows[w].to - h->windows[first].from;
            if (run > longest) longest = run;
        }
    }
    return longest;
}

/* The hold that task i opens and that ends when it is dry; -1: none. */
static int drying_hold(const struct shop *s, int i) {
    const struct shop_list *at = &s->holds_at;
    for (int k = at->first[i]; k < at->first[i + 1]; k++) {
        const struct timetable_hold *h = &s->p->holds[at->item[k] / 2];
        if (h->first == i && h->last == i && h->until_lag >= 0 && h->amount > 0)
            return at->item[k] / 2;
    }
    return -1;
}

/* How many of the row one session holds at most. */
static int at_once(const struct shop *s, int row) {
    const struct timetable_problem *p = s->p;
    if (p->setups[row].keep_wet_min == 0) return 1;
    int resource = -1;
    int64_t work = INT64_MAX, dry = INT64_MAX;
    int32_t amount = INT32_MAX;
    for (int k = s->same_setup.first[row]; k < s->same_setup.first[row + 1]; k++) {
        int i = s->same_setup.item[k], hold = drying_hold(s, i);
        const struct timetable_task *t = &p->tasks[i];
        if (!shop_open(s, i)) continue;
        if (hold < 0 || t->pausable || t->person == TIMETABLE_NOBODY) return INT32_MAX;
        const struct timetable_hold *h = &p->holds[hold];
        const struct timetable_lag *l = &p->lags[h->until_lag];
        if (resource >= 0 && h->resource != resource) return INT32_MAX;
        resource = h->resource;
        if (h->amount < amount) amount = h->amount;
        if (t->work_min < work) work = t->work_min;
        int64_t fewest, most;
        drying_range(lag_drying(s, l), l->min_min, &fewest, &most);
        if (l->from_start) fewest -= t->work_min; /* counted from the end of the work */
        if (fewest < dry) dry = fewest;
    }
    if (resource < 0) return INT32_MAX;
    int64_t taken = work + (dry > 0 ? dry : 0), run = longest_run(s, p->setups[row].keep_wet_min);
    if (taken <= 0) return INT32_MAX;
    int64_t turns = 1 + (run > work ? (run - work) / taken : 0);
    int64_t n = turns * (p->resources[resource].capacity / amount);
    return n < 1 ? 1 : n < INT32_MAX ? (int)n : INT32_MAX;
}

void sessions_needed(const struct shop *s, struct session_need *need) {
    for (int row = 0; row < s->p->setups_n; row++) {
        struct session_need *n = &need[row];
        *n = (struct session_need){.at_once = at_once(s, row)};
        for (int k = s->same_setup.first[row]; k < s->same_setup.first[row + 1]; k++) {
            int i = s->same_setup.item[k];
            const struct timetable_task *t = &s->p->tasks[i];
            n->tasks += shop_open(s, i) && t->person != TIMETABLE_NOBODY && t->work_min > 0;
            n->free += t->state == TIMETABLE_FIXED;
        }
    }
}
