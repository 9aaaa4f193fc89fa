#include "core/timetable/decode_trail.h"

#include <limits.h>
#include <string.h>

enum {
    SNAPSHOTS = 16,
    SNAPSHOT_BYTES = 192, /* a task; longer ones are not made */
    SNAPSHOT_LEAST = 4096,
    NEVER = INT_MAX,
};

static bool log_make(struct decode_log *l, int tasks, int room, struct arena *arena) {
    *l = (struct decode_log){
        .task = arena_array(arena, (size_t)room, sizeof *l->task),
        .stand = arena_array(arena, (size_t)room, sizeof *l->stand),
        .state = arena_array(arena, (size_t)room, sizeof *l->state),
        .pushed = arena_array(arena, (size_t)tasks + 1, sizeof *l->pushed),
        .popped = arena_array(arena, (size_t)tasks + 1, sizeof *l->popped),
    };
    return l->task && l->stand && l->state && l->pushed && l->popped;
}

bool trail_make(struct decoder *d, struct arena *arena) {
    int n = d->shop->p->tasks_n;
    d->log_room = n + n / 2 + 1; /* some find no room at first */
    return log_make(&d->kept, n, d->log_room, arena) &&
           log_make(&d->first, n, d->log_room, arena) &&
           log_make(&d->last[0], n, d->log_room, arena) &&
           log_make(&d->last[1], n, d->log_room, arena);
}

bool decode_keeps(struct decoder *d, struct arena *arena) {
    size_t n = (size_t)d->shop->p->tasks_n;
    d->snapshot_room = SNAPSHOT_BYTES * n + SNAPSHOT_LEAST;
    d->snapshot_every = (int)n / SNAPSHOTS + 1;
    d->snapshots = arena_array(arena, d->snapshot_room * SNAPSHOTS, 1);
    d->kept_end = arena_array(arena, d->snapshot_room, 1);
    d->kept_rank = arena_array(arena, n + 1, sizeof *d->kept_rank);
    return d->snapshots && d->kept_end && d->kept_rank;
}

void trail_pushed(struct decode_log *now, int i) {
    if (now->pushed[i] == NEVER) now->pushed[i] = now->n;
}

void trail_popped(struct decoder *d, int i) {
    if (d->now->popped[i] != NEVER) return;
    d->now->popped[i] = d->now->n;
    if (!d->round && d->kept_rank) d->pending -= d->rank[i] != d->kept_rank[i];
}

void trail_clear(struct decode_log *now, int tasks) {
    now->n = 0;
    for (int i = 0; i < tasks; i++) now->pushed[i] = now->popped[i] = NEVER;
}

/* A task of another rank may be tried earlier, from when it can be, or later. */
int trail_same(struct decoder *d) {
    const struct decode_log *l = &d->kept;
    int same = l->n;
    d->pending = 0;
    if (!l->n || d->kept_waits) return 0; /* ranks alone do not say when one is tried again */
    for (int i = 0; i < d->shop->p->tasks_n; i++) {
        if (d->rank[i] == d->kept_rank[i]) continue;
        d->pending++;
        if (l->pushed[i] >= same) continue;
        int n = l->pushed[i];
        while (n < same && n < l->popped[i] && !decode_goes_first(d, i, l->task[n])) n++;
        if (n < same) same = n;
    }
    for (int n = 0; n < same && d->manner.keep_windows; n++)
        if (l->stand[n].placed && l->stand[n].scuff_min) same = n;
    return same;
}

/* ---- snapshots ---- */

struct packing {
    char *at;     /* NULL: only counts */
    size_t bytes; /* so far */
    bool load;
};

static void pack(struct packing *p, void *data, size_t bytes) {
    if (p->at && p->load)
        memcpy(data, p->at + p->bytes, bytes);
    else if (p->at)
        memcpy(p->at + p->bytes, data, bytes);
    p->bytes += bytes;
}

