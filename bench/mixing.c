/* How well mixes of measured paints are predicted.
 *
 *   mixing CSV --train 0,1,3 --test 2,4 [--singles CSV] [--out FILE]   one split, last line
 *                                                                      "median X p95 Y"
 *   mixing CSV [--singles CSV]                                         the whole table
 *   mixing --shop KS.csv [--shops N] [--first SEED]                  simulated shop
 *
 * Differences are CIEDE2000, Lab D65 10 degree, quasi-opaque rows. Paints are known as Lab only. */
#include "bench/mixing.h"
#include "bench/mixing_data.h"
#include "core/color/color.h"
#include "tables.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { FOLDS = 32 };

static int by_size(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

double bench_quantile(double *v, size_t n, double p) {
    qsort(v, n, sizeof *v, by_size);
    size_t at = (size_t)(p * (double)n);
    return n ? v[at < n ? at : n - 1] : NAN;
}

/* ---- predicting: sees colors of paints, lessons and questions, nothing else ---- */

struct answer {
    struct lab color;
    double expected, limit90;
};

static struct sample_mix mix_of(const struct mixing_mix *m) {
    return (struct sample_mix){2, {m->paint[0], m->paint[1]}, {m->ml[0], m->ml[1]}};
}

static bool predict(const struct weights *w, const struct mixing_paints *paints,
                    const struct mixing_lesson *lessons, size_t lessons_n,
                    const struct mixing_question *questions, size_t questions_n, struct answer *out,
                    double *out_fit_ms) {
    struct sample_paint paint[MIXING_PAINTS];
    struct sample_reading *reading = calloc(lessons_n + 1, sizeof *reading);
    const struct sample_model *model;
    struct why why = {0};
    struct arena arena;
    arena_init(&arena, alloc_heap(), 0);
    for (int i = 0; i < MIXING_PAINTS; i++)
        paint[i] = (struct sample_paint){.prior = pigment_of_color(w, paints->color[i], NULL),
                                         .color = paints->color[i],
                                         .color_sd = SAMPLE_COLOR_SD,
                                         .shape_sd = 1};
    for (size_t i = 0; reading && i < lessons_n; i++)
        reading[i] = (struct sample_reading){mix_of(&lessons[i].mix), lessons[i].color, 0, 0};
    clock_t start = clock();
    bool ok = reading && sample_fit(w, paint, MIXING_PAINTS, reading, lessons_n, NULL, &arena,
                                    &model, &why) == OK;
    if (out_fit_ms) *out_fit_ms = (double)(clock() - start) * 1e3 / CLOCKS_PER_SEC;
    for (size_t i = 0; ok && i < questions_n; i++) {
        struct sample_mix mix = mix_of(&questions[i].mix);
        struct sample_prediction p;
        ok = sample_predict(model, &mix, &p, &why) == OK;
        if (ok) out[i] = (struct answer){p.color, p.expected, p.limit90};
    }
    if (!ok) fprintf(stderr, "mixing: %s %s\n", why.field, why.text);
    arena_free(&arena);
    free(reading);
    return ok;
}

/* What people do without a model: the paints' screen colors averaged by amount. */
static void average(const struct mixing_paints *paints, const struct mixing_question *questions,
                    size_t n, struct answer *out) {
    for (size_t i = 0; i < n; i++) {
        const struct mixing_mix *m = &questions[i].mix;
        double sum = m->ml[0] + m->ml[1];
        struct rgb v = {0, 0, 0};
        for (int k = 0; k < 2; k++) {
            struct xyz d65 = xyz_of_lab(paints->color[m->paint[k]], XYZ_D65);
            struct rgb c = rgb_encode(rgb_of_xyz_d65(RGB_SRGB, d65));
            v.r += m->ml[k] / sum * fmin(fmax(c.r, 0), 1);
            v.g += m->ml[k] / sum * fmin(fmax(c.g, 0), 1);
            v.b += m->ml[k] / sum * fmin(fmax(c.b, 0), 1);
        }
        out[i] = (struct answer){lab_d65_of_d50(lab_of_srgb(v)), NAN, NAN};
    }
}

/* ---- scores ---- */

struct score {
    double off[MIXING_ROWS_MAX], expected[MIXING_ROWS_MAX];
    size_t n, inside;
};

static void score_add(struct score *s, const struct answer *a, const struct lab *truth, size_t n) {
    for (size_t i = 0; i < n && s->n < MIXING_ROWS_MAX; i++) {
        double off = ciede2000(a[i].color, truth[i]);
        s->inside += off <= a[i].limit90;
        s->expected[s->n] = a[i].expected;
        s->off[s->n++] = off;
    }
}

static void score_print(struct score *s, const char *name, const char *reached, const char *asked) {
    double inside = s->n ? 100.0 * (double)s->inside / (double)s->n : NAN;
    double median = bench_quantile(s->off, s->n, 0.5), p95 = bench_quantile(s->off, s->n, 0.95);
    double ratio = bench_quantile(s->expected, s->n, 0.5) / median;
    printf("%-44s %4zu  %5.2f /%6.2f  %-13s %-13s", name, s->n, median, p95, reached, asked);
    if (isfinite(ratio)) printf("  %.2f  %3.0f %%", ratio, inside);
    printf("\n");
}

/* ---- the table ---- */

static enum mixing_use ask_all(const struct mixing_mix *mix, int fold, void *ctx) {
    (void)mix, (void)fold, (void)ctx;
    return MIXING_ASK;
}

static bool one_to_one(const struct mixing_mix *m) {
    return fabs(m->ml[0] - m->ml[1]) < 1e-9;
}

static enum mixing_use learn_tints(const struct mixing_mix *mix, int fold, void *ctx) {
    (void)fold, (void)ctx;
    bool white = mix->paint[0] == MIXING_WHITE || mix->paint[1] == MIXING_WHITE;
    return white && one_to_one(mix) ? MIXING_LEARN : MIXING_ASK;
}

static enum mixing_use learn_halves(const struct mixing_mix *mix, int fold, void *ctx) {
    (void)fold, (void)ctx;
    return one_to_one(mix) ? MIXING_LEARN : MIXING_ASK;
}

struct folds {
    bool learn[FOLDS], ask[FOLDS];
};

static enum mixing_use by_fold(const struct mixing_mix *mix, int fold, void *ctx) {
    const struct folds *f = ctx;
    (void)mix;
    if (fold < 0 || fold >= FOLDS) return MIXING_IGNORE;
    return f->ask[fold] ? MIXING_ASK : f->learn[fold] ? MIXING_LEARN : MIXING_IGNORE;
}

enum predictor { LEARNT, AVERAGED };

static bool run(const struct mixing_data *d, const struct weights *w, mixing_chooser *choose,
                void *ctx, enum predictor predictor, struct score *score, double *out_ms) {
    struct mixing_split s = mixing_data_split(d, choose, ctx);
    struct answer *a = calloc(s.questions_n + 1, sizeof *a);
    bool ok = a != NULL;
    if (ok && predictor == AVERAGED)
        average(mixing_data_paints(d), s.questions, s.questions_n, a);
    else if (ok)
        ok = predict(w, mixing_data_paints(d), s.lessons, s.lessons_n, s.questions, s.questions_n,
                     a, out_ms);
    if (ok) score_add(score, a, s.answers, s.questions_n);
    free(a);
    mixing_split_free(&s);
    return ok;
}

static int table(const struct mixing_data *d, const struct weights *w) {
    static const int folds[] = {0, 1, 3};
    static struct score score;
    double fit_ms = 0;
    printf("%-44s %4s  %-13s %-13s %-13s  %s\n", "median / 95th percentile of CIEDE2000", "rows",
           "measured", "prototype", "asked", "expected/real, inside 90 %");
    score = (struct score){.n = 0};
    if (!run(d, w, ask_all, NULL, AVERAGED, &score, NULL)) return 1;
    score_print(&score, "average in sRGB", "11.5 / 35.2", "-");
    score = (struct score){.n = 0};
    if (!run(d, w, ask_all, NULL, LEARNT, &score, NULL)) return 1;
    score_print(&score, "nothing learned", "5.8 / 16.1", "5.9 / 16.2");
    score = (struct score){.n = 0};
    if (!run(d, w, learn_tints, NULL, LEARNT, &score, NULL)) return 1;
    score_print(&score, "white 1:1 tints -> the others", "3.5 / 11.7", "3.7 / 11.9");
    score = (struct score){.n = 0};
    if (!run(d, w, learn_halves, NULL, LEARNT, &score, NULL)) return 1;
    score_print(&score, "all 1:1 rows jointly -> the others", "2.07 / 5.06", "2.1 / 5.1");
    score = (struct score){.n = 0};
    for (size_t i = 0; i < 3; i++) {
        struct folds f = {0};
        for (size_t k = 0; k < 3; k++) f.learn[folds[k]] = k != i;
        f.ask[folds[i]] = true;
        if (!run(d, w, by_fold, &f, LEARNT, &score, NULL)) return 1;
    }
    score_print(&score, "unseen pairs: two folds -> the third, pooled", "2.23 / 4.82",
                "2.25 / 4.9");
    struct folds all = {.learn = {true, true, false, true}};
    score = (struct score){.n = 0};
    if (!run(d, w, by_fold, &all, LEARNT, &score, &fit_ms)) return 1;
    printf("joint fit of all rows of folds 0, 1, 3: %.1f ms (prototype 100, asked 50)\n", fit_ms);
    return 0;
}

/* ---- one split ---- */

static bool parse_folds(const char *text, bool out[FOLDS]) {
    while (*text) {
        char *end;
        long fold = strtol(text, &end, 10);
        if (end == text || fold < 0 || fold >= FOLDS) return false;
        out[fold] = true;
        text = *end == ',' ? end + 1 : end;
        if (*end && *end != ',') return false;
    }
    return true;
}

static int split(const struct mixing_data *d, const struct weights *w, struct folds *f,
                 const char *path) {
    struct mixing_split s = mixing_data_split(d, by_fold, f);
    struct answer *a = calloc(s.questions_n + 1, sizeof *a);
    static struct score score;
    double fit_ms = 0;
    FILE *out = path ? fopen(path, "w") : NULL;
    int status = 1;
    if (path && !out)
        fprintf(stderr, "mixing: %s: cannot be written\n", path);
    else if (!s.questions_n)
        fprintf(stderr, "mixing: no row of the folds to test is in the file\n");
    else if (a && predict(w, mixing_data_paints(d), s.lessons, s.lessons_n, s.questions,
                          s.questions_n, a, &fit_ms)) {
        if (out) fprintf(out, "row,L,a,b,expected_difference,difference_90\n");
        for (size_t i = 0; out && i < s.questions_n; i++)
            fprintf(out, "%d,%.6f,%.6f,%.6f,%.6f,%.6f\n", s.questions[i].row, a[i].color.l,
                    a[i].color.a, a[i].color.b, a[i].expected, a[i].limit90);
        score_add(&score, a, s.answers, s.questions_n);
        printf("%zu rows learned from in %.1f ms, %zu predicted\n", s.lessons_n, fit_ms, score.n);
        double inside = 100.0 * (double)score.inside / (double)(score.n ? score.n : 1);
        double median = bench_quantile(score.off, score.n, 0.5);
        printf("median expected / median real %.2f, inside the 90 %% limit %.0f %%\n",
               bench_quantile(score.expected, score.n, 0.5) / median, inside);
        printf("median %.2f p95 %.2f\n", median, bench_quantile(score.off, score.n, 0.95));
        status = 0;
    }
    if (out && fclose(out)) status = 1;
    free(a);
    mixing_split_free(&s);
    return status;
}

/* ---- arguments ---- */

struct options {
    const char *mixtures, *singles, *out, *shop;
    int shops, first;
    struct folds folds;
    bool split;
};

static bool read_options(int argc, char **argv, struct options *o) {
    *o = (struct options){.shops = 120, .first = 1000};
    for (int i = 1; i < argc; i++) {
        const char *value = i + 1 < argc ? argv[i + 1] : NULL;
        if (argv[i][0] != '-') {
            if (o->mixtures) return false;
            o->mixtures = argv[i];
            continue;
        }
        if (!value) return false;
        i++;
        if (!strcmp(argv[i - 1], "--train"))
            o->split = parse_folds(value, o->folds.learn);
        else if (!strcmp(argv[i - 1], "--test")) {
            if (!parse_folds(value, o->folds.ask)) return false;
        } else if (!strcmp(argv[i - 1], "--singles"))
            o->singles = value;
        else if (!strcmp(argv[i - 1], "--out"))
            o->out = value;
        else if (!strcmp(argv[i - 1], "--shop"))
            o->shop = value;
        else if (!strcmp(argv[i - 1], "--shops"))
            o->shops = atoi(value);
        else if (!strcmp(argv[i - 1], "--first"))
            o->first = atoi(value);
        else
            return false;
    }
    for (int i = 0; i < FOLDS; i++)
        if (o->folds.learn[i] && o->folds.ask[i]) {
            fprintf(stderr, "mixing: fold %d cannot be learned from and asked\n", i);
            return false;
        }
    return o->mixtures || o->shop;
}

int main(int argc, char **argv) {
    struct options o;
    if (!read_options(argc, argv, &o)) {
        fprintf(stderr,
                "usage: mixing CSV [--train 0,1,3 --test 2,4] [--singles CSV] [--out FILE]\n"
                "       mixing --shop KS.csv [--shops N] [--first SEED]\n");
        return 2;
    }
    const struct weights w = weights_make(&tables_builtin, OBSERVER_10, LIGHT_D65);
    if (o.shop) return mixing_shop(o.shop, o.shops, o.first);
    char beside[4096];
    if (!o.singles) { /* singles.csv in the folder of the mixtures */
        const char *slash = strrchr(o.mixtures, '/');
        snprintf(beside, sizeof beside, "%.*ssingles.csv",
                 slash ? (int)(slash - o.mixtures + 1) : 0, o.mixtures);
        o.singles = beside;
    }
    struct mixing_data *d = mixing_data_load(o.mixtures, o.singles, &w);
    if (!d) return 1;
    int status = o.split ? split(d, &w, &o.folds, o.out) : table(d, &w);
    mixing_data_free(d);
    return status;
}
