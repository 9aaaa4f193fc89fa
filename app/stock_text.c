#include "app/stock_text.h"
#include "app/days_words.h"
#include "codec/text_wrap.h"
#include "codec/units_text.h"

#include <math.h>

enum { NUMBER = 6, WHEN = 23, KIND = 10, AMOUNT = 14, UNDER = NUMBER + 2 + WHEN }; /* columns */

/* What it was for, a line each: a long public name stands whole, to be typed again. */
static void beneath(const struct days_clock *c, const struct stock_movement_row *r,
                    struct text *out) {
    struct arena *a = c->arena;
    const char *const lines[] = {
        r->batch ? arena_print(a, "batch %s", r->batch) : NULL,
        r->piece ? arena_print(a, "for %s", r->piece) : NULL,
        isnan(r->cost_cent) ? NULL : units_text(a, DIM_MONEY, c->units, r->cost_cent), r->note,
        r->corrects == INT64_MIN ? NULL
                                 : arena_print(a, "takes back %lld", (long long)r->corrects)};
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        if (lines[i]) text_print(out, "%*s", UNDER, ""), text_wrap(out, UNDER, UNDER, lines[i]);
}

enum status movements_print(struct op_call *call, const char *paint, const struct list_answer *list,
                            struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    const struct stock_movement_row *rows = list->rows;
    struct text *out = &call->out_body;
    for (size_t i = 0; !s && i < list->rows_n; i++) {
        const struct stock_movement_row *r = &rows[i];
        const char *amount = units_text(c.arena, DIM_VOLUME, c.units, r->amount_ml);
        if (!amount) return why_no_memory(why);
        text_print(out, "%*lld  ", NUMBER, (long long)r->number);
        text_left(out, WHEN, days_when(&c, r->at_utc_min));
        text_left(out, KIND, r->kind);
        text_right(out, AMOUNT, amount);
        text_print(out, "\n");
        beneath(&c, r, out);
    }
    if (!s && list->next)
        text_print(out, "More: coatwright paint movements %s --after %s\n", paint, list->next);
    return s;
}
