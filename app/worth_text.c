#include "app/worth_text.h"
#include "app/entry_text.h"
#include "app/id_words.h"
#include "codec/text_wrap.h"
#include "codec/units_text.h"

#include <math.h>
#include <string.h>

enum { WHAT = 17, FIGURE = 14, MORE_AT = 2 + WHAT + FIGURE + 2 }; /* columns */

struct page {
    struct arena *arena;
    enum unit_system units;
    struct text *out;
};

static const char *said(const struct page *p, enum dimension d, double v) {
    const char *text = units_text(p->arena, d, p->units, v);
    return text ? text : "";
}

static void line(const struct page *p, const char *what, const char *figure, const char *more) {
    text_print(p->out, "  ");
    text_left(p->out, WHAT, what);
    text_right(p->out, FIGURE, figure);
    if (more && *more)
        text_print(p->out, "  "), text_wrap(p->out, MORE_AT, MORE_AT, more);
    else
        text_print(p->out, "\n");
}

static void figure(const struct page *p, const char *what, enum dimension d, double v,
                   const char *more) {
    if (!isnan(v)) line(p, what, said(p, d, v), more);
}

static const char *range(const struct page *p, enum dimension d, double low, double high) {
    return isnan(low) || isnan(high)
               ? NULL
               : arena_print(p->arena, "%s to %s", said(p, d, low), said(p, d, high));
}

/* "Chest of drawers, 34 in wide, 18 in deep, 42 in high. Worn." */
static const char *thing(const struct page *p, const struct worth *w) {
    const char *const parts[] = {
        arena_print(p->arena, "%s, %s wide, %s deep, %s high", entry_words(p->arena, w->name),
                    said(p, DIM_LENGTH, w->width_mm), said(p, DIM_LENGTH, w->depth_mm),
                    said(p, DIM_LENGTH, w->height_mm)),
        w->condition};
    const char *text = entry_sentences(p->arena, parts, sizeof parts / sizeof *parts);
    return text ? text : "";
}

static void figures(const struct page *p, const struct worth *w) {
    figure(p, "An hour earns", DIM_RATE, w->hour_cent,
           range(p, DIM_RATE, w->hour_low_cent, w->hour_high_cent));
    if (!isnan(w->hour_cent)) figure(p, "You want", DIM_RATE, w->pay_cent, NULL);
    figure(p, "Highest offer", DIM_MONEY, w->offer_cent,
           w->offer_cent < 0 ? "none: below zero" : NULL);
    figure(p, "Must sell for", DIM_MONEY, w->must_bring_cent, "for every hour to earn that");
    figure(p, "Break-even", DIM_MONEY, w->break_even_cent, "the hours earn nothing");
    figure(p, "Sells for", DIM_MONEY, w->sale_cent, NULL);
    if (w->fee_cent > 0)
        figure(p, "Seller's fee", DIM_MONEY, w->fee_cent, said(p, DIM_FRACTION, w->fee_frac));
    figure(p, "Asked for it", DIM_MONEY, w->asked_cent, NULL);
    figure(p, "Supplies", DIM_MONEY, w->supplies_cent, NULL);
    if (w->delivery_cent > 0) figure(p, "Delivery", DIM_MONEY, w->delivery_cent, NULL);
    figure(p, "Hours", DIM_DURATION, w->hours * 60,
           range(p, DIM_DURATION, w->hours_low * 60, w->hours_high * 60));
}

/* What stands in the answer already is not said again, what may be done instead is. */
static void notices(const struct page *p, const struct worth *w) {
    static const char *const ranks[] = {[RANK_STOP] = "Stop: ", [RANK_MIND] = "Mind: "};
    for (size_t i = 0; i < w->notices.n; i++) {
        const struct notice *r = &w->notices.rows[i];
        bool said = strstr(w->text, r->text) != NULL;
        if (said && !r->remedy) continue;
        const char *rank = (size_t)r->rank < sizeof ranks / sizeof *ranks ? ranks[r->rank] : NULL;
        text_print(p->out, "! ");
        text_wrap(p->out, 2, 2,
                  arena_print(p->arena, "%s%s%s%s", rank && !said ? rank : "", said ? "" : r->text,
                              !r->remedy ? ""
                              : said     ? "Instead: "
                                         : " Instead: ",
                              r->remedy ? r->remedy : ""));
    }
}

/* What nobody has said; the values stand among the figures. */
static void assumed(const struct page *p, const struct worth *w) {
    const char *all = NULL;
    for (size_t i = 0; i < w->assumed_n; i++) {
        const struct assumption *a = &w->assumed[i];
        struct text name = {0};
        member_words(a->pointer, &name);
        const char *one = arena_print(p->arena, "%s (%s)", name.at ? name.at : a->pointer, a->why);
        all = all ? arena_print(p->arena, "%s, %s", all, one) : one;
        text_free(&name);
    }
    if (all) text_wrap(p->out, 0, 0, arena_print(p->arena, "Assumed: %s.", all));
}

enum status worth_print(struct op_call *call, enum unit_system units, const struct worth *w,
                        struct why *why) {
    const struct page p = {call->arena, units, &call->out_body};
    if (!w->text) return why_no_memory(why);
    text_wrap(p.out, 0, 0, w->text);
    text_print(p.out, "\n");
    text_wrap(p.out, 0, 0, thing(&p, w));
    figures(&p, w);
    notices(&p, w);
    assumed(&p, w);
    return OK;
}
