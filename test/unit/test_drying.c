/* Laws of drying: order of the stages, climate, nights that count less or nothing. */
#include "core/work/climate.h"
#include "core/work/drying.h"
#include "test/check.h"

static const struct product_classes_row *class_of(const char *id) {
    for (size_t i = 0; i < tables_builtin.product_classes_n; i++)
        if (!strcmp(tables_builtin.product_classes[i].id, id))
            return &tables_builtin.product_classes[i];
    return NULL;
}

static struct paint label_unsaid(void) {
    return (struct paint){.label_touch_min = NAN,
                          .label_recoat_min = NAN,
                          .label_recoat_until_min = NAN,
                          .label_handle_min = NAN,
                          .label_cure_min = NAN};
}

static void every_class(void) {
    for (size_t i = 0; i < tables_builtin.product_classes_n; i++) {
        const struct product_classes_row *c = &tables_builtin.product_classes[i];
        CASE(c->id) {
            struct drying d, cold, damp;
            CHECK(drying_times(c, NULL, drying_air_class, NAN, &d, NULL) == OK);
            CHECK(d.touch_min > 0 && d.recoat_min >= d.touch_min);
            CHECK(d.handle_min >= d.touch_min && d.light_use_min >= d.handle_min);
            CHECK(d.cure_low_min >= d.light_use_min && d.cure_high_min >= d.cure_low_min);
            CHECK(d.recoat_until_min >= d.recoat_min);
            CHECK(!isnan(c->recoat_until_min) || isinf(d.recoat_until_min)); /* any time */
            CHECK_NEAR(d.recoat_min, c->recoat_min, 1e-9);
            CHECK(drying_times(c, NULL, (struct air){12, .5}, NAN, &cold, NULL) == OK);
            CHECK(cold.recoat_min > d.recoat_min && cold.cure_min > d.cure_min);
            CHECK(drying_times(c, NULL, (struct air){23, .7}, NAN, &damp, NULL) == OK);
            CHECK(damp.recoat_min >= d.recoat_min);
            CHECK(c->lowest_degc >= 0 && c->rh_warn_frac < c->rh_stop_frac);
        }
    }
}

static void labels(void) {
    CASE("what the can says beats the class, and the order of stages is kept") {
        struct paint can = label_unsaid();
        struct drying d;
        can.label_recoat_min = 2000;
        CHECK(drying_times(class_of("wb_enamel"), &can, drying_air_label, 1, &d, NULL) == OK);
        CHECK_NEAR(d.recoat_min, 2000, 1e-9);
        CHECK(d.label && d.certainty == CERTAINTY_LABEL);
        can.label_cure_min = 10;
        CHECK(drying_times(class_of("wb_enamel"), &can, drying_air_label, 1, &d, NULL) == OK);
        CHECK(d.cure_min >= d.handle_min);
        can = label_unsaid();
        can.label_touch_min = 600; /* longer than the class takes to handling */
        CHECK(drying_times(class_of("shellac_pigmented"), &can, drying_air_label, 1, &d, NULL) ==
              OK);
        CHECK(d.touch_min == 600 && d.handle_min >= 600 && d.recoat_min >= 600);
        can = label_unsaid();
        can.label_recoat_min = 5000; /* longer than the class may wait */
        CHECK(drying_times(class_of("wb_clear"), &can, drying_air_label, 1, &d, NULL) == OK);
        CHECK(d.recoat_until_min >= d.recoat_min && d.recoat_min == 5000);
    }
    CASE("a label speaks of 25 degC (77 degF, common practice): at 23 an oil takes 2^(2 / 10) as "
         "long") {
        struct paint can = label_unsaid();
        struct drying d;
        can.label_recoat_min = 2000, can.label_handle_min = 1e6;
        CHECK(drying_times(class_of("alkyd_enamel"), &can, drying_air_class, 1, &d, NULL) == OK);
        CHECK_NEAR(d.recoat_min, 2000 * exp2(.2), 1e-9);
        CHECK(d.light_use_min >= d.handle_min); /* though its class is in use long before */
    }
    CASE("air that cannot be is refused and the result untouched") {
        struct drying d = {.touch_min = 7};
        struct why why;
        CHECK(drying_times(class_of("wax"), NULL, (struct air){20, 1}, 1, &d, &why) == E_DOMAIN);
        CHECK(!strcmp(why.field, "/rh_frac"));
        CHECK(drying_times(class_of("wax"), NULL, (struct air){NAN, .5}, 1, &d, &why) == E_DOMAIN);
        CHECK(drying_times(class_of("wax"), NULL, (struct air){-41, .5}, 1, &d, &why) == E_DOMAIN);
        CHECK(!strcmp(why.field, "/degc") && d.touch_min == 7);
    }
    CASE("a film twice as thick: twice the time in water, four times in oil") {
        CHECK(drying_thickness_factor(DRYING_COALESCES, 2) == 2);
        CHECK(drying_thickness_factor(DRYING_REACTS, 2) == 4);
    }
}

