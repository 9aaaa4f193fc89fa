#include "codec/units_text.h"
#include "core/base/random.h"
#include "core/base/units.h"
#include "test/check.h"

#include <stdbool.h>

static double got(enum dimension d, const char *text) {
    struct why why = {0};
    double v = NAN;
    enum status s = units_read(d, text, &v, &why);
    if (s != OK) printf("  %s: %s\n", text, why.text);
    return v;
}

static void spellings(void) {
    static const struct {
        enum dimension d;
        const char *text;
        double want;
    } rows[] = {
        {DIM_LENGTH, "32 3/4 in", 831.85},
        {DIM_LENGTH, "2' 6-1/2\"", 774.7},
        {DIM_LENGTH, "2 ft 6 1/2 in", 774.7},
        {DIM_LENGTH, "32\u00be\"", 831.85},
        {DIM_LENGTH, "830 mm", 830},
        {DIM_LENGTH, "1.2 m", 1200},
        {DIM_LENGTH, "83 cm", 830},
        {DIM_LENGTH, "  3/4 IN ", 19.05},
        {DIM_LENGTH, "-1/4 in", -6.35},
        {DIM_VOLUME, "13 fl oz", 13 * ML_PER_US_FL_OZ},
        {DIM_VOLUME, "1/2 cup", 118.29411825},
        {DIM_VOLUME, "1 qt", ML_PER_US_QT},
        {DIM_VOLUME, "3 tsp", ML_PER_US_FL_OZ / 2},
        {DIM_VOLUME, "3 teaspoons", ML_PER_US_FL_OZ / 2},
        {DIM_VOLUME, "1,2 litres", 1200},
        /* as makers of other places and other keyboards write it */
        {DIM_LENGTH, "5,5 cm", 55},
        {DIM_LENGTH, "1.234,5 mm", 1234.5},
        {DIM_LENGTH, "1\u00bd in", 38.1},
        {DIM_LENGTH, "1-1/2\"", 38.1},
        {DIM_LENGTH, "1\u20131/2 in", 38.1},
        {DIM_LENGTH, "20 in.", 508},
        {DIM_LENGTH, "3' 2", 965.2},
        {DIM_LENGTH, "3 ft. 2 in.", 965.2},
        {DIM_LENGTH, "3' 2\u201c", 965.2},
        {DIM_LENGTH, "50 centimetres", 500},
        {DIM_FRACTION, "12,5 %", 0.125},
        {DIM_RATE, "$45", 4500},
        {DIM_RATE, "$45 / hr", 4500},
        {DIM_MONEY, "$45,50", 4550},
        {DIM_MONEY, "$1.250,50", 125050},
        {DIM_MONEY, "$1,250", 125000},
        {DIM_VOLUME, "1.2 L", 1200},
        {DIM_VOLUME, "1 qt 4 fl oz", 36 * ML_PER_US_FL_OZ},
        {DIM_VOLUME, "20 drops", 1},
        {DIM_POUR, "1/4 tsp", ML_PER_US_TSP / 4},
        {DIM_POUR, "1 drop", .05},
        {DIM_POUR, "0.6 g", .5},
        {DIM_TEMPERATURE, "68 degrees F", 20},
        {DIM_TEMPERATURE, "68\u2109", 20},
        {DIM_TEMPERATURE, "20\u00ba C", 20},
        {DIM_AREA, "12 square feet", 1.11483648},
        {DIM_SPREAD, "400 sq. ft. per gallon", 400 * 0.09290304 / 3.785411784},
        {DIM_TEMPERATURE, "68 \u00b0F", 20},
        {DIM_TEMPERATURE, "20 C", 20},
        {DIM_TEMPERATURE, "-40 F", -40},
        {DIM_TEMPERATURE, "\u22125 \u00b0C", -5},
        {DIM_DURATION, "3 h 20 min", 200},
        {DIM_DURATION, "2 d", 2880},
        {DIM_DURATION, "1 1/2 hours", 90},
        {DIM_FRACTION, "35 %", 0.35},
        {DIM_FRACTION, "0.5%", 0.005},
        {DIM_RATE, "$45/h", 4500},
        {DIM_RATE, "$45.50 per hour", 4550},
        {DIM_MONEY, "$24.50", 2450},
        {DIM_MONEY, "$1,250", 125000},
        {DIM_MONEY, "-$3", -300},
        {DIM_MONEY, "\u2212$24.50", -2450},
        {DIM_MONEY, "$24.55", 2455},
        {DIM_SPREAD, "10 m2/L", 10},
        {DIM_SPREAD, "400 ft2/gal", 400 * M2_PER_L_PER_FT2_PER_GAL},
        {DIM_FILM, "1.5 mil", 38.1},
        {DIM_FILM, "38 um", 38},
        {DIM_FILM, "38 \u00b5m", 38},
        {DIM_MASS, "12 g", 12},
        {DIM_MASS, "1 lb", 453.59237},
        {DIM_MASS, "1 lb 4 oz", 566.9904625},
        {DIM_DENSITY, "1.3 g/ml", 1.3},
        {DIM_DENSITY, "11 lb/gal", 1.3180907},
        {DIM_AREA, "12 ft2", 1.11483648},
        {DIM_AREA, "1.1 m\u00b2", 1.1},
        {DIM_AREA, "100 sq in", 0.064516},
        {DIM_FORCE, "56 lbf", 249.1004105},
        {DIM_NONE, "3/4", 0.75},
        {DIM_NONE, "1e3", 1000},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) CASE(rows[i].text) {
            CHECK_NEAR(got(rows[i].d, rows[i].text), rows[i].want, 1e-6);
        }
    CASE("halves of an inch are exact, not merely near") {
        CHECK(got(DIM_LENGTH, "32 3/4 in") == 831.85);
        CHECK(got(DIM_TEMPERATURE, "68 F") == 20);
    }
}

