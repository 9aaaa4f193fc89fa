#include "app/memory.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>

enum { SETS = 256, WAYS = 4, BYTES_MAX = 64 << 10 };

struct row {
    struct recall_key key;
    void *bytes;
    size_t n;
    uint64_t used; /* when it was last asked for, by the count of questions */
};

/* A row stands in the set that its key says, where the one asked for longest ago gives way: with
 * one place a key, two questions of the same page could take it from each other each time. */
struct memory {
    pthread_mutex_t lock;
    struct row rows[SETS][WAYS];
    uint64_t asked;
    struct recall recall;
};

/* The row of the key, or else the one that gives way. */
static struct row *row_of(struct memory *m, struct recall_key key) {
    struct row *set = m->rows[key.b % SETS], *oldest = set;
    for (size_t i = 0; i < WAYS; i++) {
        if (set[i].bytes && set[i].key.a == key.a && set[i].key.b == key.b) return &set[i];
        if (set[i].used < oldest->used) oldest = &set[i];
    }
    return oldest;
}

static void *find(void *ctx, struct recall_key key, struct arena *arena, size_t *out_n) {
    struct memory *m = ctx;
    void *copy = NULL;
    pthread_mutex_lock(&m->lock);
    struct row *r = row_of(m, key);
    if (r->bytes && r->key.a == key.a && r->key.b == key.b && (copy = arena_take(arena, r->n))) {
        memcpy(copy, r->bytes, r->n);
        *out_n = r->n;
        r->used = ++m->asked;
    }
    pthread_mutex_unlock(&m->lock);
    return copy;
}

static void keep(void *ctx, struct recall_key key, const void *bytes, size_t n) {
    struct memory *m = ctx;
    void *copy = n <= BYTES_MAX ? malloc(n) : NULL;
    if (!copy) return;
    memcpy(copy, bytes, n);
    pthread_mutex_lock(&m->lock);
    struct row *r = row_of(m, key);
    free(r->bytes);
    *r = (struct row){key, copy, n, ++m->asked};
    pthread_mutex_unlock(&m->lock);
}

struct memory *memory_make(void) {
    struct memory *m = calloc(1, sizeof *m);
    if (!m) return NULL;
    pthread_mutex_init(&m->lock, NULL);
    m->recall = (struct recall){find, keep, m};
    return m;
}

void memory_free(struct memory *m) {
    if (!m) return;
    for (size_t i = 0; i < SETS; i++)
        for (size_t k = 0; k < WAYS; k++) free(m->rows[i][k].bytes);
    pthread_mutex_destroy(&m->lock);
    free(m);
}

const struct recall *memory_recall(const struct memory *m) {
    return m ? &m->recall : NULL;
}
