/* Published values of colors: rows of ciede2000.tsv and color.tsv, and agreement with a general
 * color library (lcms2) where it is installed. */
#include "codec/color_text.h"
#include "core/base/random.h"
#include "tables.h"
#include "test/check.h"

#include <stdlib.h>
#ifdef HAVE_LCMS2
#include <lcms2.h>
#endif

enum { COLUMNS = 16, RANDOM_COLORS = 100000 };

/* Splits one line at tabs; 0 for remarks, the header and blank lines. */
static int columns(char *line, char *out[COLUMNS]) {
    int n = 0;
    line[strcspn(line, "\r\n")] = 0;
    if (!line[0] || line[0] == '#' || !strncmp(line, "kind\t", 5) || !strncmp(line, "pair\t", 5))
        return 0;
    for (char *p = line; p && n < COLUMNS;) {
        out[n++] = p;
        if ((p = strchr(p, '\t'))) *p++ = 0;
    }
    return n;
}

static void pair(char **c) {
    double v[9];
    for (int i = 0; i < 9; i++) v[i] = strtod(c[i], NULL);
    struct lab p = {v[1], v[2], v[3]}, q = {v[4], v[5], v[6]};
    double tolerance = strtod(c[8], NULL), got = ciede2000(p, q);
    /* pair 14 sits on a branch point: the last bit of atan2 chooses between two values */
    if (!strcmp(c[0], "14") && fabs(got - 4.7461) <= tolerance) return;
    CHECK_NEAR(got, v[7], tolerance);
    CHECK_NEAR(ciede2000(q, p), got, 1e-12);
}

static void three(struct xyz got, const char *want, double tolerance) {
    double x, y, z;
    CHECK(sscanf(want, "%lf %lf %lf", &x, &y, &z) == 3);
    CHECK_NEAR(got.x, x, tolerance);
    CHECK_NEAR(got.y, y, tolerance);
    CHECK_NEAR(got.z, z, tolerance);
}

static void white(const char *input, const char *want, double tolerance) {
    enum observer observer = atoi(input) == 10 ? OBSERVER_10 : OBSERVER_2;
    static const char *const names[LIGHTS] = {"D65", "D50", "A", "FL2", "FL11", "LED-B3", "C"};
    const char *name = strchr(input, ' ') + 1;
    for (int l = 0; l < LIGHTS; l++)
        if (!strcmp(names[l], name)) {
            struct xyz w = weights_make(&tables_builtin, observer, (enum light)l).white;
            three((struct xyz){100 * w.x, 100 * w.y, 100 * w.z}, want, tolerance);
            return;
        }
    CHECK(false && "a light that is known");
}

/* Chromaticity under illuminant C, to which the chip is adapted back. */
static void munsell(struct lab c, const char *want, double tolerance) {
    static const struct xyz white_c = {0.31006 / 0.31616, 1, (1 - 0.31006 - 0.31616) / 0.31616};
    struct xyz v = xyz_adapt(xyz_of_lab(c, XYZ_D50), XYZ_D50, white_c);
    double x, y, sum = v.x + v.y + v.z;
    CHECK(sscanf(want, "%lf %lf", &x, &y) == 2);
    CHECK_NEAR(v.x / sum, x, tolerance);
    CHECK_NEAR(v.y / sum, y, tolerance);
}

static void row(char **c) {
    const char *kind = c[0], *input = c[1], *want = c[2];
    double tolerance = strtod(c[3], NULL);
    struct lab lab = {0, 0, 0};
    if (!strcmp(kind, "white")) {
        white(input, want, tolerance);
        return;
    }
    if (!strcmp(kind, "value")) {
        CHECK_NEAR(100 * munsell_y_of_value(strtod(input, NULL)), strtod(want, NULL), tolerance);
        return;
    }
    enum status s = color_read(input, &lab, NULL);
    if (!strcmp(kind, "error")) {
        CHECK_TEXT(status_code(s), want);
        return;
    }
    CHECK(s == OK);
    if (!strcmp(kind, "lab"))
        three((struct xyz){lab.l, lab.a, lab.b}, want, tolerance);
    else if (!strcmp(kind, "munsell"))
        munsell(lab, want, tolerance);
    else if (!strcmp(kind, "hex")) {
        char hex[8];
        color_print_hex(lab, hex);
        CHECK_TEXT(hex, want);
    } else if (!strcmp(kind, "xyz")) {
        struct xyz v = xyz_d65_of_d50(xyz_of_lab(lab, XYZ_D50));
        three((struct xyz){100 * v.x, 100 * v.y, 100 * v.z}, want, tolerance);
    } else
        CHECK(false && "a kind that is known");
}

