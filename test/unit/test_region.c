/* The region of colors within a difference of a target: its ball and box hold every one of them. */
#include "core/base/random.h"
#include "core/recipe/region.h"
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

int main(void) {
    d65 = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D65);
    test_region();
    return check_done();
}
