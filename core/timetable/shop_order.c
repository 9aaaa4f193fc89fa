#include "core/timetable/shop_order_inside.h"

#include "core/timetable/deadline.h"

#include <float.h>
#include <math.h>
#include <string.h>

/* ---- places in the order that must be put anew ---- */

static void mark(struct order_inside *x, int k) {
    x->stale[k / 64] |= UINT64_C(1) << k % 64;
}

/* First place from k on that must be put anew; n: none. */
static int next_stale(const struct order_inside *x, int k, int n) {
    for (int word = k / 64; word <= n / 64; word++) {
        uint64_t bits = x->stale[word];
        if (word == k / 64) bits &= ~UINT64_C(0) << k % 64;
        if (bits) return word * 64 + __builtin_ctzll(bits);
    }
    return n;
}

/* Where order and wet tools at lo..hi count. */
static void mark_changed(const struct order *o, int lo, int hi) {
    struct order_inside *x = o->inside;
    memset(x->stale, 0, ((size_t)o->n / 64 + 1) * sizeof *x->stale);
    for (int k = lo > AHEAD ? lo - AHEAD : 0; k < lo; k++)
        if (x->kept_look[k] >= lo) mark(x, k);
    for (int k = lo; k <= hi; k++) mark(x, k);
    for (int k = hi + 1; k <= hi + WITHIN && k < o->n; k++)
        if (x->rows[k] >= 0 && o->goes_on[o->task[k]]) mark(x, k);
}

/* Where it counts that task i, k-th of the order, has another place. */
static void mark_moved(const struct order *o, int k, int i, const struct order_spot *was) {
    struct order_inside *x = o->inside;
    const struct order_spot *is = &x->spots[i];
    if (is->start == was->start && is->end == was->end && is->person == was->person) return;
    if (is->person != was->person && x->rows[k] >= 0) {
        int next = k + 1, last = k + WITHIN < o->n ? k + WITHIN : o->n - 1;
        while (next < last && x->rows[next] != x->rows[k]) next++;
        if (next <= last) mark(x, next);
    }
    for (int a = x->after_first[i]; a < x->after_first[i + 1]; a++)
        if (o->at[x->after[a]] > k) mark(x, o->at[x->after[a]]);
}

/* ---- evaluation ---- */

static bool at_state(const struct order_inside *x, int k) {
    return !(k & ((1 << x->stride) - 1));
}

/* Does all that is still put come out the same from both states? Tools that have dried before their
 * person is free count no more. */
static bool alike(const struct order_inside *x, char *a, char *b) {
    if (memcmp(a, b, x->wet_at)) return false;
    if (!memcmp(a + x->wet_at, b + x->wet_at, x->state_size - x->wet_at)) return true;
    if (memcmp(a + x->rooms_at, b + x->rooms_at, x->state_size - x->rooms_at)) return false;
    for (int q = 0; q < x->persons_n; q++)
        for (int row = 0; row < x->s->p->setups_n; row++) {
            const struct wet_state *v = wet_of(x, a, q, row), *w = wet_of(x, b, q, row);
            if (v->end == w->end && v->task == w->task) continue;
            int32_t end = v->end > w->end ? v->end : w->end;
            if (end + x->keep_wet[row] >= persons_of(a)[q].free) return false;
        }
    return true;
}

static bool take_back(struct order *o) {
    struct order_inside *x = o->inside;
    for (int m = 0; m < x->done_n; m++) x->spots[o->task[x->done[m]]] = x->spot_was[m];
    return false;
}

/* What was put anew stands; what lies between has only another energy before it. */
static void stand(struct order *o) {
    struct order_inside *x = o->inside;
    int k = x->done_n ? x->done[0] : o->n;
    for (int m = 0; m < x->done_n; m++) {
        double more = x->tried_energy[k] - x->kept_energy[k];
        for (; k < x->done[m]; k++) x->kept_energy[k] += more;
        int i = o->task[k];
        const struct order_spot *is = &x->spots[i];
        o->place[i] =
            (struct order_place){x->now + is->start, x->now + is->end, is->person, is->follows};
        x->kept_energy[k] = x->tried_energy[k];
        x->kept_look[k] = x->tried_look[k];
        if (at_state(x, k)) {
            char *state = x->kept[k >> x->stride];
            x->kept[k >> x->stride] = x->tried[k >> x->stride];
            x->tried[k >> x->stride] = state;
        }
        k++;
    }
    double more = o->energy - x->kept_energy[o->n];
    for (; k <= o->n; k++) x->kept_energy[k] += more;
}

