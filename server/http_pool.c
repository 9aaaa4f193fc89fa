#include "server/http_pool.h"

#include <pthread.h>
#include <stdlib.h>

enum { WORKERS = 2 };

struct pool {
    void (*run)(void *ctx, struct pool_job *job);
    void *ctx;
    pthread_t threads[WORKERS];
    int started;
    pthread_mutex_t lock;
    pthread_cond_t more;
    struct pool_job *first, **last;
    int slow_running;
    bool stopping;
};

/* The first job that may run now, taken out of the queue. */
static struct pool_job *take(struct pool *p) {
    for (struct pool_job **at = &p->first; *at; at = &(*at)->next) {
        struct pool_job *job = *at;
        if (job->slow && p->slow_running) continue;
        *at = job->next;
        if (p->last == &job->next) p->last = at;
        p->slow_running += job->slow;
        return job;
    }
    return NULL;
}

static void *work(void *arg) {
    struct pool *p = arg;
    pthread_mutex_lock(&p->lock);
    for (;;) {
        struct pool_job *job = take(p);
        if (job) {
            bool slow = job->slow; /* the job is gone once it has run */
            pthread_mutex_unlock(&p->lock);
            p->run(p->ctx, job);
            pthread_mutex_lock(&p->lock);
            p->slow_running -= slow;
            if (slow) pthread_cond_signal(&p->more);
        } else if (p->stopping && !p->first) {
            break;
        } else {
            pthread_cond_wait(&p->more, &p->lock);
        }
    }
    pthread_mutex_unlock(&p->lock);
    return NULL;
}

struct pool *pool_make(void (*run)(void *ctx, struct pool_job *job), void *ctx) {
    struct pool *p = calloc(1, sizeof *p);
    if (!p) return NULL;
    p->run = run;
    p->ctx = ctx;
    p->last = &p->first;
    pthread_mutex_init(&p->lock, NULL);
    pthread_cond_init(&p->more, NULL);
    while (p->started < WORKERS && !pthread_create(&p->threads[p->started], NULL, work, p))
        p->started++;
    if (!p->started) {
        pool_free(p);
        return NULL;
    }
    return p;
}

void pool_add(struct pool *p, struct pool_job *job) {
    job->next = NULL;
    pthread_mutex_lock(&p->lock);
    *p->last = job;
    p->last = &job->next;
    pthread_cond_signal(&p->more);
    pthread_mutex_unlock(&p->lock);
}

void pool_free(struct pool *p) {
    if (!p) return;
    pthread_mutex_lock(&p->lock);
    p->stopping = true;
    pthread_cond_broadcast(&p->more);
    pthread_mutex_unlock(&p->lock);
    for (int i = 0; i < p->started; i++) pthread_join(p->threads[i], NULL);
    pthread_mutex_destroy(&p->lock);
    pthread_cond_destroy(&p->more);
    free(p);
}
