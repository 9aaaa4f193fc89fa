#include "core/timetable/decode_inside.h"

#include <limits.h>
#include <string.h>

static bool open_task(const struct shop *s, int i) {
    return s->p->tasks[i].state == TIMETABLE_OPEN && s->blocked_by[i] == TIMETABLE_NONE;
}

/* ---- order ---- */

/* Must `from` be placed before `to`? A lone hard maximum or a negative minimum says nothing. */
static bool lag_orders(const struct timetable_lag *l) {
    if (l->min_min != TIMETABLE_UNSAID) return l->min_min >= 0;
    return l->max_min != TIMETABLE_UNSAID && l->scuff_min >= 0;
}

/* Visits every pair "a before b" of open tasks. */
static void pairs(struct decoder *d, void (*visit)(struct decoder *, int, int)) {
    const struct timetable_problem *p = d->shop->p;
    for (int k = 0; k < p->lags_n; k++) {
        const struct timetable_lag *l = &p->lags[k];
        if (lag_orders(l) && open_task(d->shop, l->from) && open_task(d->shop, l->to))
            visit(d, l->from, l->to);
    }
    for (int k = 0; k < p->holds_n; k++) {
        const struct timetable_hold *h = &p->holds[k];
        if (h->first != h->last && open_task(d->shop, h->first) && open_task(d->shop, h->last))
            visit(d, h->first, h->last);
    }
}

static void pair_count(struct decoder *d, int a, int b) {
    d->after.first[a + 2]++;
    d->wait_for[b]++;
}

static void pair_store(struct decoder *d, int a, int b) {
    d->after.item[d->after.first[a + 1]++] = b;
}

static bool log_make(struct decode_log *l, int room, struct arena *arena) {
    *l = (struct decode_log){.task = arena_array(arena, (size_t)room, sizeof *l->task),
                             .stand = arena_array(arena, (size_t)room, sizeof *l->stand),
                             .state = arena_array(arena, (size_t)room, sizeof *l->state)};
    return l->task && l->stand && l->state;
}

bool decoder_make(struct decoder *d, const struct shop *shop, struct arena *arena) {
    const struct timetable_problem *p = shop->p;
    size_t n = (size_t)p->tasks_n + 1;
    *d = (struct decoder){.shop = shop};
    d->stand = arena_array(arena, n, sizeof *d->stand);
    d->not_before = arena_array(arena, n, sizeof *d->not_before);
    d->keep_person = arena_array(arena, n, sizeof *d->keep_person);
    d->bump = arena_array(arena, n, sizeof *d->bump);
    d->changed = arena_array(arena, n, sizeof *d->changed);
    d->go_on_with = arena_array(arena, n, sizeof *d->go_on_with);
    d->next_wet = arena_array(arena, n, sizeof *d->next_wet);
    d->missing = arena_array(arena, n, sizeof *d->missing);
    d->wait_for = arena_array(arena, n, sizeof *d->wait_for);
    d->heap = arena_array(arena, n, sizeof *d->heap);
    d->parked = arena_array(arena, n, sizeof *d->parked);
    d->yields = arena_array(arena, (size_t)p->lags_n + 1, sizeof *d->yields);
    d->after.first = arena_array(arena, n + 2, sizeof *d->after.first);
    d->after.item = arena_array(arena, (size_t)(p->lags_n + p->holds_n) + 1, sizeof *d->after.item);
    d->hold_open = arena_array(arena, (size_t)p->holds_n + 1, sizeof *d->hold_open);
    d->diaries = arena_array(arena, (size_t)p->persons_n + 1, sizeof *d->diaries);
    d->spares = arena_array(arena, (size_t)p->persons_n + 1, sizeof *d->spares);
    d->wet = arena_array(arena, n, sizeof *d->wet);
    d->wet_n = arena_array(arena, (size_t)p->setups_n + 1, sizeof *d->wet_n);
    d->levels = arena_array(arena, (size_t)p->resources_n + 1, sizeof *d->levels);
    if (!d->stand || !d->not_before || !d->keep_person || !d->bump || !d->go_on_with ||
        !d->next_wet || !d->changed || !d->missing || !d->wait_for || !d->heap || !d->parked ||
        !d->yields || !d->after.first || !d->after.item || !d->hold_open || !d->diaries ||
        !d->levels || !d->spares || !d->wet || !d->wet_n)
        return false;
    for (int q = 0; q < p->persons_n; q++)
        if (!diary_make(&d->diaries[q], 2 * p->tasks_n + 2, arena) ||
            !spare_make(&d->spares[q], &shop->hours[q], 2 * p->tasks_n + 2, arena))
            return false;
    for (int r = 0; r < p->resources_n; r++) {
        int holds = 0;
        for (int k = 0; k < p->holds_n; k++) holds += p->holds[k].resource == r;
        if (!level_make(&d->levels[r], holds, &p->resources[r], arena)) return false;
    }
    d->log_room = p->tasks_n + p->tasks_n / 2 + 1; /* some find no room at first */
    if (!log_make(&d->logs[0], d->log_room, arena) || !log_make(&d->logs[1], d->log_room, arena))
        return false;
    pairs(d, pair_count);
    for (int k = 2; k <= p->tasks_n + 1; k++) d->after.first[k] += d->after.first[k - 1];
    pairs(d, pair_store);
    for (int i = 0; i < p->tasks_n; i++) {
        d->not_before[i] = INT64_MIN;
        d->keep_person[i] = TIMETABLE_ANYBODY;
        d->go_on_with[i] = TIMETABLE_NONE;
    }
    return true;
}

