/* Amounts, learning, cane on the roll and prices: worked examples and laws. */
#include "core/work/amount.h"
#include "core/work/cane.h"
#include "core/work/learn.h"
#include "core/work/price.h"
#include "test/check.h"

static void amounts(void) {
    CASE("dresser: 4.56 m2 at 38 um of 38 % solids, 10 % loss, 60 ml in the tool: 0.567 L") {
        struct amount_terms t = {4.56, 1, 1000 * .38 / 38, 0, .10, 0, 60, 60, 1};
        struct amount_range r = amount_of(&t);
        CHECK_NEAR(r.film_ml, 456, 1e-9);
        CHECK_NEAR(r.taken_ml, 506.67, .01);
        CHECK_NEAR(r.need_ml, 566.67, .01);
        CHECK_NEAR(r.low_ml, r.need_ml, 1e-9);
        CHECK_NEAR(r.high_ml, r.need_ml, 1e-9);
    }
    CASE("twice the area takes twice the film; doubt widens the range around the same need") {
        struct amount_terms t = {2, 2, 10, .1, .1, .05, 10, 20, 2}, twice = t, sure = t;
        twice.area_m2 = 4;
        sure.spread_log_sd = .01;
        struct amount_range a = amount_of(&t), b = amount_of(&twice), c = amount_of(&sure);
        CHECK_NEAR(b.film_ml, 2 * a.film_ml, 1e-9);
        CHECK_NEAR(c.need_ml, a.need_ml, 1e-9);
        CHECK(a.low_ml < a.need_ml && a.need_ml < a.high_ml);
        CHECK(c.high_ml < a.high_ml && c.low_ml > a.low_ml);
    }
    CASE("with the spread alone in doubt the 9-in-10 amount is the log-normal's quantile") {
        struct amount_terms t = {1, 1, 10, .2, 0, 0, 0, 0, 1};
        CHECK_NEAR(amount_of(&t).high_ml, 100 * exp(1.2815515655 * .2), 1e-6);
        CHECK_NEAR(amount_of(&t).low_ml, 100 * exp(-1.2815515655 * .2), 1e-6);
    }
    CASE("with what tool and tray keep alone in doubt, the range is theirs (by hand: 100 ml and "
         "2 x 10..20)") {
        struct amount_terms t = {1, 1, 10, 0, 0, 0, 10, 20, 2};
        CHECK_NEAR(amount_of(&t).need_ml, 130, 1e-9);
        CHECK_NEAR(amount_of(&t).high_ml, 140, 1e-9);
        CHECK_NEAR(amount_of(&t).low_ml, 120, 1e-9);
    }
    CASE("measured up, never down, in whole steps of every part") {
        CHECK_NEAR(amount_measured(101, 5, 1), 105, 1e-9);
        CHECK_NEAR(amount_measured(100, 5, 1), 100, 1e-9);
        CHECK_NEAR(amount_measured(725, 7.4, 16), 829, 1); /* 24 1/2 fl oz become 28 */
    }
}

static void learning(void) {
    struct learn_record r[20];
    CASE("nothing on record: the class; many alike: theirs; and the range narrows") {
        struct learn_answer none = learn_from(&learn_spread, NULL, 0, NULL), few, many;
        for (int i = 0; i < 20; i++) r[i] = (struct learn_record){10, 8.5, false};
        few = learn_from(&learn_spread, r, 2, NULL);
        many = learn_from(&learn_spread, r, 20, NULL);
        CHECK(none.factor == 1 && none.used == 0);
        CHECK(few.factor < 1 && many.factor < few.factor && many.factor > .85);
        CHECK_NEAR(many.factor, .85, .01);
        CHECK(many.log_sd < few.log_sd && few.log_sd < none.log_sd);
        CHECK(many.low < many.factor && many.factor < many.high);
    }
    CASE("the order of records does not matter when none is questioned") {
        struct learn_record a[] = {{10, 9, false}, {10, 11, false}, {10, 8, false}};
        struct learn_record b[] = {{10, 8, false}, {10, 9, false}, {10, 11, false}};
        CHECK_NEAR(learn_from(&learn_hours, a, 3, NULL).factor,
                   learn_from(&learn_hours, b, 3, NULL).factor, 1e-12);
    }
    CASE("an outlier is questioned and left out until somebody confirms it") {
        bool questioned[4];
        struct learn_record o[] = {{10, 9.5, false}, {10, 10, false}, {10, 90, false}, {10, 0, 1}};
        struct learn_answer a = learn_from(&learn_spread, o, 4, questioned);
        CHECK(a.used == 2 && a.questioned == 2 && questioned[2] && questioned[3]);
        CHECK_NEAR(a.factor, 1, .05);
        o[2].confirmed = true;
        CHECK(learn_from(&learn_spread, o, 3, NULL).used == 3);
    }
}

