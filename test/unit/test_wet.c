/* Wet to dry: what two numbers can say is found, too few pairs are refused, odd ones do not break
 * it. */
#include "core/base/random.h"
#include "core/color/wet.h"
#include "test/check.h"

#include <math.h>

static struct lab dried(struct lab wet) { /* the truth of the simulated paint */
    return (struct lab){wet.l - 4, wet.a * 1.1, wet.b * 1.1};
}

int main(void) {
    struct wet_pair pair[40];
    struct wet_shift s = {.pairs = 99};
    struct random r;
    random_seed(&r, 5);
    for (int i = 0; i < 40; i++) {
        pair[i].wet = (struct lab){20 + 60 * random_unit(&r), 60 * random_unit(&r) - 30,
                                   60 * random_unit(&r) - 30};
        pair[i].dry = dried(pair[i].wet);
    }
    CASE("fewer than three pairs say nothing") {
        struct why why = {0};
        CHECK(wet_learn(pair, 2, &s, &why) == E_MISSING && s.pairs == 99);
        CHECK(strstr(why.text, "2 mixes were") && strstr(why.text, "3 are needed"));
    }
    CASE("the shift is found, at first with restraint") {
        CHECK(wet_learn(pair, 3, &s, NULL) == OK);
        CHECK(s.lightness < 0 && s.lightness > -4 && s.chroma > 1 && s.chroma < 1.1);
        CHECK(s.expected > 1); /* three that agree may do so by chance */
        CHECK(wet_learn(pair, 40, &s, NULL) == OK);
        CHECK_NEAR(s.lightness, -4, 0.01);
        CHECK_NEAR(s.chroma, 1.1, 0.01);
        CHECK(s.expected > 0.3 &&
              s.expected < 0.5); /* 40 pairs without an error, some doubt left */
        struct lab c = wet_dried(&s, (struct lab){50, 20, -10});
        CHECK(ciede2000(c, dried((struct lab){50, 20, -10})) < 0.1);
    }
    CASE("what is expected is what other pairs bear out: readings off by 2 an axis") {
        for (int i = 0; i < 40; i++) {
            pair[i].dry.l += 2 * random_normal(&r);
            pair[i].dry.a += 2 * random_normal(&r);
            pair[i].dry.b += 2 * random_normal(&r);
        }
        CHECK(wet_learn(pair, 40, &s, NULL) == OK);
        double square = 0;
        for (int i = 0; i < 2000; i++) {
            struct lab wet = {20 + 60 * random_unit(&r), 60 * random_unit(&r) - 30,
                              60 * random_unit(&r) - 30},
                       dry = dried(wet);
            dry.l += 2 * random_normal(&r);
            dry.a += 2 * random_normal(&r);
            dry.b += 2 * random_normal(&r);
            double off = ciede2000(wet_dried(&s, wet), dry);
            square += off * off / 2000;
        }
        CHECK(s.expected / sqrt(square) > 0.75 && s.expected / sqrt(square) < 1.33);
    }
    CASE("black, white, gray and contradicting pairs stay finite and within 0 to 100") {
        struct wet_pair odd[4] = {{{0, 0, 0}, {0, 0, 0}},
                                  {{100, 0, 0}, {0, 0, 0}},
                                  {{50, 0, 0}, {100, 90, 90}},
                                  {{0, 120, -120}, {100, -120, 120}}};
        CHECK(wet_learn(odd, 4, &s, NULL) == OK);
        CHECK(isfinite(s.lightness) && s.chroma > 0 && isfinite(s.expected) && s.expected > 10);
        struct lab c = wet_dried(&s, (struct lab){99, 1, 1});
        CHECK(c.l >= 0 && c.l <= 100 && isfinite(c.a));
        odd[2].dry.a = NAN;
        CHECK(wet_learn(odd, 4, &s, NULL) == E_DOMAIN);
    }
    return check_done();
}
