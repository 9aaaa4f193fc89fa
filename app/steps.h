/* A mix as steps that a workshop measure can show: each pour, what the vessel shows after it, the
 * strongest paint last and by halves. And what the batch as really poured dries to. */
#ifndef APP_STEPS_H
#define APP_STEPS_H

#include "app/color_work.h"
#include "codec/document.h"

struct steps_ask {
    struct mix_item *items; /* whole parts, or any numbers */
    size_t items_n;
    double amount_ml; /* at least so much */
    struct measuring measuring;
    const struct color_said *target; /* or NULL */
};

struct step_row {
    const char *paint, *name, *hex; /* color of the paint */
    const char *text, *mark;        /* "2 fl oz"; the vessel then shows "5 1/2 fl oz" */
    double amount_ml, mark_ml;
    bool check; /* stir and compare before going on */
};

struct steps_answer {
    struct recipe_answer_item *items; /* whole amounts, in the mix's order */
    size_t items_n;
    struct step_row *steps;
    size_t steps_n;
    double amount_ml;   /* that it really makes */
    double error_frac;  /* worst error of a share through rounding to the measure */
    const char *poured; /* the mix as really poured, "white=12,black=1" in steps of the measure */
    double lab[3];      /* what that dries to, D50 */
    const char *hex;
    double difference, expected_difference, difference_90; /* as in mix_answer */
    double cost_cent;                                      /* NAN: a price is not known */
    const char **short_of;                                 /* paints that there is too little of */
    size_t short_of_n;
    const char *apart;  /* why two of these paints do not go together; NULL: all do */
    const char *larger; /* why it makes much more than was asked; NULL: it does not */
};

/* Errors: those of color_mix and measure_make; E_DOMAIN (/items/2/parts). */
enum status steps_make(const struct tables *t, const struct shelf *shelf,
                       const struct steps_ask *ask, struct arena *arena, struct steps_answer *out,
                       struct why *why);
void steps_print(const struct steps_answer *a, struct text *out);

extern const struct desc desc_steps_answer;

#endif
