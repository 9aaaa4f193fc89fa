/* Milliseconds of a clock that nobody sets: for deadlines and for how long something has taken. */
#ifndef SERVER_STEADY_H
#define SERVER_STEADY_H

#include <stdint.h>
#include <time.h>

static inline int64_t steady_ms(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (int64_t)t.tv_sec * 1000 + t.tv_nsec / 1000000;
}

#endif
