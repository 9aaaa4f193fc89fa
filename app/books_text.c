#include "app/books_text.h"
#include "app/days_words.h"
#include "codec/text_wrap.h"
#include "codec/time_text.h"
#include "codec/units_text.h"

#include <math.h>

enum { KIND = 16, SUM = 12 /* columns */ };

static void line(struct text *out, const char *what, const char *in, const char *gone,
                 const char *way) {
    const char *const sums[] = {in, gone, way};
    text_left(out, KIND, what);
    for (size_t i = 0; i < sizeof sums / sizeof *sums; i++) text_right(out, SUM, sums[i]);
    while (out->n && out->at[out->n - 1] == ' ') out->n--;
    text_print(out, "\n");
}

enum status books_print(struct op_call *call, const struct books_answer *a, struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    if (s) return s;
    struct arena *arena = call->arena;
    struct text *out = &call->out_body;
    char from[24], to[24];
    date_print(a->from_day, from, sizeof from);
    date_print(a->to_day, to, sizeof to);
    text_print(out, "%s to %s\n", from, to);
    line(out, "", "in", "out", "driven");
    for (size_t i = 0; i < a->rows_n; i++) {
        const struct books_sum *r = &a->rows[i];
        line(out, r->kind,
             fabs(r->in_cent) > 0 ? units_text(arena, DIM_MONEY, c.units, r->in_cent) : "",
             fabs(r->out_cent) > 0 ? units_text(arena, DIM_MONEY, c.units, r->out_cent) : "",
             fabs(r->distance_m) > 0 ? distance_text(arena, c.units, r->distance_m) : "");
    }
    line(out, "in all", units_text(arena, DIM_MONEY, c.units, a->in_cent),
         units_text(arena, DIM_MONEY, c.units, a->out_cent),
         distance_text(arena, c.units, a->distance_m));
    text_print(out, "Left %s. Stock of now at its cost: %s.\n",
               units_text(arena, DIM_MONEY, c.units, a->left_cent),
               units_text(arena, DIM_MONEY, c.units, a->stock_cent));
    text_wrap(out, 0, 0, a->note);
    return OK;
}
