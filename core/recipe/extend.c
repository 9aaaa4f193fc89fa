#include "core/recipe/extend.h"

#include "core/recipe/recipe.h"

#include <math.h>
#include <string.h>

#define SHARE 0.6 /* of the most colorful chip's chroma */
#define CHROMA_MAX 14

static const double depths[EXTEND_DEPTHS] = {3, 5, 8}; /* Munsell value */
static const double grays[EXTEND_GRAYS] = {1.2, 5, 9.6};

/* The paints that are tried, by number: hues first, then black, gray, white. */
static struct munsell chip_of(const struct munsell_book *b, int i) {
    if (i >= EXTEND_HUES * EXTEND_DEPTHS)
        return (struct munsell){.value = grays[i - EXTEND_HUES * EXTEND_DEPTHS]};
    const double value = depths[i % EXTEND_DEPTHS];
    const int hue = 2 + 4 * (i / EXTEND_DEPTHS); /* the middle of each family: 5R, 5YR ... */
    const double most = 2.0 * b->steps[(int)value - 1][hue];
    return (struct munsell){2.5 * hue, value, fmin(SHARE * most, CHROMA_MAX)};
}

/* The best difference with the paints as they are; of the last one, if `must`, every recipe has
 * some. */
static enum status best(const struct extend_ask *ask, const struct pigment *paints, size_t n,
                        bool must, const struct limit *limit, struct arena *arena, double *out,
                        struct why *why) {
    struct recipe_paint rows[RECIPE_SHELF_MAX] = {{0}};
    for (size_t i = 0; i < n; i++) rows[i].pigment = &paints[i];
    if (must) rows[n - 1].use = RECIPE_MUST;
    struct recipe_problem problem = {.paints = rows,
                                     .paints_n = n,
                                     .target = lab_d65_of_d50(ask->target),
                                     .items_max = ask->items_max,
                                     .parts = ask->parts,
                                     .best_max = 1,
                                     .d65 = ask->d65};
    struct recipe_result found;
    enum status s = recipe_search(&problem, limit, arena, &found, why);
    if (!s) *out = found.best[0].difference;
    return s;
}

enum status extend_find(const struct extend_ask *ask, const struct limit *limit,
                        struct arena *arena, struct extend *out, struct why *why) {
    struct pigment *paints = arena_array(arena, ask->n + 1, sizeof *paints);
    struct extend r = {.before = INFINITY, .best.after = INFINITY};
    enum status s = OK;
    if (!paints) return why_no_memory(why);
    if (ask->n) memcpy(paints, ask->paints, ask->n * sizeof *paints);
    if (ask->n) s = best(ask, paints, ask->n, false, limit, arena, &r.before, why);
    for (int i = 0; i < EXTEND_TRIED && !s && !limit_asked(limit); i++) {
        struct extend_paint one = {.chip = chip_of(ask->book, i)};
        struct upsampled u;
        paints[ask->n] = pigment_of_color(ask->d50, munsell_color(ask->book, one.chip), &u);
        one.color = u.color;
        s = best(ask, paints, ask->n + 1, true, limit, arena, &one.after, why);
        if (!s && one.after < r.best.after) r.best = one;
    }
    if (!s) *out = r;
    return s;
}
