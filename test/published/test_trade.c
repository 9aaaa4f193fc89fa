/* Published values of inspection and hazards: each row of trade.tsv with its source. */
#include "core/work/coats_build.h"
#include "core/work/hazard.h"
#include "core/work/inspection.h"
#include "core/work/sheen.h"
#include "test/check.h"

#include <stdlib.h>

static double one(double (*f)(double), const double *a) {
    return f(a[0]);
}
static double f_tape(double a) {
    return tape_rating(a);
}
static double f_iso(double a) {
    return tape_class_iso(a);
}
static double f_cuts(double a) {
    int n;
    double mm;
    tape_cuts(a, &n, &mm);
    return n;
}
static double f_cut_mm(double a) {
    int n;
    double mm;
    tape_cuts(a, &n, &mm);
    return mm;
}
static double f_lead(double a) {
    return lead_class_of(a);
}
static double f_xrf(double a) {
    return lead_based_xrf(a);
}

static double computed(const char *what, const double *a) {
    if (!strcmp(what, "tape")) return one(f_tape, a);
    if (!strcmp(what, "tape_iso")) return one(f_iso, a);
    if (!strcmp(what, "cuts")) return one(f_cuts, a);
    if (!strcmp(what, "cut_mm")) return one(f_cut_mm, a);
    if (!strcmp(what, "meter")) return moisture_corrected(a[0], a[1]);
    if (!strcmp(what, "mc")) return moisture_by_weight(a[0], a[1]);
    if (!strcmp(what, "lead_class")) return one(f_lead, a);
    if (!strcmp(what, "lead_xrf")) return one(f_xrf, a);
    if (!strcmp(what, "lead_area")) return lead_area_ruled(a[0], a[1] > 0);
    if (!strcmp(what, "tip_over")) return tip_over_ruled(a[0], a[1], a[2]);
    if (!strcmp(what, "gloss")) return gloss_levels(a[0], a[1]);
    if (!strcmp(what, "joinery_enamel")) return joinery_h(&tables_builtin, "enamel", a[0]);
    if (!strcmp(what, "joinery_varnish")) return joinery_h(&tables_builtin, "varnish", a[0]);
    if (!strncmp(what, "ppm_", 4)) return formaldehyde_limit_ppm(what + 4);
    return NAN;
}

int main(int argc, char **argv) {
    FILE *f = argc > 1 ? fopen(argv[1], "r") : NULL;
    char line[512];
    if (!f) return puts("usage: test_trade TSV"), 1;
    while (fgets(line, sizeof line, f)) {
        if (*line == '#') continue;
        char what[64], input[128], source[256];
        double want, tol, a[4] = {0};
        int n = sscanf(line, "%63[^\t]\t%127[^\t]\t%lf\t%lf\t%255[^\n]", what, input, &want, &tol,
                       source);
        CASE(n == 5 ? what : "every row has five columns, the last its source") {
            CHECK(n == 5);
            char *at = input;
            for (int i = 0; i < 4 && *at; i++) a[i] = strtod(at, &at);
            CHECK_NEAR(computed(what, a), want, tol);
        }
        check_close();
    }
    fclose(f);
    return check_done();
}