static void refusals(void) {
    static const struct {
        enum dimension d;
        const char *text;
        enum status want;
        const char *says;
    } rows[] = {
        {DIM_LENGTH, "12 parsecs", E_UNIT,
         "\"12 parsecs\" has no unit I know. Write inches, feet or millimeters: 32 3/4 in, 2' "
         "6-1/2\", 830 mm."},
        {DIM_VOLUME, "40", E_UNIT, "40 is missing its unit. Write 40 fl oz, 1 qt or 1.2 L."},
        {DIM_LENGTH, "12 lb", E_UNIT, "does not measure in millimeters"},
        {DIM_VOLUME, "12 oz", E_UNIT, "is a weight"},
        {DIM_LENGTH, "1,234 mm", E_SYNTAX, "thousands"},
        {DIM_LENGTH, "3,5,5 cm", E_SYNTAX, "comma"},
        {DIM_LENGTH, "12.34,5 mm", E_SYNTAX, "comma"},
        {DIM_LENGTH, "3 lb 2", E_UNIT, "inches"},
        {DIM_LENGTH, "", E_SYNTAX, "empty"},
        {DIM_LENGTH, "wide", E_SYNTAX, "does not begin with a number"},
        {DIM_LENGTH, "1/0 in", E_UNIT, NULL},
        {DIM_LENGTH, "3 in x", E_UNIT, NULL},
        {DIM_LENGTH, "1e999 mm", E_DOMAIN, NULL},
        {DIM_LENGTH, "nan mm", E_SYNTAX, NULL},
        {DIM_LENGTH, "inf mm", E_SYNTAX, NULL},
        {DIM_LENGTH, "0x10 mm", E_UNIT, NULL},
        {DIM_MONEY, "24.50", E_UNIT, "$24.50"},
        {DIM_RATE, "45", E_UNIT, "$45/h"},
        {DIM_FRACTION, "0.35", E_UNIT, "0.35 %"},
        {DIM_TEMPERATURE, "68", E_UNIT, NULL},
        {DIM_TEMPERATURE, "20 C 5 C", E_UNIT, NULL},
        {DIM_NONE, "3 mm", E_UNIT, NULL},
        {DIM_DURATION, "1 h 1 h 1 h 1 h 1 h", E_UNIT, NULL},
        {DIM_LENGTH, "18 in 2 in", E_UNIT, "is two quantities"},
        {DIM_LENGTH, "6 in 2 ft", E_UNIT, "of a smaller unit"},
        {DIM_FRACTION, "50 % 5 %", E_UNIT, "is two quantities"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        CASE(rows[i].text[0] ? rows[i].text : "nothing") {
            double v = 77;
            struct why why = {0};
            CHECK(units_read(rows[i].d, rows[i].text, &v, &why) == rows[i].want);
            CHECK(v == 77);
            CHECK(why.text[0] && !why.field[0]);
            if (rows[i].says && !strstr(why.text, rows[i].says)) CHECK_TEXT(why.text, rows[i].says);
        }
    CASE("a long text is refused, not scanned") {
        char text[5000];
        double v = 77;
        struct why why;
        memset(text, '9', sizeof text);
        text[sizeof text - 1] = 0;
        CHECK(units_read(DIM_LENGTH, text, &v, &why) == E_SYNTAX && v == 77);
    }
}

static const char *shown(enum dimension d, enum unit_system u, double v) {
    static char text[96];
    units_print(d, u, v, text, sizeof text);
    return text;
}

static void printing(void) {
    CASE("people's spellings") {
        CHECK_TEXT(shown(DIM_LENGTH, UNITS_US, 831.85), "32 3/4 in");
        CHECK_TEXT(shown(DIM_LENGTH, UNITS_METRIC, 831.85), "832 mm");
        CHECK_TEXT(shown(DIM_LENGTH, UNITS_US, 0), "0 in");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, 13 * ML_PER_US_FL_OZ), "13 fl oz");
        /* a quarter of a quart too little is a coat too short: 50 fl oz are no 1 1/2 qt */
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, 50 * ML_PER_US_FL_OZ), "50 fl oz");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, 56 * ML_PER_US_FL_OZ), "1 3/4 qt");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, 60 * ML_PER_US_FL_OZ), "60 fl oz");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, 64.1 * ML_PER_US_FL_OZ), "2 qt");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, 141 * ML_PER_US_FL_OZ), "4 3/8 qt");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, 160 * ML_PER_US_FL_OZ), "1 1/4 gal");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, 10.75 * ML_PER_US_FL_OZ), "10 3/4 fl oz");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, 10.7 * ML_PER_US_FL_OZ), "10 1/2 fl oz");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_METRIC, 1234), "1.23 L");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, ML_PER_US_FL_OZ / 4), "1/4 fl oz");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, ML_PER_US_FL_OZ / 2), "1/2 fl oz");
        CHECK_TEXT(shown(DIM_VOLUME, UNITS_US, ML_PER_US_TSP * 1.75), "1 3/4 tsp");
        CHECK_TEXT(shown(DIM_DURATION, UNITS_US, 200), "3 h 20 min");
        CHECK_TEXT(shown(DIM_DURATION, UNITS_US, 28 * 1440), "28 d");
        CHECK_TEXT(shown(DIM_TEMPERATURE, UNITS_US, 20), "68 \u00b0F");
        CHECK_TEXT(shown(DIM_MONEY, UNITS_US, 41200), "$412");
        CHECK_TEXT(shown(DIM_MONEY, UNITS_US, 123456789), "$1,234,567.89");
        CHECK_TEXT(shown(DIM_MONEY, UNITS_US, -2450), "\u2212$24.50");
        CHECK_TEXT(shown(DIM_RATE, UNITS_US, 4500), "$45/h");
        CHECK_TEXT(shown(DIM_FRACTION, UNITS_US, 0.35), "35 %");
        CHECK_TEXT(shown(DIM_SPREAD, UNITS_US, 10), "407 ft2/gal");
        CHECK_TEXT(shown(DIM_AREA, UNITS_METRIC, 2.345), "2.3 m2");
        CHECK_TEXT(shown(DIM_LENGTH, UNITS_US, NAN), "-");
    }
    CASE("a number takes the fewest digits that read back") {
        char text[40];
        number_print(53.2, text, sizeof text);
        CHECK_TEXT(text, "53.2");
        number_print(0.1 + 0.2, text, sizeof text);
        CHECK_TEXT(text, "0.30000000000000004");
        number_print(-0.0, text, sizeof text);
        CHECK_TEXT(text, "0");
    }
    CASE("measures") {
        char text[64];
        units_print_measure(MEASURE_FL_OZ, 3.5 * ML_PER_US_FL_OZ, NAN, text, sizeof text);
        CHECK_TEXT(text, "3 1/2 fl oz");
        units_print_measure(MEASURE_FL_OZ, 0.25 * ML_PER_US_FL_OZ, NAN, text, sizeof text);
        CHECK_TEXT(text, "1 1/2 tsp");
        /* 1 cup is 16 tbsp is 48 tsp (NIST SP 811): each pour is what its spoons hold */
        static const struct {
            double tsp;
            const char *text;
        } spoons[] = {{0, "0 tsp"},
                      {0.25, "1/4 tsp"},
                      {2.5, "2 1/2 tsp"},
                      {3, "1 tbsp"},
                      {7, "2 tbsp + 1 tsp"},
                      {12, "1/4 cup"},
                      {46, "3/4 cup + 3 tbsp + 1 tsp"},
                      {48, "1 cup"},
                      {61.5, "1 1/4 cups + 1 1/2 tsp"}};
        for (size_t i = 0; i < sizeof spoons / sizeof *spoons; i++) {
            units_print_measure(MEASURE_TSP, spoons[i].tsp * ML_PER_US_TSP, NAN, text, sizeof text);
            CHECK_TEXT(text, spoons[i].text);
        }
        units_print(DIM_VOLUME, UNITS_US, 0.4, text, sizeof text); /* no spoon shows that */
        CHECK_TEXT(text, "8 drops");
        units_print_measure(MEASURE_DROP, 1.5, NAN, text, sizeof text);
        CHECK_TEXT(text, "30 drops");
        units_print_measure(MEASURE_DROP, .05, NAN, text, sizeof text);
        CHECK_TEXT(text, "1 drop");
        units_print_measure(MEASURE_GRAM, 10, 1.3, text, sizeof text);
        CHECK_TEXT(text, "13 g");
    }
}

