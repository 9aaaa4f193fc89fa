#include "app/patience.h"

#include <time.h>

static double thread_seconds(void) {
    struct timespec t;
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static bool enough(void *ctx) {
    const struct patience *p = ctx;
    return thread_seconds() > p->end_s || limit_asked(&p->asked);
}

struct limit patience_limit(struct patience *p, struct limit limit, double seconds) {
    *p = (struct patience){limit, thread_seconds() + seconds};
    limit.stop = enough;
    limit.ctx = p;
    return limit;
}
