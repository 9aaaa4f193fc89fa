/* What the search knows of its problem, made ready once: paints as arrays, the
 * batch as one fixed contribution, and the exact judgment of one mix. Inside
 * core/recipe only. */
#ifndef CORE_RECIPE_MIXTURE_H
#define CORE_RECIPE_MIXTURE_H

#include "core/recipe/recipe.h"

struct mixture {
    const struct recipe_problem *problem;
    int batch_parts;      /* in the batch already */
    struct pigment batch; /* their summed K and S, parts x paint */
    int pour_min[RECIPE_SHELF_MAX], pour_max[RECIPE_SHELF_MAX]; /* resolved; max 0: not poured */
    int musts;                                                  /* paints that every recipe has */
    int first_total, last_total;                                /* of the finished mix */
    bool by_expected;
    struct lab target_light[2]; /* the target under A and LED */
    bool light_known[2];
};

/* Checks the problem and fills *out. Errors as recipe_search. */
enum status mixture_make(const struct recipe_problem *problem, struct mixture *out,
                         struct why *why);

/* CIEDE2000 to the target. */
double mixture_difference(const struct mixture *m, const struct recipe_item *items, size_t n);
/* What the search minimizes, given the difference; never below it. */
double mixture_objective(const struct mixture *m, const struct recipe_item *items, size_t n,
                         double difference);
/* The same where it is at most `most`, else INFINITY: what a pour's error does takes several colors
 * to tell and is left out where the model's own doubt is too much already. */
double mixture_objective_within(const struct mixture *m, const struct recipe_item *items, size_t n,
                                double difference, double most);
/* Everything of a recipe but `proven`. */
void mixture_judge(const struct mixture *m, const struct recipe_item *items, size_t n,
                   struct recipe *out);

#endif