static void as_typed(void) {
    CASE("what is kept is written as one would: fraction, whole metric, decimal inches") {
        static const struct {
            double mm;
            const char *text;
        } rows[] = {{831.85, "32 3/4 in"}, {380, "380 mm"}, {662.94, "26.1 in"}, {10.5, "10.5 mm"}};
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            char text[96];
            units_print_exact(DIM_LENGTH, rows[i].mm, text, sizeof text);
            CHECK_TEXT(text, rows[i].text);
        }
    }
}

static void laws(void) {
    struct random r;
    random_seed(&r, 7);
    for (int d = DIM_NONE; d < DIMENSION_COUNT; d++) CASE(dimension_unit((enum dimension)d)) {
            for (int i = 0; i < 3000; i++) {
                char text[96];
                double back = NAN, v;
                if (i % 3 == 0)
                    v = random_below(&r, 100000) / 32. * 25.4;
                else if (i % 3 == 1)
                    v = random_below(&r, 1000000) / 100.;
                else
                    v = exp(40 * (random_unit(&r) - .5)) * (random_below(&r, 2) ? 1 : -1);
                units_print_exact((enum dimension)d, v, text, sizeof text);
                enum status s = units_read((enum dimension)d, text, &back, NULL);
                bool scaled = d == DIM_MONEY || d == DIM_RATE || d == DIM_FRACTION;
                if (s != OK ||
                    (scaled ? fabs(back - v) > 4e-16 * fabs(v) + (d == DIM_FRACTION ? 0 : 1e-6)
                            : back != v)) {
                    printf("  %.17g -> %s -> %.17g (%d)\n", v, text, back, s);
                    CHECK(false && "reads back");
                    break;
                }
            }
        }
    CASE("what is shown reads back within its rounding") {
        for (int i = 0; i < 3000; i++) {
            double mm = random_unit(&r) * 3000, back = NAN;
            CHECK(units_read(DIM_LENGTH, shown(DIM_LENGTH, UNITS_US, mm), &back, NULL) == OK);
            CHECK_NEAR(back, mm, 25.4 / 64 + 1e-9);
        }
    }
    CASE("every dimension has its hint") {
        for (int d = 0; d < DIMENSION_COUNT; d++) CHECK(units_hint((enum dimension)d)[0]);
    }
}

int main(void) {
    spellings();
    refusals();
    printing();
    as_typed();
    laws();
    return check_done();
}
