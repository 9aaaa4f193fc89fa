/* Money: price from cost, what an hour earns, what may be paid for a piece.
 * price_make stands in core/work/room.h. Money in cents, fractions of the price unless said. */
#ifndef CORE_WORK_PRICE_H
#define CORE_WORK_PRICE_H

#include "core/work/room.h"

/* Price that leaves margin and seller's fee, both as fractions of it; margin + fee < 1, else NAN.
 */
double price_of_cost(double cost_cent, double margin_frac, double fee_frac);
/* Markup on the cost from margin on the price: a margin of 23.1 % is a markup of 30 %. */
double price_markup_of_margin(double margin_frac);

/* A sale, for judging whether it is worth it. */
struct price_sale {
    double price_cent, fee_frac;
    double bought_cent, material_cent, overhead_cent, hours;
};

/* What one hour earns: (price - fee - bought - material - overhead) / hours. */
double price_hour_cent(const struct price_sale *s);
/* Highest price to buy it for, when every hour must earn pay_cent; negative: leave it. */
double price_best_offer_cent(const struct price_sale *s, double pay_cent);
/* Price at which the hours earn nothing, bought as said. */
double price_break_even_cent(const struct price_sale *s);

/* "Leave it. Even as a gift an hour would earn $3.00, and you want $45.00.": said alike before
 * buying and on the job sheet. gift_cent: what an hour earns when the piece itself costs nothing.
 */
const char *price_leave_text(struct arena *arena, double gift_cent, double pay_cent);

#endif
