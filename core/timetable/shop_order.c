#include "core/timetable/shop_order_inside.h"

#include "core/timetable/deadline.h"

#include <float.h>
#include <math.h>
#include <string.h>

static char *kept_at(const struct order_inside *x, int k) {
    return x->kept + (size_t)(k / STRIDE) * x->state_size;
}

static bool differs(const struct order_place *a, const struct order_place *b) {
    return a->start != b->start || a->end != b->end || a->person != b->person;
}

/* Last place in the order of what hangs on task i. */
static int reach_of(const struct order *o, int i) {
    const struct shop *s = o->shop;
    int reach = -1;
    for (int k = s->lags_out.first[i]; k < s->lags_out.first[i + 1]; k++) {
        int at = o->at[s->p->lags[s->lags_out.item[k]].to];
        if (at > reach) reach = at;
    }
    for (int k = s->holds_at.first[i]; k < s->holds_at.first[i + 1]; k++) {
        int at = o->at[s->p->holds[s->holds_at.item[k] / 2].last];
        if (at > reach) reach = at;
    }
    return reach;
}

/* The places of the order begin..k - 1 as before the try. */
static bool take_back(struct order *o, int begin, int k) {
    while (k-- > begin) o->place[o->task[k]] = o->inside->place_was[k];
    return false;
}

/* Evaluates the order, changed at lo..hi, in o->task; true: it stands. */
static bool evaluate(struct order *o, int lo, int hi, double most) {
    struct order_inside *x = o->inside;
    const size_t size = x->state_size;
    int begin = (lo > AHEAD ? lo - AHEAD : 0) / STRIDE * STRIDE, k = begin, reach = hi + WITHIN;
    double sum = x->kept_energy[begin], rest = 0, more = most - o->energy;
    memcpy(x->state, kept_at(x, begin), size);
    for (; k < o->n; k++) {
        if (k % STRIDE == 0 && k > begin) {
            if (k > reach && !memcmp(x->state, kept_at(x, k), size)) {
                rest = o->energy - x->kept_energy[k]; /* all is as it was from here */
                break;
            }
            memcpy(x->tried + (size_t)(k / STRIDE) * size, x->state, size);
        }
        /* what is worse by so much after the same tasks is hardly ever made good later */
        if (k > hi && sum - x->kept_energy[k] > more) return take_back(o, begin, k);
        x->tried_energy[k] = sum;
        int i = o->task[k];
        x->place_was[k] = o->place[i];
        sum += order_put(o, k, i);
        if (sum > most) return take_back(o, begin, k + 1);
        if (differs(&o->place[i], &x->place_was[k])) {
            int r = reach_of(o, i);
            if (r < k + WITHIN) r = k + WITHIN;
            if (r > reach) reach = r;
        }
    }
    if (sum + rest > most) return take_back(o, begin, k);
    size_t first = (size_t)(begin / STRIDE + 1), past = (size_t)((k + STRIDE - 1) / STRIDE);
    if (past > first)
        memcpy(x->kept + first * size, x->tried + first * size, (past - first) * size);
    memcpy(&x->kept_energy[begin], &x->tried_energy[begin],
           (size_t)(k - begin) * sizeof *x->kept_energy);
    more = sum + rest - o->energy;
    for (; k < o->n; k++) x->kept_energy[k] += more;
    o->energy = sum + rest;
    return true;
}

/* The whole order; nothing that was kept is like it. */
static void anew(struct order *o) {
    struct order_inside *x = o->inside;
    o->energy = INFINITY;
    memcpy(x->kept, x->first, x->state_size);
    x->kept_energy[0] = 0;
    for (int k = STRIDE; k < o->n; k += STRIDE) memset(kept_at(x, k), 0xff, x->state_size);
    if (o->n) evaluate(o, 0, o->n - 1, DBL_MAX);
}

void order_mend(struct order *o, int *tasks) {
    struct order_inside *x = o->inside;
    int *given = x->given, *stack = x->stack, out = 0;
    memcpy(given, tasks, (size_t)o->n * sizeof *given);
    for (int k = 0; k < o->n; k++) x->mended[given[k]] = false;
    for (int k = 0; k < o->n; k++)
        for (int deep = x->mended[given[k]] ? 0 : (stack[0] = given[k], 1); deep;) {
            int i = stack[deep - 1], first = TIMETABLE_NONE;
            for (int b = x->before_first[i]; b < x->before_first[i + 1] && first < 0; b++)
                if (!x->mended[x->before[b]]) first = x->before[b];
            if (first >= 0 && deep < o->n) {
                stack[deep++] = first;
                continue;
            }
            deep--;
            if (x->mended[i]) continue;
            x->mended[i] = true;
            tasks[out++] = i;
        }
}

void order_set(struct order *o, const double *rank) {
    int n = 0;
    for (int i = 0; i < o->shop->p->tasks_n; i++)
        if (shop_open(o->shop, i)) o->task[n++] = i;
    for (int gap = n / 2; gap > 0; gap /= 2) /* Shell sort by rank */
        for (int i = gap; i < n; i++) {
            int task = o->task[i], j = i;
            for (; j >= gap && rank[o->task[j - gap]] > rank[task]; j -= gap)
                o->task[j] = o->task[j - gap];
            o->task[j] = task;
        }
    order_mend(o, o->task);
    for (int k = 0; k < n; k++) o->at[o->task[k]] = k;
    anew(o);
}

void order_aim(struct order *o, const int64_t *latest) {
    struct order_inside *x = o->inside;
    int64_t before = all_worked(o->shop, x->now);
    for (int i = 0; i < o->shop->p->tasks_n; i++) x->latest[i] = latest[i] - before;
    anew(o);
}

bool order_before(const struct order *o, int a, int b) {
    const struct order_inside *x = o->inside;
    for (int k = x->before_first[b]; k < x->before_first[b + 1]; k++)
        if (x->before[k] == a) return true;
    return false;
}

bool order_try(struct order *o, int lo, int hi, const int *tasks, int turned, double most) {
    struct order_inside *x = o->inside;
    size_t size = (size_t)(hi - lo + 1) * sizeof *tasks;
    memcpy(x->task_was, &o->task[lo], size);
    memcpy(&o->task[lo], tasks, size);
    for (int k = lo; k <= hi; k++) o->at[o->task[k]] = k;
    if (turned >= 0) o->goes_on[turned] = !o->goes_on[turned];
    if (evaluate(o, lo, hi, most)) return true;
    if (turned >= 0) o->goes_on[turned] = !o->goes_on[turned];
    memcpy(&o->task[lo], x->task_was, size);
    for (int k = lo; k <= hi; k++) o->at[o->task[k]] = k;
    return false;
}
