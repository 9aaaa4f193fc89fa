/* Two workers and a queue in two lanes: of the slow jobs at most one runs at a time. */
#ifndef SERVER_HTTP_POOL_H
#define SERVER_HTTP_POOL_H

#include <stdbool.h>

struct pool;
struct pool_job { /* the first member of whatever is queued */
    struct pool_job *next;
    bool slow;
};

struct pool *pool_make(void (*run)(void *ctx, struct pool_job *job),
                       void *ctx); /* NULL: no threads */
void pool_add(struct pool *p, struct pool_job *job);
/* Runs what is queued to its end, then ends the workers. */
void pool_free(struct pool *p);

#endif
