/* Several shots of the same targets as one reading. */
#include "core/photo/photo.h"

#include <math.h>

/* One number per shot and the doubt of its own: weights that add up to 1. */
static void weigh(const double *shot_sd, size_t n, double *out_weight) {
    double sum = 0;
    for (size_t i = 0; i < n; i++) sum += out_weight[i] = 1 / (shot_sd[i] * shot_sd[i] + 0.01);
    for (size_t i = 0; i < n; i++) out_weight[i] /= sum;
}

/* What a share of the doubt that averages away leaves of expected and limit. */
static double shrink(const double *weight, const double *shot_sd, const double *shared_sd, size_t n,
                     double *out_shot_sd, double *out_shared_sd) {
    double shot = 0, shared = 0, before = 0;
    for (size_t i = 0; i < n; i++) {
        shot += weight[i] * weight[i] * shot_sd[i] * shot_sd[i];
        shared += weight[i] * shared_sd[i] * shared_sd[i];
        before += weight[i] * (shot_sd[i] * shot_sd[i] + shared_sd[i] * shared_sd[i]);
    }
    *out_shot_sd = sqrt(shot);
    *out_shared_sd = sqrt(shared);
    return before > 0 ? sqrt((shot + shared) / before) : 1;
}

static struct photo_color average_color(const struct photo_reading *shots, size_t n, size_t t) {
    double shot_sd[PHOTO_SHOTS_MAX], shared_sd[PHOTO_SHOTS_MAX], w[PHOTO_SHOTS_MAX];
    struct photo_color c = {0};
    for (size_t i = 0; i < n; i++) {
        shot_sd[i] = shots[i].targets[t].shot_sd;
        shared_sd[i] = shots[i].targets[t].shared_sd;
    }
    weigh(shot_sd, n, w);
    double part = shrink(w, shot_sd, shared_sd, n, &c.shot_sd, &c.shared_sd);
    for (size_t i = 0; i < n; i++) {
        const struct photo_color *s = &shots[i].targets[t];
        c.lab.l += w[i] * s->lab.l;
        c.lab.a += w[i] * s->lab.a;
        c.lab.b += w[i] * s->lab.b;
        c.expected += w[i] * s->expected * part;
        c.limit90 += w[i] * s->limit90 * part;
        c.warnings |= s->warnings;
    }
    return c;
}

static struct photo_difference average_difference(const struct photo_reading *shots, size_t n,
                                                  struct lab first, struct lab second) {
    double shot_sd[PHOTO_SHOTS_MAX], shared_sd[PHOTO_SHOTS_MAX], w[PHOTO_SHOTS_MAX];
    struct photo_difference d = {.ciede2000 = ciede2000(first, second)};
    for (size_t i = 0; i < n; i++) {
        shot_sd[i] = shots[i].difference.shot_sd;
        shared_sd[i] = shots[i].difference.shared_sd;
    }
    weigh(shot_sd, n, w);
    double part = shrink(w, shot_sd, shared_sd, n, &d.shot_sd, &d.shared_sd);
    for (size_t i = 0; i < n; i++) {
        for (int k = 0; k < 3; k++) d.lab[k] += w[i] * shots[i].difference.lab[k];
        d.expected += w[i] * shots[i].difference.expected * part;
        d.limit90 += w[i] * shots[i].difference.limit90 * part;
    }
    return d;
}

enum status photo_average(const struct photo_reading *shots, size_t n, struct arena *a,
                          struct photo_reading *out, struct why *why) {
    if (n < 1) return why_say(why, E_MISSING, "/shots", "There is no shot.");
    if (n > PHOTO_SHOTS_MAX)
        return why_say(why, E_TOO_LARGE, "/shots", "At most %d shots, not %zu.", PHOTO_SHOTS_MAX,
                       n);
    for (size_t i = 1; i < n; i++)
        if (shots[i].targets_n != shots[0].targets_n)
            return why_say(why, E_DOMAIN, "/shots",
                           "Every shot needs the same targets: the first has %zu, another %zu.",
                           shots[0].targets_n, shots[i].targets_n);
    struct photo_color *targets = arena_array(a, shots[0].targets_n + 1, sizeof *targets);
    if (!targets) return why_no_memory(why);
    struct photo_reading r = {.targets = targets,
                              .targets_n = shots[0].targets_n,
                              .has_difference = shots[0].has_difference,
                              .shots = n};
    for (size_t t = 0; t < r.targets_n; t++) targets[t] = average_color(shots, n, t);
    for (size_t i = 0; i < n; i++) r.warnings |= shots[i].warnings;
    if (r.has_difference)
        r.difference = average_difference(shots, n, targets[0].lab, targets[1].lab);
    *out = r;
    return OK;
}