/* All that changes while a round goes on. */
static void pack_state(struct decoder *d, struct packing *p) {
    const struct timetable_problem *problem = d->shop->p;
    size_t tasks = (size_t)problem->tasks_n;
    pack(p, &d->heap_n, sizeof d->heap_n);
    pack(p, &d->parked_n, sizeof d->parked_n);
    pack(p, &d->order_n, sizeof d->order_n);
    pack(p, d->heap, (size_t)d->heap_n * sizeof *d->heap);
    pack(p, d->parked, (size_t)d->parked_n * sizeof *d->parked);
    pack(p, d->order, (size_t)d->order_n * sizeof *d->order);
    pack(p, d->stand, tasks * sizeof *d->stand);
    pack(p, d->missing, tasks * sizeof *d->missing);
    pack(p, d->wet, tasks * sizeof *d->wet);
    pack(p, d->wet_n, (size_t)problem->setups_n * sizeof *d->wet_n);
    pack(p, d->hold_open, (size_t)problem->holds_n * sizeof *d->hold_open);
    for (int q = 0; q < problem->persons_n; q++) {
        struct diary *diary = &d->diaries[q];
        struct spare *spare = &d->spares[q];
        pack(p, &diary->n, sizeof diary->n);
        pack(p, diary->blocks, (size_t)diary->n * sizeof *diary->blocks);
        pack(p, &spare->n, sizeof spare->n);
        pack(p, &spare->past, sizeof spare->past);
        pack(p, spare->pieces, (size_t)spare->n * sizeof *spare->pieces);
    }
    for (int r = 0; r < problem->resources_n; r++) {
        struct level *l = &d->levels[r];
        pack(p, &l->n, sizeof l->n);
        pack(p, l->steps, (size_t)l->n * sizeof *l->steps);
    }
}

static char *snapshot(const struct decoder *d, int k) {
    return d->snapshots + (size_t)k * d->snapshot_room;
}

static bool save(struct decoder *d, char *at) {
    struct packing count = {NULL, 0, false}, p = {at, 0, false};
    pack_state(d, &count);
    if (count.bytes > d->snapshot_room) return false;
    pack_state(d, &p);
    return true;
}

void trail_save(struct decoder *d, int n) {
    int k = d->snapshots_n;
    if (!d->snapshots || k == SNAPSHOTS || n != (k + 1) * d->snapshot_every) return;
    if (save(d, snapshot(d, k))) d->snapshots_n++;
}

int trail_restore(struct decoder *d, struct decode_log *now, int most) {
    int k = most / (d->snapshot_every ? d->snapshot_every : 1);
    if (k > d->snapshots_n) k = d->snapshots_n;
    if (!k) return 0;
    struct packing load = {snapshot(d, k - 1), 0, true};
    pack_state(d, &load);
    size_t n = (size_t)(k * d->snapshot_every);
    memcpy(now->task, d->kept.task, n * sizeof *now->task);
    memcpy(now->stand, d->kept.stand, n * sizeof *now->stand);
    memcpy(now->state, d->kept.state, n * sizeof *now->state);
    now->n = (int)n;
    for (int i = 0; i < d->shop->p->tasks_n; i++) {
        now->pushed[i] = d->kept.pushed[i] <= now->n ? d->kept.pushed[i] : NEVER;
        now->popped[i] = d->kept.popped[i] < now->n ? d->kept.popped[i] : NEVER;
    }
    return now->n;
}

bool trail_finish(struct decoder *d, int n) {
    struct decode_log *now = d->now;
    const struct decode_log *kept = &d->kept;
    if (d->round || d->pending || !d->kept_whole ||
        (d->manner.keep_windows && !d->kept_manner.keep_windows))
        return false;
    struct packing load = {d->kept_end, 0, true};
    pack_state(d, &load);
    size_t rest = (size_t)(kept->n - n);
    memcpy(now->task + n, kept->task + n, rest * sizeof *now->task);
    memcpy(now->stand + n, kept->stand + n, rest * sizeof *now->stand);
    memcpy(now->state + n, kept->state + n, rest * sizeof *now->state);
    now->n = d->order_n = kept->n; /* each task once: none had to wait */
    memcpy(d->order, now->task, (size_t)now->n * sizeof *d->order);
    for (int k = n; k < now->n; k++) {
        int i = now->task[k];
        now->popped[i] = k;
        if (now->pushed[i] == NEVER) now->pushed[i] = kept->pushed[i];
    }
    return true;
}

void decode_keep(struct decoder *d, const double *rank) {
    struct decode_log l = d->kept;
    d->kept = d->first;
    d->first = l;
    d->kept_manner = d->manner;
    d->kept_waits = false;
    for (int n = 0; n < d->kept.n; n++) d->kept_waits |= !d->kept.stand[n].placed;
    memcpy(d->kept_rank, rank, (size_t)d->shop->p->tasks_n * sizeof *rank);
    int still = d->same / d->snapshot_every;
    if (d->snapshots_n > still) d->snapshots_n = still;
    d->kept_whole = !d->round && !d->kept_waits && d->kept.n == d->order_n && save(d, d->kept_end);
}

void decode_forget(struct decoder *d) {
    d->kept.n = 0;
    d->snapshots_n = 0;
    d->kept_whole = false;
}
