/* Worth buying? What an hour would earn on a piece that one could buy, do up and sell, the
 * break-even price, and the highest offer.
 *
 *   highest offer = sale price x (1 - fee) - supplies - delivery - hours x pay     may be negative
 *   an hour earns = (sale price x (1 - fee) - asked - supplies - delivery) / hours
 *   break-even    = (asked + supplies + delivery) / (1 - fee)
 *
 * Hours and supplies come from the plan of such a piece (core/work/plan.h) in the condition seen,
 * times the row's factor of data/conditions.tsv; both may be said instead. Money in cents. Overhead
 * is not taken off: what an hour earns must carry it. */
#ifndef CORE_WORK_WORTH_H
#define CORE_WORK_WORTH_H

#include "core/work/plan.h"

struct worth_ask {
    const struct piece *piece;       /* as stated; a template is enough */
    const char *condition;           /* id of data/conditions.tsv; NULL: worn */
    double asked_cent;               /* what the seller asks; NAN not known */
    double sale_cent;                /* what it should bring when done; NAN not known */
    double fee_frac, pay_cent_per_h; /* NAN: the shop's seller's fee and rate */
    double supplies_cent, hours;     /* NAN: as planned */
    double delivery_cent;            /* NAN: none */
};

enum worth_verdict {
    WORTH_UNSAID, /* the price it should bring is not known: must_bring says what it would take */
    WORTH_TAKE,   /* at the price asked every hour earns the pay, or more */
    WORTH_OFFER,  /* it pays below the price asked, or nothing is asked yet */
    WORTH_LEAVE   /* not even as a gift, or it must be refused */
};

struct worth {
    const char *template, *name, *condition;
    double width_mm, depth_mm, height_mm;
    enum worth_verdict verdict;
    const char *text; /* what to do, in one sentence, and why in a second */
    double hours, hours_low, hours_high;
    double asked_cent, sale_cent, fee_frac, fee_cent, supplies_cent, delivery_cent, pay_cent;
    double hour_cent, hour_low_cent,
        hour_high_cent;     /* what an hour earns, and with the hours' range */
    double break_even_cent; /* price at which the hours earn nothing */
    double must_bring_cent; /* price at which every hour earns the pay */
    double offer_cent;      /* highest offer; NAN: no sale price */
    struct notices notices; /* what may turn it round: lead, a refusal */
    struct basis *bases;
    size_t bases_n;
    struct assumption *assumed;
    size_t assumed_n;
};

/* Judges an offer.
 *
 *   shop, shelf  the shop's rate, fee, pace and stock cost; borrowed
 *   options      time, limit and seed of the plan behind the hours
 *
 * Errors: E_MISSING (template), E_REFERENCE (template, condition), E_DOMAIN (fee takes all; a
 * size), those of plan_make, E_MEMORY; why->field is the member of the ask. */
enum status worth_make(const struct tables *t, const struct shop *shop, const struct shelf *shelf,
                       const struct worth_ask *ask, const struct plan_options *options,
                       struct arena *arena, struct worth *out, struct why *why);

#endif
