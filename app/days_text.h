/* The days as a terminal shows them, 80 columns wide. */
#ifndef APP_DAYS_TEXT_H
#define APP_DAYS_TEXT_H

#include "app/op_today.h"
#include "codec/text_wrap.h"

/* What is said above the days. ids: with the tasks' public names, for task start and task done. */
struct days_said {
    const char *const *promises;
    size_t promises_n;
    const struct outside_row *outside;
    size_t outside_n;
    const char *const *left_out;
    size_t left_out_n;
    bool ids;
};

/* Appends the days from now on: each with its pieces, clock times, what dries until when. */
void days_print(struct op_call *call, const struct days_view *v, const struct days_said *said,
                struct text *out);

/* What is to be bought, for which pieces, and what all of it costs (NAN: not known). */
void shopping_print(struct op_call *call, const struct short_row *rows, size_t n, double cost_cent,
                    struct text *out);

/* The same of today, with what to type when a task is done. */
void today_print(struct op_call *call, const struct days_view *v, const struct today_answer *a,
                 struct text *out);

#endif
