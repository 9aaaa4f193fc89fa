#include "server/http_events.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STREAMS_MAX = 64 };

struct stream {
    struct stream *next;
    struct events *of;
    void *connection;
    char waiting[512]; /* what is to be sent next */
    size_t n, sent;
    bool paused;
};

struct events {
    void (*pause)(void *connection), (*resume)(void *connection);
    pthread_mutex_t lock;
    struct stream *streams;
    size_t streams_n;
    bool stopping;
};

struct events *events_make(void (*pause)(void *connection), void (*resume)(void *connection)) {
    struct events *e = calloc(1, sizeof *e);
    if (!e) return NULL;
    e->pause = pause;
    e->resume = resume;
    pthread_mutex_init(&e->lock, NULL);
    return e;
}

struct stream *events_open(struct events *e, void *connection) {
    struct stream *s = calloc(1, sizeof *s);
    if (!s) return NULL;
    *s = (struct stream){.connection = connection, .of = e};
    s->n = (size_t)snprintf(s->waiting, sizeof s->waiting, "retry: 3000\n\n");
    pthread_mutex_lock(&e->lock);
    bool room = e->streams_n < STREAMS_MAX && !e->stopping;
    if (room) {
        s->next = e->streams;
        e->streams = s;
        e->streams_n++;
    }
    pthread_mutex_unlock(&e->lock);
    if (room) return s;
    free(s);
    return NULL;
}

void events_close(struct stream *s) {
    struct events *e = s->of;
    pthread_mutex_lock(&e->lock);
    struct stream **at = &e->streams;
    while (*at != s) at = &(*at)->next;
    *at = s->next;
    e->streams_n--;
    pthread_mutex_unlock(&e->lock);
    free(s);
}

ssize_t events_read(struct stream *s, char *buf, size_t max) {
    struct events *e = s->of;
    ssize_t n = 0;
    pthread_mutex_lock(&e->lock);
    if (s->sent < s->n) {
        n = (ssize_t)(s->n - s->sent < max ? s->n - s->sent : max);
        memcpy(buf, s->waiting + s->sent, (size_t)n);
        s->sent += (size_t)n;
        if (s->sent == s->n) s->n = s->sent = 0;
    } else if (e->stopping) {
        n = STREAM_END;
    } else {
        s->paused = true;
        e->pause(s->connection);
    }
    pthread_mutex_unlock(&e->lock);
    return n;
}

static void wake(struct stream *s) {
    if (!s->paused) return;
    s->paused = false;
    s->of->resume(s->connection);
}

void events_send(struct events *e, const char *name, const char *data) {
    pthread_mutex_lock(&e->lock);
    for (struct stream *s = e->streams; s; s = s->next) {
        if (s->sent) continue; /* in the middle of one; that one brings the reader up to date */
        int n = snprintf(s->waiting, sizeof s->waiting, "event: %s\ndata: %s\n\n", name, data);
        s->n = n > 0 && (size_t)n < sizeof s->waiting ? (size_t)n : 0;
        wake(s);
    }
    pthread_mutex_unlock(&e->lock);
}

void events_beat(struct events *e) {
    pthread_mutex_lock(&e->lock);
    for (struct stream *s = e->streams; s; s = s->next) {
        if (!s->n) s->n = (size_t)snprintf(s->waiting, sizeof s->waiting, ": \n\n");
        wake(s);
    }
    pthread_mutex_unlock(&e->lock);
}

bool events_stop(struct events *e) {
    pthread_mutex_lock(&e->lock);
    e->stopping = true;
    for (struct stream *s = e->streams; s; s = s->next) wake(s);
    bool open = e->streams_n > 0;
    pthread_mutex_unlock(&e->lock);
    return open;
}

void events_free(struct events *e) {
    if (!e) return;
    pthread_mutex_destroy(&e->lock);
    free(e);
}
