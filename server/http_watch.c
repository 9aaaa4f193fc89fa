#include "server/http_watch.h"

#include "server/steady.h"

#include <pthread.h>
#include <stdlib.h>
#include <sys/socket.h>

enum { BEAT_MS = 15000 };

struct line {
    struct line *next, **prev;
    int fd;
    enum stage stage;
    int64_t since_ms;
};

struct watch {
    void (*beat)(void *ctx);
    void *ctx;
    pthread_t thread;
    bool running;
    pthread_mutex_t lock; /* lines, stopping */
    pthread_cond_t wake;
    struct line *lines;
    bool stopping;
};

static bool is_late(const struct line *l, int64_t now) {
    /* the head twice: for the request line, and again for the headers */
    static const int64_t allowed_ms[] = {
        [STAGE_HEAD] = 12000, [STAGE_BODY] = 60000, [STAGE_SEND] = 120000};
    if (l->stage == STAGE_WORK || l->stage == STAGE_STREAM) return false;
    return now - l->since_ms > allowed_ms[l->stage];
}

/* Shutting a socket down lets the library see its end; the lock keeps the number from being used
 * again meanwhile. */
static void *look(void *arg) {
    struct watch *w = arg;
    int64_t beat = steady_ms();
    pthread_mutex_lock(&w->lock);
    while (!w->stopping) {
        struct timespec until;
        clock_gettime(CLOCK_MONOTONIC, &until);
        until.tv_sec++;
        pthread_cond_timedwait(&w->wake, &w->lock, &until);
        int64_t now = steady_ms();
        for (struct line *l = w->lines; l; l = l->next)
            if (is_late(l, now)) shutdown(l->fd, SHUT_RDWR);
        if (w->stopping || now - beat < BEAT_MS) continue;
        beat = now;
        pthread_mutex_unlock(&w->lock);
        w->beat(w->ctx);
        pthread_mutex_lock(&w->lock);
    }
    pthread_mutex_unlock(&w->lock);
    return NULL;
}

struct watch *watch_make(void (*beat)(void *ctx), void *ctx) {
    struct watch *w = calloc(1, sizeof *w);
    pthread_condattr_t steady; /* a clock that is set must not make anybody wait for an hour */
    if (!w) return NULL;
    w->beat = beat;
    w->ctx = ctx;
    pthread_mutex_init(&w->lock, NULL);
    pthread_condattr_init(&steady);
    pthread_condattr_setclock(&steady, CLOCK_MONOTONIC);
    pthread_cond_init(&w->wake, &steady);
    pthread_condattr_destroy(&steady);
    w->running = !pthread_create(&w->thread, NULL, look, w);
    if (w->running) return w;
    watch_free(w);
    return NULL;
}

struct line *watch_open(struct watch *w, int fd) {
    struct line *l = calloc(1, sizeof *l);
    if (!l) return NULL;
    l->fd = fd;
    l->since_ms = steady_ms();
    pthread_mutex_lock(&w->lock);
    l->next = w->lines;
    l->prev = &w->lines;
    if (l->next) l->next->prev = &l->next;
    w->lines = l;
    pthread_mutex_unlock(&w->lock);
    return l;
}

void watch_close(struct watch *w, struct line *l) {
    if (!l) return;
    pthread_mutex_lock(&w->lock);
    *l->prev = l->next;
    if (l->next) l->next->prev = l->prev;
    pthread_mutex_unlock(&w->lock);
    free(l);
}

void watch_enter(struct watch *w, struct line *l, enum stage stage) {
    if (!l) return;
    pthread_mutex_lock(&w->lock);
    l->stage = stage;
    l->since_ms = steady_ms();
    pthread_mutex_unlock(&w->lock);
}

bool watch_busy(struct watch *w) {
    bool busy = false;
    pthread_mutex_lock(&w->lock);
    for (const struct line *l = w->lines; l; l = l->next)
        busy |= l->stage == STAGE_WORK || l->stage == STAGE_SEND;
    pthread_mutex_unlock(&w->lock);
    return busy;
}

void watch_stop(struct watch *w) {
    if (!w->running) return;
    pthread_mutex_lock(&w->lock);
    w->stopping = true;
    pthread_cond_signal(&w->wake);
    pthread_mutex_unlock(&w->lock);
    pthread_join(w->thread, NULL);
    w->running = false;
}

void watch_free(struct watch *w) {
    if (!w) return;
    watch_stop(w);
    pthread_mutex_destroy(&w->lock);
    pthread_cond_destroy(&w->wake);
    free(w);
}
