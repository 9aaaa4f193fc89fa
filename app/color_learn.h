/* The next sample worth making. */
#ifndef APP_COLOR_LEARN_H
#define APP_COLOR_LEARN_H

#include "app/color_work.h"

struct next_ask {
    struct color_said target;
    struct mix_item *items; /* the recipe in hand; n = 0: the best for the target is taken */
    size_t items_n;
    int64_t parts_max;    /* of the test mix; INT64_MIN: 12 */
    enum reading read;    /* how the card will be read; unsaid: by photo */
    const char *class;    /* only paints of this class of product; NULL: every color */
    enum measure measure; /* what the shop measures with; unsaid: fl oz and spoons */
    double smallest_ml;   /* what it can measure well; NAN: a quarter teaspoon, 1 ml */
};

struct next_item {
    const char *paint, *name;
    int64_t parts;
    double amount_ml; /* with one part as the smallest that can be measured */
    const char *text; /* "1/2 tsp" */
};

struct next_row {
    struct next_item *items;
    size_t items_n;
    const char *hex;
    double before, after; /* expected difference of the recipe, now and with that sample */
    double gain;          /* what falls away */
    bool tint;            /* a white tint of a dark paint */
    const char *text;     /* what to do and why */
};

struct next_answer {
    struct next_item *items; /* those of rows[0], for who wants just one */
    size_t items_n;
    const char *hex, *text;
    double before, after, gain;
    struct recipe_answer_item *recipe; /* that it is worth making for */
    size_t recipe_n;
    int64_t samples;       /* learnt from so far */
    struct next_row *rows; /* most useful first */
    size_t rows_n;
};

/* Errors: those of color_recipes and color_mix. */
enum status color_next(const struct tables *t, const struct shelf *shelf,
                       const struct next_ask *ask, struct limit limit, struct arena *arena,
                       struct next_answer *out, struct why *why);

extern const struct desc desc_next_answer;

#endif