static bool goes_first(const struct decoder *d, int a, int b) {
    return d->rank[a] < d->rank[b] || (d->rank[a] == d->rank[b] && a < b);
}

static void heap_push(struct decoder *d, int task) {
    int i = d->heap_n++;
    for (; i > 0 && goes_first(d, task, d->heap[(i - 1) / 2]); i = (i - 1) / 2)
        d->heap[i] = d->heap[(i - 1) / 2];
    d->heap[i] = task;
}

static int heap_pop(struct decoder *d) {
    int top = d->heap[0], last = d->heap[--d->heap_n], i = 0;
    for (int child; (child = 2 * i + 1) < d->heap_n; i = child) {
        if (child + 1 < d->heap_n && goes_first(d, d->heap[child + 1], d->heap[child])) child++;
        if (!goes_first(d, d->heap[child], last)) break;
        d->heap[i] = d->heap[child];
    }
    d->heap[i] = last;
    return top;
}
/* Task i stands: another may go on with its set-up, as it does with that of the one it follows.
 * Lists are in order of tasks. */
static void wet_change(struct decoder *d, int i, int follows) {
    int row = d->shop->p->tasks[i].setup, n = 0;
    if (row < 0 || !d->shop->p->setups[row].keep_wet_min) return;
    int *wet = &d->wet[d->shop->same_setup.first[row]];
    for (int k = 0; k < d->wet_n[row]; k++)
        if (wet[k] != follows) wet[n++] = wet[k];
    int at = n++;
    for (; at > 0 && wet[at - 1] > i; at--) wet[at] = wet[at - 1];
    wet[at] = i;
    d->wet_n[row] = n;
}

static void put(struct decoder *d, int i, const struct stand *s) {
    d->stand[i] = *s;
    if (s->follows >= 0) {
        struct stand *f = &d->stand[s->follows];
        f->followed = i;
        f->cleanup_min = 0;
        if (d->shop->p->tasks[s->follows].state == TIMETABLE_OPEN && f->block_to > f->block_from) {
            diary_end_at(&d->diaries[s->person], f->block_from, f->end);
            spare_give(&d->spares[s->person], f->end, f->block_to);
        }
        f->block_to = f->end;
    }
    if (s->person < 0) return;
    wet_change(d, i, s->follows);
    if (s->block_to > s->block_from) {
        diary_add(&d->diaries[s->person], s->block_from, s->block_to, i);
        spare_take(&d->spares[s->person], s->block_from, s->block_to);
    }
}

/* ---- all tasks ---- */

struct stand decode_fixed(const struct timetable_task *task) {
    return (struct stand){.start = task->fixed_start,
                          .end = task->fixed_end,
                          .block_from = task->fixed_start,
                          .block_to = task->fixed_end,
                          .person = task->fixed_person,
                          .follows = TIMETABLE_NONE,
                          .followed = TIMETABLE_NONE,
                          .placed = true};
}

static void place_fixed(struct decoder *d, int i) {
    const struct timetable_task *k = &d->shop->p->tasks[i];
    d->stand[i] = decode_fixed(k);
    if (k->fixed_person < 0) return;
    wet_change(d, i, TIMETABLE_NONE);
    spare_take(&d->spares[k->fixed_person], k->fixed_start, k->fixed_end);
    diary_fill(&d->diaries[k->fixed_person], k->fixed_start, k->fixed_end, i);
}

