/* Processor time of this process, and the limit that counts it. */
#ifndef BENCH_CPU_TIME_H
#define BENCH_CPU_TIME_H

#include <stdbool.h>
#include <time.h>

static inline double cpu_seconds(void) {
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

/* A limit's stop(): ctx is the double that cpu_seconds must not reach. */
static inline bool cpu_past(void *ctx) {
    return cpu_seconds() >= *(const double *)ctx;
}

#endif
