/* Fittings, price, care: the end of the work and what comes after. */
#include "app/sheet/pen.h"

#include <math.h>

void sheet_fittings(struct pen *p) {
    const struct fitting_plan *f = &p->piece->fittings;
    for (size_t i = 0; i < f->n; i++) {
        const struct fitting_line *l = &f->rows[i];
        if (l->rank == RANK_MIND || l->rank == RANK_STOP) {
            const char *other = isnan(l->other_mm) || !l->other
                                    ? NULL
                                    : pen_print(p, "%s: %s.", pen_capital(p, l->other),
                                                pen_quantity(p, DIM_LENGTH, l->other_mm));
            bool sized = !isnan(l->size_mm);
            if (sized) /* its figure opens like any other; what must be minded stands below it */
                pen_figure(p, pen_pointer(p, "/fittings/%zu/size_mm", i),
                           pen_quantity(p, DIM_LENGTH, l->size_mm), l->what, other);
            pen_row(p, l->rank == RANK_STOP ? SHEET_STOP : SHEET_MIND, NULL,
                    sized ? pen_print(p, "%s.", pen_capital(p, l->verdict))
                          : pen_print(p, "%s: %s.", l->what, l->verdict),
                    sized || !other ? l->detail
                                    : pen_print(p, "%s %s", l->detail ? l->detail : "", other),
                    pen_known(p, l->certainty, l->source));
            continue;
        }
        const char *detail = l->detail;
        if (!isnan(l->other_mm) && l->other)
            detail = pen_print(p, "%s: %s.%s%s", l->other, pen_quantity(p, DIM_LENGTH, l->other_mm),
                               detail ? " " : "", detail ? detail : "");
        if (!isnan(l->size_mm)) {
            struct sheet_row *r = pen_figure(
                p, pen_pointer(p, "/fittings/%zu/size_mm", i),
                pen_quantity(p, DIM_LENGTH, l->size_mm),
                l->verdict ? pen_print(p, "%s: %s", l->what, l->verdict) : l->what, detail);
            if (!r->known) r->known = pen_known(p, l->certainty, l->source);
        } else {
            pen_row(p, SHEET_ROW, l->verdict, l->what, detail,
                    pen_known(p, l->certainty, l->source));
        }
    }
    if (!f->n) pen_row(p, SHEET_TEXT, NULL, NULL, "Nothing to fit is on record.", NULL);
}

static void sum(struct pen *p, const char *name, double cent, const char *what,
                const char *detail) {
    if (isnan(cent)) return;
    pen_figure(p, pen_pointer(p, "/price/%s", name), pen_quantity(p, DIM_MONEY, cent), what,
               detail);
}

/* Said to be for oneself: nobody is quoted and nobody pays a deposit. */
static bool own_said(struct pen *p) {
    return p->piece->piece.agreement.purpose == PURPOSE_OWN &&
           !pen_assumed(p, pen_pointer(p, "/agreement/purpose"));
}

void sheet_price(struct pen *p) {
    const struct price *c = &p->piece->price;
    for (size_t i = 0; i < c->rows_n; i++) {
        const struct cost_line *l = &c->rows[i];
        pen_figure(p, pen_pointer(p, "/price/rows/%zu/cost_cent", i),
                   pen_quantity(p, DIM_MONEY, l->cent), l->name,
                   l->hours > 0 ? pen_hands(p, l->hours) : NULL)
            ->known = pen_known(p, CERTAINTY_UNSAID, l->source);
    }
    pen_row(p, SHEET_HEAD, NULL, "In all", NULL, NULL);
    sum(p, "cost_cent", c->cost_cent, "Cost", pen_print(p, "%s hands-on.", pen_hands(p, c->hours)));
    sum(p, "minimum_cent", c->minimum_cent, "Lowest price", "Below this it costs you money.");
    sum(p, "price_cent", c->price_cent,
        !isnan(pen_said_cent(p)) ? "Price, as planned now" : "Price", NULL);
    if (c->fee_cent > 0) sum(p, "fee_cent", c->fee_cent, "Seller's fee, in the price", NULL);
    if (!own_said(p)) sum(p, "deposit_cent", c->deposit_cent, "Deposit", NULL);
    if (!isnan(c->hour_cent))
        pen_figure(p, pen_pointer(p, "/price/hour_cent_per_h"),
                   pen_quantity(p, DIM_RATE, c->hour_cent),
                   pen_print(p, "What an hour earns %s", pen_price(p)), NULL);
    if (!isnan(c->best_offer_cent) && !pen_begun(p))
        sum(p, "best_offer_cent", c->best_offer_cent, "Highest price to buy it for",
            c->best_offer_cent <= 0 ? "Leave it: even as a gift it does not pay your hours."
                                    : "Above this the hours are not paid.");
    if (!p->closed) pen_notices(p, &c->notices);
    if (c->quote && !p->closed && !own_said(p)) {
        pen_row(p, SHEET_HEAD, NULL, "Quote", NULL, NULL);
        pen_row(p, SHEET_TEXT, NULL, NULL, c->quote, NULL);
    }
}

/* Which of the piece's dates a line of the care card holds until. */
static const char *date_pointer(struct pen *p, int64_t until) {
    const struct piece_plan *q = p->piece;
    const char *name = until == q->cured_utc_min     ? "cured"
                       : until == q->deliver_utc_min ? "deliver"
                       : until == q->handle_utc_min  ? "handle"
                                                     : NULL;
    return name ? pen_pointer(p, "/%s_utc_min", name) : "";
}

void sheet_care(struct pen *p) {
    for (size_t i = 0; i < p->piece->care_n; i++) {
        const struct care_line *c = &p->piece->care[i];
        const char *known = pen_known(p, CERTAINTY_UNSAID, c->source);
        if (c->until_utc_min == INT64_MIN)
            pen_row(p, SHEET_ROW, "Always", c->text, NULL, known);
        else
            pen_figure(p, date_pointer(p, c->until_utc_min),
                       pen_print(p, "Until %s", pen_date(p, pen_local_day(p, c->until_utc_min))),
                       c->text, NULL)
                ->known = known;
    }
}