static void start_anew(struct decoder *d) {
    const struct timetable_problem *p = d->shop->p;
    for (int q = 0; q < p->persons_n; q++) d->diaries[q].n = 0, spare_clear(&d->spares[q], p->now);
    for (int k = 0; k < p->setups_n; k++) d->wet_n[k] = 0;
    for (int r = 0; r < p->resources_n; r++) level_clear(&d->levels[r]);
    for (int k = 0; k < p->holds_n; k++) d->hold_open[k] = false;
    d->heap_n = d->parked_n = 0;
    for (int i = 0; i < p->tasks_n; i++) {
        d->stand[i].placed = false;
        d->stand[i].followed = TIMETABLE_NONE;
        d->missing[i] = d->wait_for[i];
        if (p->tasks[i].state == TIMETABLE_FIXED)
            place_fixed(d, i);
        else if (d->shop->blocked_by[i] == TIMETABLE_NONE && !d->missing[i])
            heap_push(d, i);
    }
    for (int i = 0; i < p->tasks_n; i++)
        if (p->tasks[i].state == TIMETABLE_FIXED) book_holds(d, i);
}

static int unplaced_first(const struct decoder *d) {
    int best = -1;
    for (int i = 0; i < d->shop->p->tasks_n; i++)
        if (open_task(d->shop, i) && !d->stand[i].placed && (best < 0 || goes_first(d, i, best)))
            best = i;
    return best;
}

static uint64_t mix(uint64_t h, uint64_t x) { /* splitmix64 */
    h += x + UINT64_C(0x9e3779b97f4a7c15);
    h = (h ^ h >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
    h = (h ^ h >> 27) * UINT64_C(0x94d049bb133111eb);
    return h ^ h >> 31;
}

static uint64_t stand_hash(int i, const struct stand *s) {
    if (!s->placed) return mix(1, (uint64_t)i);
    uint64_t h = mix((uint64_t)i << 32 ^ (uint64_t)(uint32_t)s->person, (uint64_t)s->start);
    return mix(h ^ (uint64_t)(uint32_t)s->follows << 20,
               (uint64_t)s->end ^ (uint64_t)s->block_to << 32);
}

/* Does what `old` says of its n-th task hold again for task i? */
static bool stands_again(const struct decoder *d, const struct decode_log *old, int n, int i) {
    return n < old->n && old->task[n] == i && d->changed[i] < d->round - 1 &&
           !(d->manner.keep_windows && old->stand[n].scuff_min);
}

static enum outcome place_all(struct decoder *d, const struct decode_log *old,
                              struct decode_log *now) {
    bool same = true; /* as after so many of old */
    uint64_t state = 0;
    start_anew(d);
    now->n = 0;
    for (int n = 0;; n++) {
        struct stand s;
        int i = -1;
        while (d->heap_n && i < 0) {
            i = heap_pop(d);
            if (d->stand[i].placed) i = -1;
        }
        if (i < 0 && d->parked_n) return FAILED;
        if (i < 0 && (i = unplaced_first(d)) < 0) return PLACED; /* else: lags in a circle */
        if (same && stands_again(d, old, n, i)) {
            s = old->stand[n];
        } else {
            s.placed = false;
            enum outcome o = find_place(d, i, &s);
            if (o != PLACED && o != NO_ROOM) return o;
            s.placed = o == PLACED;
        }
        state ^= stand_hash(i, &s);
        if (!s.placed) {
            d->parked[d->parked_n++] = i;
        } else {
            put(d, i, &s);
            if (book_holds(d, i))
                while (d->parked_n) {
                    int k = d->parked[--d->parked_n];
                    state ^= stand_hash(k, &(struct stand){.placed = false});
                    heap_push(d, k);
                }
            for (int k = d->after.first[i]; k < d->after.first[i + 1]; k++)
                if (--d->missing[d->after.item[k]] == 0) heap_push(d, d->after.item[k]);
        }
        same = n < old->n && old->state[n] == state;
        if (n == now->n && n < d->log_room) {
            now->task[n] = i;
            now->stand[n] = s;
            now->state[n] = state;
            now->n++;
        }
    }
}

bool decode(struct decoder *d, const double *rank) {
    const struct timetable_problem *p = d->shop->p;
    d->rank = rank;
    d->logs[1].n = 0; /* nothing to go by at first */
    for (int i = 0; i < p->tasks_n; i++) {
        d->bump[i] = INT64_MIN;
        d->changed[i] = INT_MIN;
        d->next_wet[i] = TIMETABLE_NONE;
    }
    for (int i = 0; i < p->tasks_n; i++)
        if (d->go_on_with[i] >= 0 && open_task(d->shop, i)) d->next_wet[d->go_on_with[i]] = i;
    for (int k = 0; k < p->lags_n; k++) d->yields[k] = 0;
    int most = 200 + p->tasks_n;
    for (d->round = 0; d->round < most; d->round++) {
        enum outcome o = place_all(d, &d->logs[(d->round + 1) % 2], &d->logs[d->round % 2]);
        d->rounds++;
        if (o == FAILED) return false;
        if (o == PLACED) {
            d->score = decode_score(d);
            return true;
        }
    }
    return false;
}
