/* The region of colors within a difference of a target: its ball and box hold every one of them. */
#include "core/base/random.h"
#include "core/recipe/region.h"
#include "core/recipe/terms.h"
#include "tables.h"
#include "test/check.h"

static struct weights d65;

static double whitened(const struct region *r, struct lab c) {
    struct xyz x = xyz_of_lab(c, r->white);
    double d[3] = {x.x - r->target_xyz.x, x.y - r->target_xyz.y, x.z - r->target_xyz.z}, sum = 0;
    for (int i = 0; i < 3; i++) {
        double w = r->whiten[i][0] * d[0] + r->whiten[i][1] * d[1] + r->whiten[i][2] * d[2];
        sum += w * w;
    }
    return sqrt(sum);
}

/* Random colors around random targets, neutral, dark and deep blue ones among them. */
static void test_region(void) {
    struct random g;
    random_seed(&g, 5);
    int inside = 0, out = 0, above = 0;
    CASE("every color within a difference lies in its ball; box bounds hold: 200,000 colors") {
        for (int t = 0; t < 40; t++) {
            struct lab at = {8 + 85 * random_unit(&g), 0, 0};
            if (t % 5) at.a = 90 * random_unit(&g) - 45, at.b = 90 * random_unit(&g) - 45;
            if (t % 7 == 6) at = (struct lab){30, 20, -60};
            struct region r;
            region_make(&at, &d65.white, &r);
            double limit = .05 * pow(2, t % 7), radius = region_radius(&r, limit, 200);
            for (int i = 0; i < 5000; i++) {
                double u[6], size = 1.3 * limit;
                for (int j = 0; j < 6; j++) u[j] = random_unit(&g);
                struct lab c = {at.l + size * (2 * u[0] - 1), at.a + 3 * size * (2 * u[1] - 1),
                                at.b + 3 * size * (2 * u[2] - 1)};
                struct lab lo = {c.l - size * u[3], c.a - size * u[4], c.b - size * u[5]};
                struct lab hi = {c.l + size * u[4], c.a + size * u[5], c.b + size * u[3]};
                double d = ciede2000(at, c);
                above += region_difference_low(&r, lo, hi) > d;
                struct xyz x = xyz_of_lab(c, d65.white);
                bool real = x.x >= 0 && x.y >= 0 && x.z >= 0 && x.x <= d65.white.x && x.y <= 1 &&
                            x.z <= d65.white.z;
                if (!real || d > limit) continue;
                inside++;
                out += whitened(&r, c) > radius;
            }
        }
        CHECK(inside > 10000);
        CHECK(out == 0);
        CHECK(above == 0);
    }
    CASE("small differences: the ball is tight (within 10 %)") {
        struct region r;
        struct lab at = {60, 20, 10};
        region_make(&at, &d65.white, &r);
        double radius = region_radius(&r, .2, 200);
        CHECK(radius >= .2 && radius < .22);
    }
}

static const double DEG = 3.14159265358979323846 / 180;

/* The weights of one pair, in the order of equations 2 to 21 of Sharma, Wu, Dalal 2005. */
struct pair {
    double g1, a1, a2, c1, c2, sl, sc, sh, rt;
};

static double degrees(double b, double a) {
    double h = b == 0 && a == 0 ? 0 : atan2(b, a) / DEG;
    return h < 0 ? h + 360 : h;
}

static struct pair pair_of(struct lab p, struct lab q) {
    struct pair w;
    double mean7 = pow((hypot(p.a, p.b) + hypot(q.a, q.b)) / 2, 7);
    w.g1 = 1 + .5 * (1 - sqrt(mean7 / (mean7 + pow(25, 7))));
    w.a1 = w.g1 * p.a, w.a2 = w.g1 * q.a;
    w.c1 = hypot(w.a1, p.b), w.c2 = hypot(w.a2, q.b);
    double h1 = degrees(p.b, w.a1), h2 = degrees(q.b, w.a2), l = (p.l + q.l) / 2 - 50;
    double c = (w.c1 + w.c2) / 2, h = h1 + h2, c7 = pow(c, 7);
    if (w.c1 * w.c2 > 0) h = (fabs(h1 - h2) <= 180 ? h : h < 360 ? h + 360 : h - 360) / 2;
    double t = 1 - .17 * cos((h - 30) * DEG) + .24 * cos(2 * h * DEG) +
               .32 * cos((3 * h + 6) * DEG) - .2 * cos((4 * h - 63) * DEG);
    w.sl = 1 + .015 * l * l / sqrt(20 + l * l);
    w.sc = 1 + .045 * c;
    w.sh = 1 + .015 * c * t;
    w.rt = -sin(60 * exp(-pow((h - 275) / 25, 2)) * DEG) * 2 * sqrt(c7 / (c7 + pow(25, 7)));
    return w;
}

