/* What samples teach about the paints: a joint fit of every paint's strength and shape.
 *
 * A sample is a known mix, dried, its color read. The paints start from what is assumed of their
 * colors (core/color/pigment.h). Per paint, over t = (band + 1/2) / 36,
 *
 *     ln S      = prior + sum of 5 terms a_k cos(k pi t)    sd .9, .5, .33, .25, .2
 *     ln (K/S)  = prior + sum of 8 terms b_k cos(k pi t)    sd 1.2 / (k + 1)^1.2
 *
 * a_0, the strength, has Student's t with .4 degrees of freedom: most paints are about as strong as
 * their lightness says, a few are not at all. (A normal prior wide enough for those few doubts all
 * others too much, and with few samples that doubt chooses the recipes.) The others are normal.
 *
 * All paints are fitted at once to all samples and to the paints' own colors. Residuals are Lab
 * differences in CIEDE2000's local metric; first a Gaussian loss, then from there Student's t with
 * 6 degrees of freedom, which forgives a few bad samples (starting with it ends in worse optima).
 * The Laplace posterior around the optimum gives the doubt in every prediction, together with a
 * discrepancy: how far real mixes stay from any such model, about 1 per axis, learnt from the
 * samples themselves when there are 50 and more.
 *
 * Wide priors on K/S matter most: a dark paint's own color says nothing of its tints. The paints'
 * own colors enter as readings with sd 1.45: taken as exact they ruin the fit. Both, and the spread
 * of the strength, were chosen on mixes of 13 watercolors, each pair of paints predicted from the
 * others (bench/mixing; the folds kept for checking were not looked at).
 *
 * Another can of a paint begins at that paint's terms, not at 0, and stays near them: normal, with
 * SAMPLE_LOT of the sd above. So what one can taught is what is assumed of the next, cards of
 * either teach both, and the new can's own cards say where it differs.
 *
 * Source: own model; KM1931 for the mixing law. */
#ifndef CORE_COLOR_SAMPLE_H
#define CORE_COLOR_SAMPLE_H

#include "core/base/arena.h"
#include "core/color/pigment.h"

enum {
    SAMPLE_PAINTS_MAX = 64,
    SAMPLE_READINGS_MAX = 2000,
    SAMPLE_ITEMS_MAX = 8, /* paints in one sample */
    SAMPLE_S_TERMS = 5,
    SAMPLE_Q_TERMS = 8,
    SAMPLE_TERMS = SAMPLE_S_TERMS + SAMPLE_Q_TERMS
};

/* Of a paint's own color: the discrepancy (1.0) and the repeat error of a painted card (1.0..1.3)
 * together. Between 1.4 and 1.6 every measure of bench/mixing agrees within its sampling error. */
#define SAMPLE_COLOR_SD 1.45
#define SAMPLE_DISCREPANCY 1.0 /* per axis, CIEDE2000; where too few samples say otherwise */

/* Two cans of one paint, of different lots, as a share of what is unknown of a paint never seen
 * before. ln K of a band is then off by SAMPLE_LOT_STRENGTH (sd: the terms above in quadrature, the
 * higher cosines at their mean square), as of two pigments that are each taken up to a tenth from
 * the reference (ISO1248; evenly between: .1 sqrt(2 / 3) = .08), and alone two cans dry about 0.7
 * apart, between what suppliers keep to (0.5 from the standard, each) and what is commonly called a
 * match (1.0) (COLORTOL). No measured series of lots was found; test methods (D4838) set no limit.
 */
#define SAMPLE_LOT 0.05
#define SAMPLE_LOT_STRENGTH 0.08

struct sample_paint {
    struct pigment prior;
    struct lab color; /* of an opaque layer; l NAN: not known apart from the prior */
    double color_sd;  /* > 0; SAMPLE_COLOR_SD */
    double shape_sd;  /* times the prior sd of K/S: 1 for a paint known by its color, less (.15)
                         when its reflectance was measured; 0.01..1 */
    bool another_can; /* of paint `of`, which is none itself: prior and shape_sd are that one's */
    size_t of;
};

/* Volumes of a mix in any one unit; >= 0, their sum > 0. A leftover counts as the paints that it
 * was mixed from. */
struct sample_mix {
    size_t n; /* 1..SAMPLE_ITEMS_MAX */
    size_t paint[SAMPLE_ITEMS_MAX];
    double volume[SAMPLE_ITEMS_MAX];
};

struct sample_reading {
    struct sample_mix mix;
    struct lab color;
    double read_sd; /* of the reading, per axis, CIEDE2000; 0 where the discrepancy holds it */
    double pour_sd; /* of each volume, in its unit */
};

