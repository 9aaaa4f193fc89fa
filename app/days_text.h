/* The days as a terminal shows them, 80 columns wide. */
#ifndef APP_DAYS_TEXT_H
#define APP_DAYS_TEXT_H

#include "app/op_today.h"
#include "codec/text_wrap.h"

/* Appends the days from now on: each with its pieces, clock times, what dries until when.
 * ids: with the tasks' public names, for task start and task done. */
void days_print(struct op_call *call, const struct days_view *v, const char *const *promises,
                size_t promises_n, bool ids, struct text *out);

/* The same of today, with what to type when a task is done. */
void today_print(struct op_call *call, const struct days_view *v, const struct today_answer *a,
                 struct text *out);

#endif
