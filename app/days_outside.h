/* What open work waits for from outside, in words: for Today, the days and the terminal. */
#ifndef APP_DAYS_OUTSIDE_H
#define APP_DAYS_OUTSIDE_H

#include "app/days_words.h"

struct outside_row {
    const char *piece, *title;
    const char *who; /* the client, where the piece names one */
    const char *kind, *text;
    int64_t expected_day, until_utc_min;
};
extern const struct desc desc_outside_row;
enum { OUTSIDE_ROWS = 100 };

/* Over all pieces, what holds work up within so many days from now first; days 0: all. */
enum status days_outside(struct op_call *call, const struct days_view *v, int days,
                         struct outside_row **out, size_t *out_n, struct why *why);

/* The same for a terminal; of a sample also how its yes is written down. */
void outside_print(const struct days_clock *c, const struct outside_row *w, struct text *out);

#endif
