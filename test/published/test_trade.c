/* Published values of inspection and hazards: each row of trade.tsv with its source. */
#include "core/work/coats_build.h"
#include "core/work/inspection.h"
#include "test/check.h"

#include <stdlib.h>

static double computed(const char *what, const double *a) {
    if (!strcmp(what, "tape")) return tape_rating(a[0]);
    if (!strcmp(what, "meter")) return moisture_corrected(a[0], a[1]);
    if (!strcmp(what, "lead_class")) return lead_class_of(a[0]);
    if (!strcmp(what, "cuts")) return film_cuts_of(&tables_builtin, a[0])->cuts;
    if (!strcmp(what, "cuts_apart")) return film_cuts_of(&tables_builtin, a[0])->apart_mm;
    if (!strcmp(what, "joinery_enamel")) return joinery_h(&tables_builtin, "enamel", a[0]);
    if (!strcmp(what, "joinery_varnish")) return joinery_h(&tables_builtin, "varnish", a[0]);
    printf("%s: no such rule\n", what);
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
