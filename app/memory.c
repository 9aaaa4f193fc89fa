#include "app/memory.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>

enum { ROWS = 512, BYTES_MAX = 64 << 10 };

struct row {
    struct recall_key key;
    void *bytes;
    size_t n;
};

/* A row stands where its key says; a later one with the same place takes it. */
struct memory {
    pthread_mutex_t lock;
    struct row rows[ROWS];
    struct recall recall;
};

static struct row *row_of(struct memory *m, struct recall_key key) {
    return &m->rows[key.b % ROWS];
}

static void *find(void *ctx, struct recall_key key, struct arena *arena, size_t *out_n) {
    struct memory *m = ctx;
    void *copy = NULL;
    pthread_mutex_lock(&m->lock);
    const struct row *r = row_of(m, key);
    if (r->bytes && r->key.a == key.a && r->key.b == key.b && (copy = arena_take(arena, r->n))) {
        memcpy(copy, r->bytes, r->n);
        *out_n = r->n;
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
    *r = (struct row){key, copy, n};
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
    for (size_t i = 0; i < ROWS; i++) free(m->rows[i].bytes);
    pthread_mutex_destroy(&m->lock);
    free(m);
}

const struct recall *memory_recall(const struct memory *m) {
    return m ? &m->recall : NULL;
}
