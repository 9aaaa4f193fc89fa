/* Recipes and mixes as a person reads them on a terminal. */
#ifndef APP_COLOR_PRINT_H
#define APP_COLOR_PRINT_H

#include "app/color_correct.h"
#include "app/color_hiding.h"
#include "app/color_known.h"
#include "app/color_learn.h"
#include "app/color_reach.h"
#include "app/color_work.h"
#include "codec/document.h"

void recipe_answer_print(const struct recipe_answer *a, struct text *out);
void mix_answer_print(const struct mix_answer *a, struct text *out);
void next_answer_print(const struct next_answer *a, struct text *out);
void correct_answer_print(const struct correct_answer *a, struct text *out);
void known_print(const struct known_answer *a, struct text *out);
void reach_print(const struct reach_answer *a, struct text *out);
void hiding_print(const struct hiding_answer *a, struct text *out);

#endif
