/* What was found once is found again: between questions, and by who asks while it is being found.
 */
#include "app/memory.h"
#include "core/base/arena.h"
#include "core/base/limit.h"
#include "test/check.h"

#include <pthread.h>
#include <time.h>

static struct arena arena;

/* A thread that asks what this one is finding out. */
static const struct recall_key shared_key = {7, 7};
struct second {
    const struct recall *recall;
    pthread_barrier_t at;
    const struct limit *limit;
    struct arena arena;
    uint64_t got; /* 0: it was told nothing */
};

static void *ask_too(void *arg) {
    struct second *s = arg;
    size_t n;
    pthread_barrier_wait(&s->at);
    const uint64_t *v = s->recall->find(s->recall->ctx, shared_key, s->limit, &s->arena, &n);
    s->got = v ? *v : 0;
    if (!v) s->recall->drop(s->recall->ctx, shared_key);
    return NULL;
}

static bool at_once(void *ctx) {
    return ctx == NULL;
}

/* What the second is told when the first keeps `value`, or drops (0). */
static uint64_t told_second(uint64_t value, const struct limit *limit) {
    struct memory *m = memory_make();
    struct second s = {.recall = memory_recall(m), .limit = limit};
    pthread_t thread;
    size_t n;
    arena_init(&s.arena, alloc_heap(), 0);
    pthread_barrier_init(&s.at, NULL, 2);
    CHECK(!s.recall->find(s.recall->ctx, shared_key, NULL, &arena, &n));
    CHECK(!pthread_create(&thread, NULL, ask_too, &s));
    pthread_barrier_wait(&s.at);
    if (limit) pthread_join(thread, NULL); /* it does not wait for us */
    nanosleep(&(struct timespec){.tv_nsec = 30000000}, NULL);
    if (value)
        s.recall->keep(s.recall->ctx, shared_key, &value, sizeof value);
    else
        s.recall->drop(s.recall->ctx, shared_key);
    if (!limit) pthread_join(thread, NULL);
    pthread_barrier_destroy(&s.at);
    arena_free(&s.arena);
    memory_free(m);
    return s.got;
}

/* Keys of one place: four stand in it together, the fifth takes that of the one asked for longest
 * ago. */
static void remembering(void) {
    CASE("what was found before is kept for several questions of one place") {
        struct memory *m = memory_make();
        const struct recall *r = memory_recall(m);
        size_t n;
        int found = 0;
        for (uint64_t i = 0; i < 4; i++)
            r->keep(r->ctx, (struct recall_key){i, i << 32}, &i, sizeof i);
        for (uint64_t i = 4; i-- > 0;) {
            const uint64_t *v = r->find(r->ctx, (struct recall_key){i, i << 32}, NULL, &arena, &n);
            found += v && n == sizeof i && *v == i;
        }
        CHECK(found == 4);
        uint64_t five = 5;
        r->keep(r->ctx, (struct recall_key){five, five << 32}, &five, sizeof five);
        CHECK(r->find(r->ctx, (struct recall_key){five, five << 32}, NULL, &arena, &n) != NULL);
        CHECK(r->find(r->ctx, (struct recall_key){0, 0}, NULL, &arena, &n) != NULL);
        CHECK(r->find(r->ctx, (struct recall_key){3, (uint64_t)3 << 32}, NULL, &arena, &n) == NULL);
        memory_free(m);
    }
}

static void waiting(void) {
    CASE("who asks what another is finding out waits for it, unless it must stop or none comes") {
        const struct limit stopped = {.stop = at_once};
        CHECK(told_second(42, NULL) == 42);
        CHECK(told_second(0, NULL) == 0);
        CHECK(told_second(42, &stopped) == 0);
    }
}

int main(void) {
    arena_init(&arena, alloc_heap(), 0);
    remembering();
    waiting();
    arena_free(&arena);
    return check_done();
}
