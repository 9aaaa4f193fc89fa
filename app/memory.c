#include "app/memory.h"

#include "core/base/limit.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { SETS = 256, WAYS = 4, BYTES_MAX = 64 << 10 };
enum { ASKED_MAX = 64, LOOK_MS = 50 }; /* who waits looks so often whether to go on */

struct row {
    struct recall_key key;
    void *bytes;
    size_t n;
    uint64_t used; /* when it was last asked for, by the count of questions */
};

/* A question that a thread is finding out. */
struct asked {
    struct recall_key key;
    pthread_t by;
    bool open;
};

/* A row stands in the set that its key says, where the one asked for longest ago gives way: with
 * one place a key, two questions of the same page could take it from each other each time. */
struct memory {
    pthread_mutex_t lock;
    struct row rows[SETS][WAYS];
    uint64_t count; /* of questions */
    struct asked asked[ASKED_MAX];
    pthread_cond_t answered;
    struct recall recall;
};

static bool same(struct recall_key a, struct recall_key b) {
    return a.a == b.a && a.b == b.b;
}

/* The row of the key, or else the one that gives way. */
static struct row *row_of(struct memory *m, struct recall_key key) {
    struct row *set = m->rows[key.b % SETS], *oldest = set;
    for (size_t i = 0; i < WAYS; i++) {
        if (set[i].bytes && same(set[i].key, key)) return &set[i];
        if (set[i].used < oldest->used) oldest = &set[i];
    }
    return oldest;
}

/* The thread that finds out the answer; NULL: none does. */
static struct asked *asker_of(struct memory *m, struct recall_key key) {
    for (size_t i = 0; i < ASKED_MAX; i++)
        if (m->asked[i].open && same(m->asked[i].key, key)) return &m->asked[i];
    return NULL;
}

/* Notes that this thread finds it out. With too many at once nobody waits for the rest. */
static void begin(struct memory *m, struct recall_key key) {
    for (size_t i = 0; i < ASKED_MAX; i++) {
        if (m->asked[i].open) continue;
        m->asked[i] = (struct asked){key, pthread_self(), true};
        return;
    }
}

static void end(struct memory *m, struct recall_key key) {
    struct asked *by = asker_of(m, key);
    if (!by || !pthread_equal(by->by, pthread_self())) return;
    by->open = false;
    pthread_cond_broadcast(&m->answered);
}

static bool another_asks(struct memory *m, struct recall_key key) {
    const struct asked *by = asker_of(m, key);
    return by && !pthread_equal(by->by, pthread_self());
}

static void wait_a_little(struct memory *m) {
    struct timespec until;
    clock_gettime(CLOCK_MONOTONIC, &until);
    until.tv_nsec += LOOK_MS * 1000000L;
    until.tv_sec += until.tv_nsec / 1000000000L;
    until.tv_nsec %= 1000000000L;
    pthread_cond_timedwait(&m->answered, &m->lock, &until);
}

static void *find(void *ctx, struct recall_key key, const struct limit *limit, struct arena *arena,
                  size_t *out_n) {
    struct memory *m = ctx;
    void *copy = NULL;
    pthread_mutex_lock(&m->lock);
    struct row *r = row_of(m, key);
    while (!(r->bytes && same(r->key, key)) && another_asks(m, key) && !limit_asked(limit)) {
        wait_a_little(m);
        r = row_of(m, key);
    }
    if (r->bytes && same(r->key, key) && (copy = arena_take(arena, r->n))) {
        memcpy(copy, r->bytes, r->n);
        *out_n = r->n;
        r->used = ++m->count;
    } else if (!asker_of(m, key)) {
        begin(m, key);
    }
    pthread_mutex_unlock(&m->lock);
    return copy;
}

static void keep(void *ctx, struct recall_key key, const void *bytes, size_t n) {
    struct memory *m = ctx;
    void *copy = n <= BYTES_MAX ? malloc(n) : NULL;
    if (copy) memcpy(copy, bytes, n);
    pthread_mutex_lock(&m->lock);
    if (copy) {
        struct row *r = row_of(m, key);
        free(r->bytes);
        *r = (struct row){key, copy, n, ++m->count};
    }
    end(m, key);
    pthread_mutex_unlock(&m->lock);
}

static void drop(void *ctx, struct recall_key key) {
    struct memory *m = ctx;
    pthread_mutex_lock(&m->lock);
    end(m, key);
    pthread_mutex_unlock(&m->lock);
}

struct memory *memory_make(void) {
    struct memory *m = calloc(1, sizeof *m);
    pthread_condattr_t steady; /* a clock that is set back must make nobody wait for it */
    if (!m) return NULL;
    pthread_mutex_init(&m->lock, NULL);
    pthread_condattr_init(&steady);
    pthread_condattr_setclock(&steady, CLOCK_MONOTONIC);
    pthread_cond_init(&m->answered, &steady);
    pthread_condattr_destroy(&steady);
    m->recall = (struct recall){find, keep, drop, m};
    return m;
}

void memory_free(struct memory *m) {
    if (!m) return;
    for (size_t i = 0; i < SETS; i++)
        for (size_t k = 0; k < WAYS; k++) free(m->rows[i][k].bytes);
    pthread_cond_destroy(&m->answered);
    pthread_mutex_destroy(&m->lock);
    free(m);
}

const struct recall *memory_recall(const struct memory *m) {
    return m ? &m->recall : NULL;
}
