#include "core/timetable/shop_order_inside.h"

#include "core/timetable/deadline.h"

#include <float.h>
#include <math.h>
#include <string.h>

/* ---- places in the order that must be put anew ---- */

static void mark(struct order_inside *x, int k) {
    x->stale[k / 64] |= UINT64_C(1) << k % 64;
}

/* Would left_wet tell something else there than it did? Without the state there: perhaps. */
static bool told_otherwise(const struct order_inside *x, const struct order *o, int k) {
    uint32_t asked = x->kept_asked[k];
    if (!asked || x->stride) return asked;
    const struct person_state *person = persons_of(x->kept[k]);
    for (int q = 0; q < x->persons_n; q++)
        if (asked >> q & (DRY | WET) &&
            order_left_wet(x, o, k, person[q].pending) != !(asked >> q & DRY))
            return true;
    return false;
}

/* Those at lo..hi, all of which are put anew, need no mark but the first. Returns the first of all.
 */
static int mark_changed(struct order_inside *x, const struct order *o, int lo) {
    int first = lo;
    memset(x->stale, 0, ((size_t)o->n / 64 + 1) * sizeof *x->stale);
    mark(x, lo);
    for (int k = lo - 1; k >= 0 && k >= lo - AHEAD; k--)
        if (told_otherwise(x, o, k)) mark(x, first = k);
    x->moved_until = -1;
    return first;
}

/* Where it counts that task i, k-th of the order, has another place. */
static void mark_moved(struct order_inside *x, const struct order *o, int k, int i,
                       const struct order_spot *was) {
    const struct order_spot *is = &x->spots[i];
    if (is->start == was->start && is->end == was->end && is->person == was->person) return;
    if (is->person != was->person) x->moved_until = k + WITHIN;
    for (int a = x->after_first[i]; a < x->after_first[i + 1]; a++)
        if (o->at[x->after[a]] > k) mark(x, o->at[x->after[a]]);
}

/* First place from k on that must be put anew; n: none. wet_until: whose tool was used last is
 * perhaps not as it was for those so far. */
static int next_stale(const struct order_inside *x, const struct order *o, int k, int wet_until) {
    int next = o->n, word = k / 64;
    uint64_t bits = x->stale[word] & ~UINT64_C(0) << k % 64;
    while (!bits && word < o->n / 64) bits = x->stale[++word];
    if (bits) next = word * 64 + __builtin_ctzll(bits);
    for (; k < next && k <= wet_until; k++)
        if (x->rows[k] >= 0 && o->goes_on[o->task[k]]) return k;
    return next;
}

/* ---- evaluation ---- */

static bool at_state(const struct order_inside *x, int k) {
    return !(k & ((1 << x->stride) - 1));
}

/* Does all that is still put come out the same from both states? Tools that have dried before their
 * person is free count no more. */
static bool alike(const struct order_inside *x, char *a, char *b) {
    const struct person_state *p = persons_of(a), *r = persons_of(b);
    for (int q = 0; q < x->persons_n; q++)
        if (p[q].free != r[q].free || p[q].pending != r[q].pending) return false;
    if (!memcmp(a + x->wet_at, b + x->wet_at, x->state_size - x->wet_at)) return true;
    if (memcmp(a + x->rooms_at, b + x->rooms_at, x->state_size - x->rooms_at)) return false;
    for (int q = 0; q < x->persons_n; q++)
        for (int row = 0; row < x->s->p->setups_n; row++) {
            const struct wet_state *v = wet_of(x, a, q, row), *w = wet_of(x, b, q, row);
            if (v->end == w->end && v->task == w->task) continue;
            int32_t end = v->end > w->end ? v->end : w->end;
            if (end + x->keep_wet[row] >= p[q].free) return false;
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
        x->kept_asked[k] = x->tried_asked[k];
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
    const int stride = x->stride;
    int k = mark_changed(x, o, lo) >> stride << stride;
    double sum = x->kept_energy[k];
    x->done_n = 0;
    memcpy(x->state, x->kept[k >> stride], size);
    while (k < o->n) {
        if (at_state(x, k)) {
            if ((k < lo || k > hi) && alike(x, x->state, x->kept[k >> stride])) {
                int wet_until =
                    k > hi && hi + WITHIN > x->moved_until ? hi + WITHIN : x->moved_until;
                int next = next_stale(x, o, k, wet_until);
                if (next < o->n) next = next >> stride << stride;
                if (next > k) {
                    x->tried_energy[k] = sum;
                    sum += x->kept_energy[next] - x->kept_energy[k];
                    k = next;
                    if (k == o->n) break;
                    memcpy(x->state, x->kept[k >> stride], size);
                }
            }
            memcpy(x->tried[k >> stride], x->state, size);
        }
        /* what is worse by so much after the same tasks is hardly ever made good later */
        if (k > hi && sum - x->kept_energy[k] > more) return take_back(o);
        int i = o->task[k], m = x->done_n++;
        x->spot_was[m] = x->spots[i];
        x->done[m] = k;
        x->tried_energy[k] = sum;
        x->asked = 0;
        sum += order_put(o, k, i);
        if (sum > most) return take_back(o);
        x->tried_asked[k] = x->asked;
        mark_moved(x, o, k, i, &x->spot_was[m]);
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
