/* What the shop's own records teach: from the class's usual figure to the shop's.
 *
 * The shop's true factor against the class default is log-normal around 1 (spread between shops),
 * single jobs are log-normal around the shop's. With n records the posterior of ln factor is normal
 * (conjugate). A record that lies more than 3 standard deviations from what was expected of it is
 * questioned and left out, until somebody confirms it. */
#ifndef CORE_WORK_LEARN_H
#define CORE_WORK_LEARN_H

#include "core/base/arena.h"
#include "core/work/job.h"

#include <stdbool.h>
#include <stddef.h>

struct learn_prior {
    double between_log_sd; /* shops against each other, > 0 */
    double single_log_sd;  /* one job against its shop's mean, > 0 */
};

/* For spread, for what tools keep, for hours; wide on purpose. From memory. */
extern const struct learn_prior learn_spread, learn_loss, learn_hours;

struct learn_record {
    double expected, seen; /* both > 0, same unit */
    bool confirmed;        /* somebody said that it is right though it looks wrong */
};

struct learn_answer {
    double factor;    /* median of the shop's factor; 1 without records */
    double log_sd;    /* of the next single job around expected x factor */
    double low, high; /* of the factor of the next job: 1 in 10 below, 1 in 10 above */
    size_t used, questioned;
};

/* Learns from [n] records; out_questioned [n] or NULL: which were left out.
 * Records with a figure that is not positive and finite are questioned. Cost: O(n). */
struct learn_answer learn_from(const struct learn_prior *prior, const struct learn_record *records,
                               size_t n, bool *out_questioned);

/* What the shop's records of other pieces than this one say, or NULL: "spread", "loss" or "drying"
 * of a class of product and method, "hours" of an operation. A row without a method speaks of all
 * methods. piece: its id, or NULL: all records. */
const struct learnt *learnt_of(const struct shop *s, const char *piece, const char *what,
                               const char *class, const char *method);
/* "your shop, 5 records", the arena's; NULL stays NULL. */
const char *learnt_source(struct arena *arena, const struct learnt *l);

#endif
