/* When the next coat may follow, and what is said of it. */
#include "test/unit/coats_room.h"

#include <math.h>
#include <stdio.h>

static double input(const struct basis *b, const char *name) {
    for (size_t i = 0; b && i < b->inputs_n; i++)
        if (!strcmp(b->inputs[i].name, name)) return b->inputs[i].value;
    return NAN;
}

static const struct basis *recoat_basis(const struct trade_room *r, const char *operation) {
    char pointer[64];
    snprintf(pointer, sizeof pointer, "/pieces/0/coats/rows/%zu/recoat_min",
             (size_t)(row(r, operation) - r->plan.coats.rows));
    for (size_t i = 0; i < r->ledger.bases_n; i++)
        if (!strcmp(r->ledger.bases[i].pointer, pointer)) return &r->ledger.bases[i];
    return NULL;
}

/* Water vapor at saturation, Magnus (WMO No. 8), against the air of ASTM D1640. */
static double slower(double degc, double rh) {
    const double there = 6.112 * exp(17.62 * degc / (243.12 + degc)) * (1 - rh),
                 class = 6.112 * exp(17.62 * 23 / (243.12 + 23)) * .5;
    return class / there;
}

static void drying_cases(void) {
    CASE("what is said of the next coat makes its figure: the air it is planned for, the can, the "
         "shop's records, laminate") {
        static const struct air_said {
            double degc, rh;
        } air[] = {{20, .5}, {11.1, .8}, {5, .6}, {30, .4}, {35, .2}};
        struct learnt clock = {"drying", "wb_enamel", NULL, 1.5, .2, 6, NULL, NULL, 0};
        for (int i = 0; i < 5; i++)
            for (int how = 0; how < 4; how++) { /* as usual; a label; records; both */
                struct trade_room r;
                struct paint can = {.id = "can", .class = "wb_enamel", .hides_in = INT64_MIN};
                sound(&r, how ? "latex_paint" : "laminate");
                double *of[] = {&can.stock_ml,
                                &can.size_ml,
                                &can.cost_cent,
                                &can.label_touch_min,
                                &can.label_recoat_min,
                                &can.label_recoat_until_min,
                                &can.label_handle_min,
                                &can.label_cure_min,
                                &can.label_lowest_degc,
                                &can.label_pot_life_min,
                                &can.label_spread_m2_per_l,
                                &can.label_solids_frac,
                                &can.density_g_per_ml,
                                &can.smallest_ml};
                for (size_t k = 0; k < sizeof of / sizeof *of; k++) *of[k] = NAN;
                if (how % 2) can.label_recoat_min = 480;
                if (how) r.shelf.paints = &can, r.shelf.paints_n = 1;
                if (how > 1) r.shop.learnt = &clock, r.shop.learnt_n = 1;
                r.shop.day_degc = air[i].degc, r.shop.humidity_frac = air[i].rh;
                r.piece.wanted.product = "wb_enamel";
                sides(&r);
                CHECK(trade_coats(&r, NULL) == OK);
                const struct coat *c = row(&r, "color");
                const struct basis *b = recoat_basis(&r, "color");
                const double said = input(b, how % 2 ? "next coat by the can's label"
                                                     : "next coat, usually"),
                             times = input(b, "times longer in that air"),
                             shop = input(b, "your shop against what is usual");
                double degc = input(b, "warmed to what it needs"),
                       rh = input(b, "brought down to what it stands");
                CHECK(isnan(degc) == !(air[i].degc < 10) && isnan(rh) == !(air[i].rh > .75));
                CHECK(isnan(shop) == (how != 2)); /* a label speaks for itself */
                if (isnan(degc)) degc = air[i].degc;
                if (isnan(rh)) rh = air[i].rh;
                CHECK_NEAR(c->recoat_min, said * times * (isnan(shop) ? 1 : shop), 1e-6);
                /* a label's times hold at 25 degC, the class's at 23 (20 degC, 50 %: 1.35 and 1.20)
                 */
                CHECK_NEAR(times / (how % 2 ? slower(degc, rh) / slower(25, .5) : slower(degc, rh)),
                           1, .01);
                if (!how) {
                    b = recoat_basis(&r, "primer");
                    CHECK(row(&r, "primer")->recoat_min >= 1440);
                    CHECK(isnan(input(b, "on laminate no sooner than")) ==
                          (row(&r, "primer")->recoat_min > 1440));
                    CHECK(input(b, "times longer in that air") < 6);
                }
                trade_close(&r);
            }
    }
}

int main(void) {
    drying_cases();
    return check_done();
}
