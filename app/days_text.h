/* The days as a terminal shows them, 80 columns wide. */
#ifndef APP_DAYS_TEXT_H
#define APP_DAYS_TEXT_H

#include "app/op_days.h"

/* Appends the days from now on: each with its pieces, clock times, what dries until when.
 * Where the shop's clock is not known nothing is appended. */
void days_print(struct op_call *call, const struct days_view *v, const char *const *promises,
                size_t promises_n, struct text *out);

/* Words from column `indent` on, wrapped; the first line's pen stands at column `at`. */
void days_wrap(struct text *out, size_t at, size_t indent, const char *words);

#endif
