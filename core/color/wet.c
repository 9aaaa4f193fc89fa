#include "core/color/wet.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>

#define READ_L 1.2 /* error of a pair, lightness and chroma */
#define READ_C 1.5
#define USUAL_L 5.0 /* spread of what paints do */
#define USUAL_C 0.15
#define PRIOR_OFF 1.5 /* what is expected before the pairs say otherwise, and counts as so many */
#define PRIOR_PAIRS 3

struct sums {
    double n, shift, cross, square;
};

static double chroma(struct lab c) {
    return hypot(c.a, c.b);
}

static void add(struct sums *s, const struct wet_pair *p, double times) {
    s->n += times;
    s->shift += times * (p->dry.l - p->wet.l);
    s->cross += times * chroma(p->dry) * chroma(p->wet);
    s->square += times * chroma(p->wet) * chroma(p->wet);
}

static struct wet_shift of_sums(const struct sums *s) {
    const double l = READ_L * READ_L / (USUAL_L * USUAL_L),
                 c = READ_C * READ_C / (USUAL_C * USUAL_C);
    return (struct wet_shift){.lightness = s->shift / (s->n + l),
                              .chroma = (s->cross + c) / (s->square + c)};
}

struct lab wet_dried(const struct wet_shift *s, struct lab wet) {
    return (struct lab){fmin(fmax(wet.l + s->lightness, 0), 100), wet.a * s->chroma,
                        wet.b * s->chroma};
}

static bool is_finite(struct lab c) {
    return fabs(c.l) <= 1000 && fabs(c.a) <= 1000 && fabs(c.b) <= 1000;
}

enum status wet_learn(const struct wet_pair *pairs, size_t n, struct wet_shift *out,
                      struct why *why) {
    struct sums all = {0};
    double square = 0;
    char field[32];
    if (n < WET_PAIRS_LEAST)
        return why_say(why, E_MISSING, "",
                       "%zu %s read wet and dry: %d are needed before a wet color says anything. "
                       "Paint a card, read it at once and again when it is dry, and log both with "
                       "the same mix.",
                       n, n == 1 ? "mix was" : "mixes were", WET_PAIRS_LEAST);
    if (n > WET_PAIRS_MAX)
        return why_say(why, E_TOO_LARGE, "", "At most %d pairs are learned from.", WET_PAIRS_MAX);
    for (size_t i = 0; i < n; i++) {
        snprintf(field, sizeof field, "/%zu", i);
        if (!is_finite(pairs[i].wet) || !is_finite(pairs[i].dry))
            return why_say(why, E_DOMAIN, field, "A color of this pair is not finite.");
        add(&all, &pairs[i], 1);
    }
    for (size_t i = 0; i < n; i++) { /* each from the others */
        struct sums others = all;
        add(&others, &pairs[i], -1);
        const struct wet_shift s = of_sums(&others);
        const double off = ciede2000(wet_dried(&s, pairs[i].wet), pairs[i].dry);
        square += off * off;
    }
    *out = of_sums(&all);
    out->expected =
        sqrt((square + PRIOR_PAIRS * PRIOR_OFF * PRIOR_OFF) / ((double)n + PRIOR_PAIRS));
    out->pairs = n;
    return OK;
}
