/* A search that ends after so much processor time of its own, whoever else is at work. */
#ifndef APP_PATIENCE_H
#define APP_PATIENCE_H

#include "core/base/limit.h"

struct patience {
    struct limit asked; /* what ends it besides */
    double end_s;       /* of the thread's processor time */
};

/* The limit, and `seconds` from now on. *p is kept until the search has ended. */
struct limit patience_limit(struct patience *p, struct limit limit, double seconds);

#endif
