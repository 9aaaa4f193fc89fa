/* Inside of app/color_correct*.c: one batch being corrected. Nobody else includes this. */
#ifndef APP_COLOR_CORRECT_INSIDE_H
#define APP_COLOR_CORRECT_INSIDE_H

#include "app/color_correct.h"
#include "core/recipe/correct.h"
#include "core/work/palette.h"

/* The paints of the palette, and behind them the batch as one paint that is not poured. So its
 * contents stay exact, whatever grid the additions are measured on. */
struct correcting {
    const struct tables *t;
    const struct correct_ask *ask;
    const struct shelf *shelf; /* the batch's own reading among its samples */
    struct palette palette;
    struct recipe_paint *paints; /* [palette.n + 1] */
    double *volume;              /* parts in the batch over the palette, as said */
    double sum;                  /* of them */
    struct pigment batch;
    int binder;              /* of what is in it */
    int held;                /* parts of the grid that the batch is */
    double need_ml, most_ml; /* in the end */
    double part_ml;
    struct lab aim; /* D65: the target, less what the model cannot explain of the reading */
    struct lab carried;
    double fresh_part_ml;
    double worth; /* of the reading against the model's own discrepancy, 0..1 */
    struct upsampled target;
    struct correction found;
};

/* What the batch dried to, from the target. */
double correcting_now(const struct correcting *c);

/* What to expect of an addition, and what 9 of 10 stay below. */
void correcting_doubt(const struct correcting *c, const struct recipe *add, double *out_expected,
                      double *out_limit90);

/* Paints that may be added at most. */
static inline int correcting_items(const struct correcting *c) {
    return c->ask->paints == INT64_MIN ? 3 : (int)c->ask->paints;
}

/* A paint of the palette with its stock in parts of that size. */
struct recipe_paint correcting_offer(const struct correcting *c, size_t row, double part_ml);

/* color_correct_fresh.c: a new batch instead. From nothing and at the target itself: what was
 * carried over belongs to the old shares. Fills found.fresh; no fresh recipe, where stocks are too
 * small for one, is no error. */
enum status correcting_fresh(struct correcting *c, struct limit limit, struct arena *a,
                             struct why *why);

/* color_correct_answer.c: which of both is advised, in figures and words. */
enum status correcting_answer(const struct correcting *c, struct arena *a,
                              struct correct_answer *out);

#endif
