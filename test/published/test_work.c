/* Published values of geometry, film, wood, fasteners and money: rows of work.tsv. */
#include "core/base/units.h"
#include "core/work/climate.h"
#include "core/work/drying.h"
#include "test/check.h"

#include <stdlib.h>

enum { ARGS = 6 };

struct formula {
    const char *name;
    double (*of)(const double *a);
};

static double dew(const double *a) {
    return climate_dew_degc(a[0], a[1]);
}
static double dew_wet_bulb(const double *a) {
    return climate_dew_degc(a[0], climate_rh_of_wet_bulb(a[0], a[1]));
}
/* surface temperature against air and humidity: 0 go, 2 stop */
static double gate(const double *a) {
    return climate_judge(NULL, NAN, a[0], a[2], a[1]).gate;
}
static double gate_wet_bulb(const double *a) {
    return climate_judge(NULL, NAN, a[0], a[2], climate_rh_of_wet_bulb(a[0], a[1])).gate;
}
static double cure(const double *a) {
    return drying_factor(DRYING_REACTS, (struct air){a[0], .5}, (struct air){a[1], .5}, true);
}
static double water(const double *a) {
    return drying_factor(DRYING_COALESCES, (struct air){25, .5}, (struct air){a[0], a[1]}, false);
}

static const struct formula formulas[] = {
    {"dew", dew},   {"dew_wet_bulb", dew_wet_bulb},
    {"gate", gate}, {"gate_wet_bulb", gate_wet_bulb},
    {"cure", cure}, {"water", water},
};

static double computed(const char *name, const double *a) {
    for (size_t i = 0; i < sizeof formulas / sizeof *formulas; i++)
        if (!strcmp(formulas[i].name, name)) return formulas[i].of(a);
    printf("%s: no such formula\n", name);
    return NAN;
}

int main(int argc, char **argv) {
    FILE *f = argc > 1 ? fopen(argv[1], "r") : NULL;
    char line[512];
    if (!f) return puts("usage: test_work TSV"), 1;
    while (fgets(line, sizeof line, f)) {
        if (*line == '#') continue;
        char name[64], input[128], source[256];
        double want, tol, a[ARGS] = {0};
        int n = sscanf(line, "%63[^\t]\t%127[^\t]\t%lf\t%lf\t%255[^\n]", name, input, &want, &tol,
                       source);
        CASE(n == 5 ? name : "every row has five columns, the last its source") {
            CHECK(n == 5);
            char *at = input;
            for (int i = 0; i < ARGS && *at; i++) a[i] = strtod(at, &at);
            CHECK_NEAR(computed(name, a), want, tol);
        }
        check_close();
    }
    fclose(f);
    return check_done();
}
