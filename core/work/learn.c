#include "core/work/learn.h"

#include <math.h>
#include <string.h>

static const double Z_90 = 1.2815515655446004, QUESTION_AT = 3;

const struct learn_prior learn_spread = {.20, .12};
const struct learn_prior learn_loss = {.50, .35};
const struct learn_prior learn_hours = {.30, .25};

/* Normal posterior of ln factor. */
struct belief {
    double mean, var;
};

static struct belief taught(struct belief b, double ln, double single_var) {
    double gain = b.var / (b.var + single_var);
    return (struct belief){b.mean + gain * (ln - b.mean), b.var * (1 - gain)};
}

struct learn_answer learn_from(const struct learn_prior *prior, const struct learn_record *records,
                               size_t n, bool *out_questioned) {
    double single = prior->single_log_sd * prior->single_log_sd;
    struct belief b = {0, prior->between_log_sd * prior->between_log_sd};
    struct learn_answer a = {0};
    for (size_t i = 0; i < n; i++) {
        double ln = log(records[i].seen / records[i].expected);
        bool sane = isfinite(ln) && records[i].seen > 0 && records[i].expected > 0;
        bool far = sane && fabs(ln - b.mean) > QUESTION_AT * sqrt(b.var + single);
        bool question = !sane || (far && !records[i].confirmed);
        if (out_questioned) out_questioned[i] = question;
        a.questioned += question;
        if (question) continue;
        b = taught(b, ln, single);
        a.used++;
    }
    a.factor = exp(b.mean);
    a.log_sd = sqrt(b.var + single);
    a.low = a.factor * exp(-Z_90 * a.log_sd);
    a.high = a.factor * exp(Z_90 * a.log_sd);
    return a;
}

/* ---- what was learnt, asked by others ---- */

static const struct learnt *apart_of(const struct learnt *l, const char *piece) {
    for (size_t i = 0; piece && i < l->apart_n; i++)
        if (!strcmp(l->apart[i].without, piece)) return &l->apart[i];
    return l;
}

const struct learnt *learnt_of(const struct shop *s, const char *piece, const char *what,
                               const char *class, const char *method) {
    for (size_t i = 0; class && i < s->learnt_n; i++) {
        const struct learnt *l = &s->learnt[i];
        if (strcmp(l->what, what) || !l->class || strcmp(l->class, class)) continue;
        if (l->method && method && strcmp(l->method, method) != 0) continue;
        l = apart_of(l, piece);
        if (l->records) return l;
    }
    return NULL;
}

const char *learnt_source(struct arena *arena, const struct learnt *l) {
    if (!l) return NULL;
    return arena_print(arena, "your shop, %lld record%s", (long long)l->records,
                       l->records == 1 ? "" : "s");
}
