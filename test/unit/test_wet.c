/* Wet to dry: what two numbers can say is found, too few pairs are refused, odd ones do not break
 * it. */
#include "core/base/random.h"
#include "core/color/wet.h"
#include "core/work/wet_pairs.h"
#include "test/check.h"

#include <math.h>

static struct lab dried(struct lab wet) { /* the truth of the simulated paint */
    return (struct lab){wet.l - 4, wet.a * 1.1, wet.b * 1.1};
}

static void pairs_of_samples(void) {
    struct paint cans[2] = {{.id = "white", .class = "wb_enamel"},
                            {.id = "black", .class = "wb_enamel"}};
    struct mix_item one[2] = {{"white", 3}, {"black", 1}}, twice[2] = {{"black", 2}, {"white", 6}},
                    near[2] = {{"white", 3}, {"black", 1.2}};
    struct sample samples[2] = {
        {.id = "w", .items = one, .items_n = 2, .wet = YN_YES, .color = {"x", {50, 0, 0}}},
        {.id = "d", .items = twice, .items_n = 2, .color = {"y", {46, 0, 0}}}};
    struct shelf shelf = {.paints = cans, .paints_n = 2, .samples = samples, .samples_n = 2};
    struct wet_pair *found;
    struct arena a;
    size_t n;
    arena_init(&a, alloc_heap(), 0);
    CASE("wet and dry are a pair when the mix is the same, whatever it is counted in") {
        CHECK(wet_pairs_find(&shelf, "wb_enamel", &a, &found, &n) == OK && n == 1);
        CHECK(n && found[0].wet.l == 50 && found[0].dry.l == 46);
        samples[1].items = near; /* a fifth more black is another paint */
        CHECK(wet_pairs_find(&shelf, "wb_enamel", &a, &found, &n) == OK && n == 0);
    }
    CASE("a length of three equal axes is sqrt(3) of one") {
        struct wet_shift s = {.expected = 3};
        CHECK_NEAR(3 * wet_dried_sd(&s) * wet_dried_sd(&s), 9, 1e-12);
    }
    arena_free(&a);
}

int main(void) {
    struct wet_pair pair[40];
    struct wet_shift s = {.pairs = 99};
    struct random r;
    random_seed(&r, 5);
    pairs_of_samples();
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
    CASE("grays say nothing of chroma: two readings off by 1 are no factor of 1.5") {
        struct wet_pair gray[3] = {
            {{30, 2, 0}, {30, 3, 0}}, {{50, 0, 2}, {50, 0, 3}}, {{70, -2, 0}, {70, -3, 0}}};
        CHECK(wet_learn(gray, 3, &s, NULL) == OK);
        /* by hand, wet.h: (3 x 2 x 3 + (1.5 / .15)^2) / (3 x 2 x 2 + (1.5 / .15)^2) */
        CHECK_NEAR(s.chroma, 118. / 112, 1e-12);
    }
    CASE("pairs that never move leave what is expected before any: 1.5, counted as three") {
        struct wet_pair still[3] = {
            {{30, 9, 0}, {30, 9, 0}}, {{50, 0, 9}, {50, 0, 9}}, {{70, -9, 0}, {70, -9, 0}}};
        CHECK(wet_learn(still, 3, &s, NULL) == OK);
        CHECK(s.lightness == 0 && fabs(s.chroma - 1) < 1e-12);
        CHECK_NEAR(s.expected, 1.5 * sqrt(3. / 6), 1e-9);
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