static void each_row(const char *path, int least, void check(char **)) {
    char line[512], *c[COLUMNS], names[2][200]; /* a case is printed when the next one begins */
    int turn = 0;
    FILE *f = fopen(path, "r");
    CASE("rows of a table") CHECK(f != NULL);
    while (f && fgets(line, sizeof line, f)) {
        int n = columns(line, c);
        if (!n) continue;
        char *name = names[turn ^= 1];
        snprintf(name, sizeof names[0], "%.60s %.60s (%.70s)", c[0], c[1], c[n - 1]);
        CASE(name) {
            CHECK(n >= least);
            if (n >= least) check(c);
        }
    }
    if (f) fclose(f);
}

/* Where the hues (of the formula: a is stretched by the mean chroma) are half a turn apart, the
 * mean hue jumps. */
static bool at_branch(struct lab p, struct lab q) {
    double c7 = pow((hypot(p.a, p.b) + hypot(q.a, q.b)) / 2, 7);
    double g = 1.5 - 0.5 * sqrt(c7 / (c7 + pow(25, 7)));
    p.a *= g, q.a *= g;
    return fabs(fabs(lch_of_lab(p).h - lch_of_lab(q).h) - 180) < 1e-3;
}

static void library(void) {
    CASE("100,000 random colors agree with lcms2 to 1e-6 (Lab, XYZ, LCh, CIEDE2000)") {
#ifdef HAVE_LCMS2
        struct random r;
        random_seed(&r, 34);
        const cmsCIEXYZ white = {XYZ_D50.x, XYZ_D50.y, XYZ_D50.z};
        int branches = 0;
        for (int i = 0; i < RANDOM_COLORS; i++) {
            struct lab p = {100 * random_unit(&r), 200 * random_unit(&r) - 100,
                            200 * random_unit(&r) - 100};
            struct lab q = {100 * random_unit(&r), 200 * random_unit(&r) - 100,
                            200 * random_unit(&r) - 100};
            cmsCIELab a = {p.l, p.a, p.b}, b = {q.l, q.a, q.b}, back;
            cmsCIEXYZ x;
            cmsCIELCh h;
            cmsLab2XYZ(&white, &x, &a);
            struct xyz v = xyz_of_lab(p, XYZ_D50);
            if (x.X > 1e-4 && x.Y > 1e-4 && x.Z > 1e-4) { /* it clips at 0 */
                CHECK_NEAR(v.x, x.X, 1e-6);
                CHECK_NEAR(v.y, x.Y, 1e-6);
                CHECK_NEAR(v.z, x.Z, 1e-6);
                cmsXYZ2Lab(&white, &back, &x);
                struct lab mine = lab_of_xyz(v, XYZ_D50);
                CHECK_NEAR(mine.a, back.a, 1e-3); /* its line below .008856 has rounded constants */
            }
            cmsLab2LCh(&h, &a);
            struct lch c = lch_of_lab(p);
            CHECK_NEAR(c.c, h.C, 1e-6);
            CHECK_NEAR(c.h, h.h, 1e-6);
            double mine = ciede2000(p, q), theirs = cmsCIE2000DeltaE(&a, &b, 1, 1, 1);
            if (at_branch(p, q))
                branches++;
            else
                CHECK_NEAR(mine, theirs, 1e-6);
        }
        CHECK(branches < RANDOM_COLORS / 1000);
#else
        SKIP("lcms2 is not installed");
#endif
    }
}

int main(int argc, char **argv) {
    if (argc < 3) return 2;
    each_row(argv[1], 10, pair);
    each_row(argv[2], 5, row);
    library();
    return check_done();
}
