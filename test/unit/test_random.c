#include "core/base/random.h"
#include "test/check.h"

int main(void) {
    struct random r, q;
    CASE("the same seed gives the same numbers, another seed others") {
        random_seed(&r, 7);
        random_seed(&q, 7);
        for (int i = 0; i < 100; i++) CHECK(random_bits(&r) == random_bits(&q));
        random_seed(&q, 8);
        CHECK(random_bits(&r) != random_bits(&q));
    }
    CASE("mean and spread of 100,000 draws") {
        random_seed(&r, 1);
        double u = 0, n = 0, n2 = 0;
        int low = 0;
        for (int i = 0; i < 100000; i++) {
            u += random_unit(&r);
            double z = random_normal(&r);
            n += z;
            n2 += z * z;
            low += random_below(&r, 10) < 3;
        }
        CHECK_NEAR(u / 1e5, .5, .005);
        CHECK_NEAR(n / 1e5, 0, .015);
        CHECK_NEAR(n2 / 1e5, 1, .02);
        CHECK_NEAR(low / 1e5, .3, .007);
    }
    return check_done();
}