static void nights(void) {
    const struct air day = {20, .5}, night = {10, .5}, frost = {4, .5};
    CASE("at night, 10 degC colder, a reactive film gets on half as fast") {
        CHECK_NEAR(drying_rate(DRYING_REACTS, day, night, 7, false), .5, 1e-12);
    }
    CASE("hours under the product's minimum count for nothing") {
        CHECK(drying_rate(DRYING_REACTS, day, frost, 7, false) == 0);
        CHECK(drying_rate(DRYING_REACTS, day, frost, 4, false) >
              0); /* "not below": at it it dries */
    }
    CASE("what has formed hardens on in the cold, by half for every 10 degC (common practice)") {
        CHECK_NEAR(drying_rate(DRYING_COALESCES, day, frost, 10, true), exp2(-1.6), 1e-12);
        CHECK(drying_rate(DRYING_COALESCES, day, frost, 10, false) == 0);
    }
    CASE("air cooled at night holds the same water") {
        double rh = climate_rh_moved(20, .5, 14);
        CHECK_NEAR(climate_dew_degc(14, rh), climate_dew_degc(20, .5), 1e-9);
        CHECK(climate_rh_moved(20, .9, 5) == 1);
    }
}

static void gates(void) {
    CASE("a product's own limits stop the work") {
        struct climate_verdict v = climate_judge(class_of("wb_enamel"), NAN, 8, NAN, .5);
        CHECK(v.gate == CLIMATE_STOP && v.limit == CLIMATE_COLD);
        v = climate_judge(class_of("wb_enamel"), NAN, 20, NAN, .65);
        CHECK(v.gate == CLIMATE_WARN && v.limit == CLIMATE_HUMID);
        v = climate_judge(class_of("wb_enamel"), NAN, 20, NAN, .76);
        CHECK(v.gate == CLIMATE_STOP && v.limit == CLIMATE_HUMID);
        v = climate_judge(class_of("lacquer"), NAN, 20, NAN, .66);
        CHECK(v.gate == CLIMATE_STOP);
        v = climate_judge(class_of("wb_enamel"), 2, 8, NAN, .5);
        CHECK(v.gate == CLIMATE_GO);
        v = climate_judge(class_of("wb_enamel"), NAN, 20, 8,
                          .4); /* the piece came in from outside */
        CHECK(v.gate == CLIMATE_STOP && v.limit == CLIMATE_COLD);
        v = climate_judge(class_of("wb_enamel"), NAN, 20, NAN, NAN);
        CHECK(v.gate == CLIMATE_WARN && v.limit == CLIMATE_UNCLEAR);
    }
}

static void put_right(void) {
    for (size_t i = 0; i < tables_builtin.product_classes_n; i++) {
        const struct product_classes_row *c = &tables_builtin.product_classes[i];
        CASE("air that is put right is air in which it may be used") {
            for (double degc = 1; degc < 32; degc += 5)
                for (double rh = .3; rh < .98; rh += .1) {
                    double to_degc = degc, to_rh = rh;
                    climate_bring(c, NAN, &to_degc, &to_rh);
                    CHECK(to_degc >= degc && to_rh <= rh);
                    to_rh -= 1e-9; /* at the limit itself the last digit decides */
                    if (climate_judge(c, NAN, to_degc, NAN, to_rh).gate == CLIMATE_STOP)
                        CHECK(false && "stopped"), printf("%s %g %g\n", c->id, degc, rh);
                }
        }
    }
}

int main(void) {
    every_class();
    labels();
    nights();
    gates();
    put_right();
    return check_done();
}
