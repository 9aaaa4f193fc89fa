/* The days in words, on the shop's own clock. */
#ifndef APP_DAYS_WORDS_H
#define APP_DAYS_WORDS_H

#include "app/op_days.h"

struct days_clock {
    struct arena *arena; /* owns the words */
    enum unit_system units;
    const struct zone_span *zone;
    size_t zone_n;
};
/* The clock and the units of the shop in the book. Errors: those of its document, of zone_spans. */
enum status days_clock_of_shop(struct op_call *call, struct days_clock *out, struct why *why);
/* The same of days that were laid out, at their own time. */
enum status days_clock_make(struct op_call *call, const struct days_view *v, struct days_clock *out,
                            struct why *why);

int64_t days_local_day(const struct days_clock *c, int64_t utc_min);
const char *days_when(const struct days_clock *c, int64_t utc_min); /* Thu, Oct 15, 6:40 pm */
const char *days_hour(const struct days_clock *c, int64_t utc_min); /* 6:40 pm */
const char *days_day(const struct days_clock *c, int64_t day);      /* Thu, Oct 15 */
const char *days_span(const struct days_clock *c, double minutes);  /* 3 h 20 min */

/* How good the order is, and what is known about better ones. */
const char *days_order(const struct days_clock *c, const struct days_view *v);

/* "The clocks are set back 1 h on Sun, Nov 1."; NULL: they are not, while there is work. */
const char *days_clock_change(const struct days_clock *c, const struct days_view *v);

/* What moves, one line a task without its piece; NULL: it stays, or is done. */
const char *days_move(const struct days_clock *c, const struct task_view *t);

/* "18 of 96 tasks move, 2 are new."; NULL: nothing was accepted yet. */
const char *days_move_count(const struct days_clock *c, const struct days_view *v);

#endif
