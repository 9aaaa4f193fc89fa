#include "server/after.h"

#include "server/answer.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>

struct after {
    struct app *app;
    atomic_bool stop;
    pthread_t thread;
};

static bool stopped(void *ctx) {
    return atomic_load(&((struct after *)ctx)->stop);
}

static void search_recipes(struct after *a) {
    const struct http_request get = {
        .path = "/api/shopping", .query = "", .gone = stopped, .gone_ctx = a};
    struct arena arena;
    struct text json = {0};
    int64_t revision;
    arena_init(&arena, alloc_heap(), 0);
    answer_inside(a->app, &get, &arena, &json, &revision);
    text_free(&json);
    arena_free(&arena);
}

static void *work(void *arg) {
    struct after *a = arg;
    const struct limit limit = {.stop = stopped, .ctx = a};
    struct why why = {0};
    search_recipes(a);
    if (app_daily(a->app, &limit, &why) && !stopped(a))
        fprintf(stderr, "The copy of the day was not made. %s\n", why.text);
    return NULL;
}

struct after *after_begin(struct app *app) {
    struct after *a = app->store ? calloc(1, sizeof *a) : NULL;
    if (!a) return NULL;
    a->app = app;
    if (!pthread_create(&a->thread, NULL, work, a)) return a;
    free(a);
    return NULL;
}

void after_stop(struct after *a) {
    if (a) atomic_store(&a->stop, true);
}

void after_free(struct after *a) {
    if (!a) return;
    pthread_join(a->thread, NULL);
    free(a);
}
