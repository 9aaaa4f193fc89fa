#include "bench/mixing_data.h"

#include "core/color/color.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BANDS_MEASURED = 41 /* 380..780 by 10 */ };

struct measured {
    struct mixing_mix mix;
    struct lab color;
    int fold, row;
};

struct mixing_data {
    struct mixing_paints paints;
    struct measured *rows;
    size_t rows_n;
};

/* Splits a line in place; returns how many fields. */
static size_t fields(char *line, char **out, size_t cap) {
    size_t n = 0;
    for (char *p = line; p && n < cap; n++) {
        out[n] = p;
        p = strchr(p, ',');
        if (p) *p++ = 0;
    }
    return n;
}

static struct lab color_of(const struct weights *w, char **values) {
    struct spectrum r;
    for (int i = 0; i < SPECTRUM_BANDS; i++) r.at[i] = strtod(values[i], NULL);
    return lab_of_xyz(xyz_of_spectrum(w, &r), w->white);
}

static bool load_paints(struct mixing_data *d, const char *path, const struct weights *w) {
    char line[8192], *field[128];
    bool have[MIXING_PAINTS] = {false};
    FILE *f = fopen(path, "r");
    if (!f) return false;
    while (fgets(line, sizeof line, f)) {
        size_t n = fields(line, field, 128);
        int paint = n >= 3 + BANDS_MEASURED ? atoi(field[0]) : 0;
        if (paint < 1 || paint > MIXING_PAINTS || fabs(strtod(field[2], NULL) - 0.12) > 1e-9)
            continue;
        d->paints.color[paint - 1] = color_of(w, field + 3);
        have[paint - 1] = true;
    }
    fclose(f);
    for (int i = 0; i < MIXING_PAINTS; i++)
        if (!have[i]) return false;
    return true;
}

static bool load_mixes(struct mixing_data *d, const char *path, const struct weights *w) {
    char line[8192], *field[128];
    FILE *f = fopen(path, "r");
    if (!f) return false;
    for (int row = 0; fgets(line, sizeof line, f) && d->rows_n < MIXING_ROWS_MAX; row++) {
        size_t n = fields(line, field, 128);
        if (row == 0 || n < 6 + BANDS_MEASURED || strcmp(field[4], "1") != 0) continue;
        int a = atoi(field[0]), b = atoi(field[2]);
        if (a < 1 || a > MIXING_PAINTS || b < 1 || b > MIXING_PAINTS) continue;
        d->rows[d->rows_n++] = (struct measured){
            {{(size_t)a - 1, (size_t)b - 1}, {strtod(field[1], NULL), strtod(field[3], NULL)}},
            color_of(w, field + 6),
            atoi(field[5]),
            row};
    }
    fclose(f);
    return d->rows_n > 0;
}

struct mixing_data *mixing_data_load(const char *mixtures, const char *singles,
                                     const struct weights *w) {
    struct mixing_data *d = calloc(1, sizeof *d);
    if (d) d->rows = calloc(MIXING_ROWS_MAX, sizeof *d->rows);
    if (!d || !d->rows)
        fprintf(stderr, "mixing: no memory\n");
    else if (!load_paints(d, singles, w))
        fprintf(stderr, "mixing: %s: cannot be read, or lacks a paint at 0.12 ml\n", singles);
    else if (!load_mixes(d, mixtures, w))
        fprintf(stderr, "mixing: %s: cannot be read, or holds no quasi-opaque mix\n", mixtures);
    else
        return d;
    mixing_data_free(d);
    return NULL;
}

void mixing_data_free(struct mixing_data *d) {
    if (d) free(d->rows);
    free(d);
}

const struct mixing_paints *mixing_data_paints(const struct mixing_data *d) {
    return &d->paints;
}

struct mixing_split mixing_data_split(const struct mixing_data *d, mixing_chooser *choose,
                                      void *ctx) {
    struct mixing_split s = {calloc(d->rows_n, sizeof *s.lessons),
                             calloc(d->rows_n, sizeof *s.questions),
                             calloc(d->rows_n, sizeof *s.answers), 0, 0};
    if (!s.lessons || !s.questions || !s.answers) return s;
    for (size_t i = 0; i < d->rows_n; i++) {
        const struct measured *r = &d->rows[i];
        switch (choose(&r->mix, r->fold, ctx)) {
        case MIXING_LEARN:
            s.lessons[s.lessons_n++] = (struct mixing_lesson){r->mix, r->color};
            break;
        case MIXING_ASK:
            s.answers[s.questions_n] = r->color;
            s.questions[s.questions_n++] = (struct mixing_question){r->mix, r->row};
            break;
        case MIXING_IGNORE: break;
        }
    }
    return s;
}

void mixing_split_free(struct mixing_split *s) {
    free(s->lessons);
    free(s->questions);
    free(s->answers);
    *s = (struct mixing_split){0};
}
