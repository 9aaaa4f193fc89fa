#include "app/money_text.h"
#include "app/gather.h"
#include "codec/text_wrap.h"
#include "codec/time_text.h"
#include "codec/units_text.h"

#include <math.h>

enum { KIND = 9, AMOUNT = 11, WORDS_AT = 10 + 2 + KIND + 1 + AMOUNT + 2 };

static const char *words(struct arena *arena, enum unit_system units, const struct money_row *r) {
    const char *of = r->piece_title ? r->piece_title : r->piece ? r->piece : r->client;
    const char *text = arena_print(arena, "%s%s%s", of ? of : "", of && r->note ? "; " : "",
                                   r->note ? r->note : "");
    if (text && r->corrects != INT64_MIN)
        text = arena_print(arena, "%s%stakes back an earlier entry", text, *text ? "; " : "");
    if (text && r->distance_m > 0)
        text = arena_print(arena, "%s%s%s", text, *text ? "; " : "",
                           distance_text(arena, units, r->distance_m));
    return text;
}

enum status money_print(struct op_call *call, const struct list_answer *list, struct why *why) {
    const struct money_row *rows = list->rows;
    struct text *out = &call->out_body;
    struct shop shop;
    enum status s = gather_shop(call, &shop, why);
    for (size_t i = 0; !s && i < list->rows_n; i++) {
        char day[24];
        const char *of = words(call->arena, shop.units, &rows[i]),
                   *amount =
                       units_text(call->arena, DIM_MONEY, UNITS_US, (double)rows[i].amount_cent);
        if (!of || !amount) return why_no_memory(why);
        day_print(rows[i].day, day, sizeof day);
        text_print(out, "%s  %-*s ", day, KIND, rows[i].kind);
        text_right(out, AMOUNT, amount);
        if (*of)
            text_print(out, "  "), text_wrap(out, WORDS_AT, WORDS_AT, of);
        else
            text_print(out, "\n");
    }
    if (!s && list->next) text_print(out, "More: the same with --after %s\n", list->next);
    return s;
}