static void three_sigma(void) {
    CASE("a first record is questioned beyond three standard deviations (limits of control charts, "
         "common practice): e^(3 sqrt(.2^2 + .12^2)) = 2.01") {
        struct learn_record in = {10, 20, false}, out = {10, 20.3, false};
        bool questioned;
        learn_from(&learn_spread, &in, 1, &questioned);
        CHECK(!questioned);
        learn_from(&learn_spread, &out, 1, &questioned);
        CHECK(questioned);
    }
}

/* Best length over all ways to put sheets into strips, by plain recursion. */
static double brute(double roll, const struct cane_sheet *s, size_t n, int *strip, size_t at,
                    int strips) {
    if (at == n) {
        double length = 0;
        for (int k = 0; k < strips; k++) {
            double across = 0, along = 0;
            for (size_t i = 0; i < n; i++)
                if (strip[i] == k) across += s[i].width_mm, along = fmax(along, s[i].height_mm);
            if (across > roll) return INFINITY;
            length += along;
        }
        return length;
    }
    double best = INFINITY;
    for (int k = 0; k <= strips; k++) {
        strip[at] = k;
        best = fmin(best, brute(roll, s, n, strip, at + 1, k == strips ? strips + 1 : strips));
    }
    return best;
}

static void cane(void) {
    CASE("sheets on the roll: as short as trying every layout") {
        unsigned seed = 7;
        for (int round = 0; round < 60; round++) {
            struct cane_sheet s[6];
            int strip[6];
            size_t n = 1 + (size_t)round % 6;
            double length = NAN;
            for (size_t i = 0; i < n; i++) {
                seed = seed * 1103515245u + 12345u;
                s[i].width_mm = 150 + (seed >> 16) % 400;
                seed = seed * 1103515245u + 12345u;
                s[i].height_mm = 150 + (seed >> 16) % 500;
            }
            CHECK(cane_cut(609.6, s, n, &length) == OK);
            CHECK_NEAR(length, brute(609.6, s, n, strip, 0, 0), 1e-9);
            double left[6], many = NAN;
            CHECK(cane_cut_many(609.6, s, n, left, &many) == OK);
            /* first fit by falling height: never too short, at most 1.7 times and one sheet longer
             * (Coffman, Garey, Johnson, Tarjan 1980) */
            CHECK(many >= length - 1e-9 && many <= 1.7 * length + 650);
        }
    }
    CASE("a sheet wider than the roll is refused") {
        struct cane_sheet wide = {700, 100};
        double length = 7;
        CHECK(cane_cut(609.6, &wide, 1, &length) == E_DOMAIN && length == 7);
        CHECK(cane_cut(609.6, &wide, 0, &length) == E_TOO_LARGE);
    }
}

static void prices(void) {
    CASE("the margin's price is the markup's; at break-even the hours earn nothing") {
        for (double m = 0; m < .9; m += .1)
            CHECK_NEAR(price_of_cost(100, m, 0), 100 * (1 + price_markup_of_margin(m)), 1e-9);
        struct price_sale s = {14000, .13, 2500, 3400, 500, 6.5};
        s.price_cent = price_break_even_cent(&s);
        CHECK_NEAR(price_hour_cent(&s), 0, 1e-9);
        CHECK(isnan(price_of_cost(100, .6, .4)));
    }
    CASE("bought at the highest offer, an hour earns just the pay") {
        struct price_sale s = {40000, .13, 0, 3400, 500, 6.5};
        s.bought_cent = price_best_offer_cent(&s, 3000);
        CHECK_NEAR(price_hour_cent(&s), 3000, 1e-6);
    }
}

int main(void) {
    amounts();
    learning();
    three_sigma();
    cane();
    prices();
    return check_done();
}