static bool holds(struct interval i, double x) {
    return x >= i.lo - 1e-9 && x <= i.hi + 1e-9;
}

static bool all_hold(const struct terms *m, const struct pair *w) {
    return holds(m->g1, w->g1) && holds(m->a1, w->a1) && holds(m->a2, w->a2) &&
           holds(m->c1, w->c1) && holds(m->c2, w->c2) && holds(m->sl, w->sl) &&
           holds(m->sc, w->sc) && holds(m->sh, w->sh) && holds(m->rt, w->rt);
}

static double within(struct random *g, double lo, double hi) {
    return lo + (hi - lo) * random_unit(g);
}

static void test_terms(void) {
    struct random g;
    int out = 0, wide = 0, above = 0, loose = 0;
    random_seed(&g, 9);
    CASE("the weights of every color of a box lie in its intervals, of one color they are them") {
        for (int k = 0; k < 40000; k++) {
            struct lab t = {within(&g, 2, 98), within(&g, -60, 60), within(&g, -60, 60)};
            if (k % 5 == 0) t.a = t.b = 0;
            if (k % 7 == 0) t = (struct lab){within(&g, 10, 60), within(&g, -15, 40), -50};
            double size = k % 4 ? 20 * random_unit(&g) : 0;
            struct lab at = {t.l + within(&g, -20, 20), t.a + within(&g, -25, 25),
                             t.b + within(&g, -25, 25)};
            struct lab lo = {at.l - size * random_unit(&g), at.a - size * random_unit(&g),
                             at.b - size * random_unit(&g)};
            struct lab hi = {at.l + size * random_unit(&g), at.a + size * random_unit(&g),
                             at.b + size * random_unit(&g)};
            struct lab c = {within(&g, lo.l, hi.l), within(&g, lo.a, hi.a), within(&g, lo.b, hi.b)};
            struct terms m;
            terms_of(&t, lo, hi, &m);
            struct pair w = pair_of(t, c);
            double low = terms_difference_low(&t, lo, hi), d = ciede2000(t, c);
            out += !all_hold(&m, &w);
            above += low > d;
            if (size > 0 || !m.hue_known) continue;
            wide += m.sl.hi - m.sl.lo > 1e-9 || m.sc.hi - m.sc.lo > 1e-9 ||
                    m.sh.hi - m.sh.lo > 1e-9 || m.g1.hi - m.g1.lo > 1e-9;
            loose += low < d * (1 - 1e-4) - 1e-6; /* far from blue the turn is left at 1e-4 */
        }
        CHECK(out == 0);
        CHECK(above == 0);
        CHECK(wide == 0);
        CHECK(loose == 0);
    }
}

/* From the target outward until the difference is reached: the farthest colors, which chance hardly
 * meets. */
static void test_rim(void) {
    struct random g;
    random_seed(&g, 11);
    CASE("no color at the rim of a difference lies beyond the ball, in 400 directions each") {
        int beyond = 0, met = 0;
        for (int t = 0; t < 60; t++) {
            struct lab at = {within(&g, 15, 90), within(&g, -45, 45), within(&g, -45, 45)};
            struct region r;
            region_make(&at, &d65.white, &r);
            double limit = .1 * pow(2, t % 6), radius = region_radius(&r, limit, 200);
            for (int i = 0; i < 400; i++) {
                double v[3], norm = 0, lo = 0, hi = 4 * limit;
                for (int j = 0; j < 3; j++) v[j] = random_normal(&g), norm += v[j] * v[j];
                struct xyz x = r.target_xyz;
                for (int round = 0; round < 40; round++) {
                    double s = (lo + hi) / 2 / sqrt(norm);
                    x.x = r.target_xyz.x +
                          s * (r.back[0][0] * v[0] + r.back[0][1] * v[1] + r.back[0][2] * v[2]);
                    x.y = r.target_xyz.y + s * (r.back[1][1] * v[1] + r.back[1][2] * v[2]);
                    x.z = r.target_xyz.z + s * r.back[2][2] * v[2];
                    if (ciede2000(at, lab_of_xyz(x, r.white)) > limit)
                        hi = (lo + hi) / 2;
                    else
                        lo = (lo + hi) / 2;
                }
                bool real = x.x >= 0 && x.y >= 0 && x.z >= 0 && x.x <= r.white.x && x.y <= 1 &&
                            x.z <= r.white.z;
                if (!real) continue;
                met++;
                beyond += lo > radius;
            }
        }
        CHECK(met > 20000);
        CHECK(beyond == 0);
    }
}

int main(void) {
    d65 = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D65);
    test_region();
    test_terms();
    test_rim();
    return check_done();
}