struct sample_settings {
    double discrepancy; /* > 0; NAN: SAMPLE_DISCREPANCY, or learnt from 50 and more samples */
    size_t rounds;      /* steps of the fit at most, 0: 60 */
};

struct sample_model;

/* Fits. Lab of paints and samples are relative to w->white.
 *
 *   paints     [paints_n], 1..SAMPLE_PAINTS_MAX
 *   readings   [readings_n], 0..SAMPLE_READINGS_MAX; wet readings do not belong here
 *   settings   NULL: defaults
 *   a          the model lives in it
 *   out        borrowed from a
 *   why        field "/paints/3" or "/samples/7/..."
 *
 * Errors: E_DOMAIN (a number outside its range, no finite color), E_REFERENCE (a paint that is not
 * there, another can of another can), E_TOO_LARGE, E_MEMORY. Samples that contradict each other are
 * no error: see sample_judge. Deterministic. Cost: about 10 ms for 150 samples of 13 paints. */
enum status sample_fit(const struct weights *w, const struct sample_paint *paints, size_t paints_n,
                       const struct sample_reading *readings, size_t readings_n,
                       const struct sample_settings *settings, struct arena *a,
                       const struct sample_model **out, struct why *why);

/* The paints as the samples have them, [paints_n], for the recipe search. */
const struct pigment *sample_pigments(const struct sample_model *m);
double sample_discrepancy(const struct sample_model *m); /* per axis */

struct sample_prediction {
    struct lab color;
    struct spectrum spectrum;
    double expected; /* difference to expect between this and the dried mix, CIEDE2000 */
    double limit90;  /* 9 of 10 stay below */
    double variance; /* doubt of the paints alone: mean squared difference, CIEDE2000^2 */
};

/* E_DOMAIN, E_REFERENCE as in sample_fit with field "/items/0/...". */
enum status sample_predict(const struct sample_model *m, const struct sample_mix *mix,
                           struct sample_prediction *out, struct why *why);

/* Variance alone, fast (a few microseconds), for rescoring candidates of the recipe search: volumes
 * [n] over the model's paints. A mix without paint has variance 0. */
double sample_variance(const struct sample_model *m, const double *volume, size_t n);
/* The same in the form of recipe_variance (core/recipe/recipe.h); ctx is the model. */
double sample_recipe_variance(void *ctx, const int *parts, size_t n);

/* How far two mixes will dry from each other, the doubt of the paints in it: what their doubts have
 * in common (a paint in both, two cans of one) does not count. E_DOMAIN, E_REFERENCE as above. */
enum status sample_apart(const struct sample_model *m, const struct sample_mix *one,
                         const struct sample_mix *other, double *out_expected, struct why *why);

/* The difference that is to be expected and the one that 9 of 10 stay below, when a mix is
 * predicted `off` from the target and its color is in doubt by `variance` (as above). */
void sample_doubt(const struct sample_model *m, double off, double variance, double *out_expected,
                  double *out_limit90);

/* How one sample agrees with all the others: predicted without it. */
struct sample_verdict {
    double difference; /* between its reading and that prediction */
    double limit90;    /* what 9 of 10 stay below */
    bool contradicts;  /* beyond what 1 in 100 would be */
};

/* out is [readings_n], in the order of the readings. */
void sample_judge(const struct sample_model *m, struct sample_verdict *out);

/* One small test mix, in whole parts, that would lower the expected difference of a recipe. */
struct sample_candidate {
    size_t n; /* 1 or 2, or the recipe's own number of paints */
    size_t paint[SAMPLE_ITEMS_MAX];
    int parts[SAMPLE_ITEMS_MAX];
    double now, after; /* expected difference of the recipe, before and after */
    bool tint;         /* white tint of a dark paint (L* < 35) in the recipe */
};

struct sample_next {
    struct sample_mix recipe;
    size_t white;   /* the whitest paint at hand, or paints_n: none */
    int parts_max;  /* parts of a test mix at most, >= 2; 1 part is what can be measured well */
    double read_sd; /* how it will be read */
};

/* The [cap] most useful test mixes, best first: of every pair of the recipe's paints, and of every
 * one with white, the best in small whole parts, and the recipe itself in whole parts. White tints
 * of dark paints that no sample shows yet come first when they gain at least half of what the best
 * does. Returns how many were written. */
size_t sample_next_best(const struct sample_model *m, const struct sample_next *ask,
                        struct sample_candidate *out, size_t cap);

#endif
