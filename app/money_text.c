#include "app/money_text.h"
#include "app/gather.h"
#include "codec/text_wrap.h"
#include "codec/time_text.h"
#include "codec/units_text.h"

#include <math.h>

enum { DAY = 12, KIND = 9, AMOUNT = 11, WORDS_AT = DAY + 2 + KIND + 1 + AMOUNT + 2 };

/* A drive that nothing was paid for is its way, not $0. */
static bool only_driven(const struct money_row *r) {
    return !r->amount_cent && r->distance_m > 0;
}

const char *money_amount(struct arena *arena, enum unit_system units, const struct money_row *r) {
    return only_driven(r) ? distance_text(arena, units, r->distance_m)
                          : units_text(arena, DIM_MONEY, UNITS_US, (double)r->amount_cent);
}

static const char *words(struct arena *arena, enum unit_system units, const struct money_row *r) {
    const char *of = r->piece_title ? r->piece_title : r->piece ? r->piece : r->client;
    const char *text = arena_print(arena, "%s%s%s", of ? of : "", of && r->note ? "; " : "",
                                   r->note ? r->note : "");
    if (text && r->corrects != INT64_MIN)
        text = arena_print(arena, "%s%stakes back an earlier entry", text, *text ? "; " : "");
    if (text && r->distance_m > 0 && !only_driven(r))
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
                   *amount = money_amount(call->arena, shop.units, &rows[i]);
        if (!of || !amount) return why_no_memory(why);
        date_print(rows[i].day, day, sizeof day);
        text_print(out, "%-*s  %-*s ", DAY, day, KIND, rows[i].kind);
        text_right(out, AMOUNT, amount);
        if (*of)
            text_print(out, "  "), text_wrap(out, WORDS_AT, WORDS_AT, of);
        else
            text_print(out, "\n");
    }
    if (!s && list->next) text_print(out, "More: the same with --after %s\n", list->next);
    return s;
}
