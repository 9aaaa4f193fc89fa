/* Measured mixes of two paints, split into what may be learnt from and what is asked.
 *
 * The measured spectra stay inside mixing_data.c. What leaves it: each paint's own color as Lab,
 * the lessons (mix and Lab), the questions (mix alone), and, apart from them, the answers. A
 * predictor that is handed paints, lessons and questions cannot see a spectrum or an answer. */
#ifndef BENCH_MIXING_DATA_H
#define BENCH_MIXING_DATA_H

#include "core/color/difference.h"
#include "core/color/spectrum.h"

#include <stdbool.h>
#include <stddef.h>

enum { MIXING_PAINTS = 13, MIXING_ROWS_MAX = 4000, MIXING_WHITE = 12 /* paint 13 */ };

struct mixing_mix {
    size_t paint[2]; /* from 0 */
    double ml[2];
};

struct mixing_lesson {
    struct mixing_mix mix;
    struct lab color;
};

struct mixing_question {
    struct mixing_mix mix;
    int row; /* data row of the file, from 1 */
};

/* Lab D65, 10 degree, throughout. */
struct mixing_paints {
    struct lab color[MIXING_PAINTS];
};

struct mixing_split {
    struct mixing_lesson *lessons;
    struct mixing_question *questions;
    struct lab *answers; /* [questions_n] */
    size_t lessons_n, questions_n;
};

struct mixing_data;

/* singles: the masstones are its rows of 0.12 ml. NULL after a message on stderr. */
struct mixing_data *mixing_data_load(const char *mixtures, const char *singles,
                                     const struct weights *w);
void mixing_data_free(struct mixing_data *d);
const struct mixing_paints *mixing_data_paints(const struct mixing_data *d);

/* What a row is for; only quasi-opaque rows are asked. */
enum mixing_use { MIXING_IGNORE, MIXING_LEARN, MIXING_ASK };
typedef enum mixing_use mixing_chooser(const struct mixing_mix *mix, int fold, void *ctx);

struct mixing_split mixing_data_split(const struct mixing_data *d, mixing_chooser *choose,
                                      void *ctx);
void mixing_split_free(struct mixing_split *s);

#endif
