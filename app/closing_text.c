#include "app/closing_text.h"
#include "app/days_words.h"
#include "app/entry_text.h"
#include "codec/units_text.h"
#include "core/work/basis.h"

#include <math.h>

static void beside(struct text *out, size_t indent, const char *what, const char *actual,
                   const char *planned) {
    enum { WHAT = 10 };
    text_print(out, "%*s", (int)indent, "");
    text_left(out, WHAT, what);
    text_print(out, "%s%s%s\n", actual, planned ? ", planned " : "", planned ? planned : "");
}

static void money(struct arena *a, enum unit_system units, size_t indent, const char *what,
                  double actual_cent, double planned_cent, struct text *out) {
    beside(out, indent, what, units_text(a, DIM_MONEY, units, actual_cent),
           isnan(planned_cent) ? NULL : units_text(a, DIM_MONEY, units, planned_cent));
}

void closing_lines(struct arena *a, enum unit_system units, const struct closing_view *v,
                   size_t indent, struct text *out) {
    const struct closing_row *r = &v->row;
    char actual[32], planned[32];
    beside(out, indent, "Hours", basis_hands(r->actual_hours, actual),
           isnan(r->planned_hours) ? NULL : basis_hands(r->planned_hours, planned));
    money(a, units, indent, "Material", r->actual_material_cent, r->planned_material_cent, out);
    money(a, units, indent, "Price", r->actual_price_cent, r->planned_price_cent, out);
    if (r->fee_cent > 0) money(a, units, indent, "Fees", r->fee_cent, (double)NAN, out);
    if (r->bought_cent > 0) money(a, units, indent, "Bought", r->bought_cent, (double)NAN, out);
    money(a, units, indent, "An hour", r->hour_cent, (double)NAN, out);
}

const char *closing_unbooked(struct arena *a, enum unit_system units,
                             const struct closing_view *v) {
    if (!(v->unbooked_cent > 0)) return NULL;
    const char *amount = units_text(a, DIM_MONEY, units, v->unbooked_cent);
    return arena_print(a,
                       "Of it %s is not under Money, and so in no books: coatwright money add "
                       "--kind %s --amount '%s' --piece %s",
                       amount, v->sale ? "sale" : "payment", amount, v->row.piece);
}

/* "6 fl oz of Black, planned 3 fl oz" */
static const char *product_words(struct arena *a, enum unit_system units,
                                 const struct closing_product_row *p) {
    const char *planned =
        isnan(p->planned_ml)
            ? "not planned"
            : arena_print(a, "planned %s", units_text(a, DIM_VOLUME, units, p->planned_ml));
    const char *used =
        isnan(p->actual_ml) ? "None logged" : units_text(a, DIM_VOLUME, units, p->actual_ml);
    return arena_print(a, "%s of %s, %s", used, p->name ? p->name : p->paint, planned);
}

static void under(struct text *out, size_t at, const char *words) {
    if (!words) return;
    text_print(out, "%*s", (int)at, "");
    text_wrap(out, at, at + 2, words);
}

static void closing_print(const struct days_clock *c, const struct closing_view *v, size_t at,
                          struct text *out) {
    struct arena *a = c->arena;
    const struct closing_row *r = &v->row;
    const char *days =
        r->days_to_sell == INT64_MIN
            ? NULL
            : arena_print(a, "Sold %lld %s after it was listed", (long long)r->days_to_sell,
                          r->days_to_sell == 1 ? "day" : "days");
    const char *const parts[] = {arena_print(a, "Closed %s", days_when(c, r->at_utc_min)), days};
    const char *line = entry_sentences(a, parts, sizeof parts / sizeof *parts);
    entry_print(out, at, r->piece, r->title, line ? line : "");
    closing_lines(a, c->units, v, at, out);
    under(out, at, closing_unbooked(a, c->units, v));
    under(out, at, r->note);
    for (size_t i = 0; i < v->products_n; i++)
        under(out, at, product_words(a, c->units, &v->products[i]));
}

enum status closings_print(struct op_call *call, const struct list_answer *list, struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    const struct closing_view *rows = list->rows;
    size_t at = 0;
    for (size_t i = 0; i < list->rows_n; i++) at = entry_column(at, rows[i].row.piece);
    for (size_t i = 0; !s && i < list->rows_n; i++) {
        if (i) text_add(&call->out_body, "\n", 1);
        closing_print(&c, &rows[i], at, &call->out_body);
    }
    if (!s && list->next)
        text_print(&call->out_body, "More: coatwright money pieces --after %s\n", list->next);
    return s;
}