/* Evaluates the order, changed at lo..hi, in o->task; true: it stands. Puts tasks from the first
 * that may come out otherwise. Where the state is as it was, all is until the next of these. */
static bool evaluate(struct order *o, int lo, int hi, double most) {
    struct order_inside *x = o->inside;
    const size_t size = x->state_size;
    const double more = most - o->energy;
    mark_changed(o, lo, hi);
    x->done_n = 0;
    int k = next_stale(x, lo > AHEAD ? lo - AHEAD : 0, o->n) >> x->stride << x->stride;
    double sum = x->kept_energy[k];
    memcpy(x->state, x->kept[k >> x->stride], size);
    while (k < o->n) {
        if (at_state(x, k)) {
            if ((k < lo || k > hi) && alike(x, x->state, x->kept[k >> x->stride])) {
                int next = next_stale(x, k, o->n);
                if (next < o->n) next = next >> x->stride << x->stride;
                if (next > k) {
                    x->tried_energy[k] = sum;
                    sum += x->kept_energy[next] - x->kept_energy[k];
                    k = next;
                    if (k == o->n) break;
                    memcpy(x->state, x->kept[k >> x->stride], size);
                }
            }
            memcpy(x->tried[k >> x->stride], x->state, size);
        }
        /* what is worse by so much after the same tasks is hardly ever made good later */
        if (k > hi && sum - x->kept_energy[k] > more) return take_back(o);
        int i = o->task[k];
        x->spot_was[x->done_n] = x->spots[i];
        x->done[x->done_n++] = k;
        x->tried_energy[k] = sum;
        x->look = k;
        sum += order_put(o, k, i);
        if (sum > most) return take_back(o);
        x->tried_look[k] = x->look;
        mark_moved(o, k, i, &x->spot_was[x->done_n - 1]);
        k++;
    }
    if (sum > most) return take_back(o);
    o->energy = sum;
    stand(o);
    return true;
}

/* The whole order; nothing that was kept is like it. */
static void anew(struct order *o) {
    o->energy = INFINITY;
    if (o->n) evaluate(o, 0, o->n - 1, DBL_MAX);
}

/* n tasks, the only ones that are not marked as mended. */
static void mend(struct order_inside *x, int *tasks, int n) {
    int *given = x->given, *stack = x->stack, out = 0;
    memcpy(given, tasks, (size_t)n * sizeof *given);
    for (int k = 0; k < n; k++) x->mended[given[k]] = false;
    for (int k = 0; k < n; k++)
        for (int deep = x->mended[given[k]] ? 0 : (stack[0] = given[k], 1); deep;) {
            int i = stack[deep - 1], first = TIMETABLE_NONE;
            for (int b = x->before_first[i]; b < x->before_first[i + 1] && first < 0; b++)
                if (!x->mended[x->before[b]]) first = x->before[b];
            if (first >= 0 && deep < n) {
                stack[deep++] = first;
                continue;
            }
            deep--;
            if (x->mended[i]) continue;
            x->mended[i] = true;
            tasks[out++] = i;
        }
}

void order_mend(struct order *o, int *tasks) {
    mend(o->inside, tasks, o->n);
}

void order_mend_within(struct order *o, int lo, int hi, int *tasks) {
    mend(o->inside, tasks, hi - lo + 1);
}

/* Where the tasks at lo..hi are. */
static void lay(const struct order *o, int lo, int hi) {
    struct order_inside *x = o->inside;
    for (int k = lo; k <= hi; k++) {
        o->at[o->task[k]] = k;
        x->rows[k] = x->tasks[o->task[k]].row;
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
    lay(o, 0, n - 1);
    anew(o);
}

void order_aim(struct order *o, const int64_t *latest) {
    struct order_inside *x = o->inside;
    int64_t before = all_worked(o->shop, x->now);
    for (int i = 0; i < o->shop->p->tasks_n; i++)
        x->tasks[i].latest = order_moment(x, x->now + latest[i] - before);
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
    if (isinf(o->energy)) return false;
    memcpy(x->task_was, &o->task[lo], size);
    memcpy(&o->task[lo], tasks, size);
    lay(o, lo, hi);
    if (turned >= 0) o->goes_on[turned] = !o->goes_on[turned];
    if (evaluate(o, lo, hi, most)) return true;
    if (turned >= 0) o->goes_on[turned] = !o->goes_on[turned];
    memcpy(&o->task[lo], x->task_was, size);
    lay(o, lo, hi);
    return false;
}
