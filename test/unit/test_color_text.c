/* Color text: what is printed is read back, what is wrong is named, and nothing is touched then. */
#include "codec/color_text.h"
#include "core/base/random.h"
#include "test/check.h"

static enum status status_of(const char *text) {
    struct why why = {0};
    struct lab c = {-1, -2, -3};
    enum status s = color_read(text, &c, &why);
    if (s != OK) CHECK(c.l == -1 && c.a == -2 && c.b == -3 && why.text[0]);
    return s;
}

static int same(const char *a, const char *b) {
    struct lab p, q;
    return color_read(a, &p, NULL) == OK && color_read(b, &q, NULL) == OK && ciede2000(p, q) < 1e-6;
}

/* How far a shown color lies, in OkLab, from the nearest color of the same lightness and hue. */
static double off_chroma(struct lab c, struct rgb shown) {
    struct lch want = oklch_of_oklab(oklab_of_xyz_d65(xyz_d65_of_d50(xyz_of_lab(c, XYZ_D50))));
    struct oklab is = oklab_of_xyz_d65(xyz_d65_of_rgb(RGB_SRGB, rgb_decode(shown)));
    double least = INFINITY;
    for (int i = 0; i <= 10000; i++) {
        struct oklab at = oklab_of_oklch((struct lch){want.l, want.c * i / 10000, want.h});
        least = fmin(least, hypot(hypot(at.l - is.l, at.a - is.a), at.b - is.b));
    }
    return least;
}

static void shown(void) {
    CASE("a color beyond the screen is shown paler, not elsewhere: within .02 in OkLab of its "
         "lightness and hue (CSS Color 4, 13.2, just noticeable difference)") {
        const char *const beyond[] = {"color(display-p3 1 1 0)", "color(display-p3 0 1 0)",
                                      "color(display-p3 0 0 1)", "color(display-p3 1 0 0)",
                                      "color(display-p3 0 1 1)", "color(display-p3 1 0 1)"};
        for (size_t i = 0; i < sizeof beyond / sizeof *beyond; i++) {
            struct lab c;
            bool mapped = false;
            CHECK(color_read(beyond[i], &c, NULL) == OK);
            struct rgb rgb = rgb_show(RGB_SRGB, c, &mapped);
            CHECK(mapped && off_chroma(c, rgb) < .02 + 1e-4);
        }
    }
}

int main(void) {
    shown();
    CASE("every notation reads back to the digits it shows") {
        struct random r;
        random_seed(&r, 3);
        for (int i = 0; i < 2000; i++) {
            struct lab c = lab_of_srgb(
                           (struct rgb){random_unit(&r), random_unit(&r), random_unit(&r)}),
                       back;
            for (int n = 0; n < NOTATIONS; n++) {
                char text[99];
                color_print((enum color_notation)n, c, text, sizeof text);
                CHECK(color_read(text, &back, NULL) == OK);
                /* one step of 8 bits, of .1 degree, of .1 chroma are seen in the dark */
                double tolerance = n <= NOTATION_HSL ? 1.5 : n == NOTATION_MUNSELL ? 1.2 : 0.05;
                CHECK(ciede2000(c, back) < tolerance);
            }
        }
    }
    CASE("one color in many spellings") {
        CHECK(same("#fff", "white") && same("#f00", "#FF0000") && same("#ff0000ff", "red"));
        CHECK(same("rgb(255 0 0)", "rgb(100%, 0%, 0%)") && same("rgba(255,0,0,1)", "red"));
        CHECK(same("hsl(0 100% 50%)", "red") && same("hsl(120deg 100% 25%)", "hsl(480 100% 25%)"));
        CHECK(same("hwb(0 0% 0%)", "red") && same("hwb(9 60% 60%)", "rgb(50% 50% 50%)"));
        CHECK(same("lab(50% 100% -100%)", "lab(50 125 -125)") &&
              same("lch(50% 100% .5turn)", "lch(50 150 180)"));
        CHECK(same("oklab(60% 25% none)", "oklab(.6 .1 0)") &&
              same("oklch(60% 25% 200grad)", "oklch(.6 .1 180)"));
        CHECK(same("color(srgb 1 0 0)", "red") &&
              same("color(xyz .2 .3 .1)", "color(xyz-d65 20% 30% 10%)"));
        CHECK(same(" N 5/ ", "n5") && same("5R 4/14", "5.0 r 4 / 14") &&
              same("10R 5/6", "0YR 5/6"));
    }
    CASE("lab() is taken exactly as given") {
        struct lab c;
        CHECK(color_read("lab(50 2.6772 -79.7751)", &c, NULL) == OK);
        CHECK(c.l == 50 && c.a == 2.6772 && c.b == -79.7751);
    }
    CASE("what is no color is refused with the reason") {
        const char *bad[] = {"",
                             "   ",
                             "#",
                             "#12",
                             "#12345",
                             "#1234567",
                             "#gg0000",
                             "#123456789",
                             "rgb(",
                             "rgb()",
                             "rgb(1 2)",
                             "rgb(1 2 3",
                             "rgb(1 2 3) x",
                             "rgb(1,2 3)",
                             "rgb(1 2 3 4)",
                             "lab(50 nan 0)",
                             "lab(50 inf 0)",
                             "lab(0x10 1 1)",
                             "lab(50 1e999 0)",
                             "color(rec9 1 1 1)",
                             "5R",
                             "5R 4",
                             "5X 4/4",
                             "11R 4/4",
                             "blurple",
                             "rgb(1 2 3)\n",
                             "\xff\xfe",
                             "lab(. . .)"};
        for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) CHECK(status_of(bad[i]) == E_SYNTAX);
        CHECK(status_of("rgb(256 0 0)") == E_DOMAIN && status_of("lab(101 0 0)") == E_DOMAIN);
        CHECK(status_of("lab(50 300 0)") == E_DOMAIN && status_of("5R 11/4") == E_DOMAIN);
        CHECK(status_of("#ff000080") == E_DOMAIN && status_of("rgb(1 2 3 / 50%)") == E_DOMAIN);
        CHECK(status_of("color(xyz 1.9 2 2)") == E_DOMAIN &&
              status_of("color(srgb -1 -1 -1)") == E_DOMAIN);
        CHECK(status_of("oklch(50% .1 20%)") == E_UNIT && status_of("rgb(1deg 2 3)") == E_UNIT);
        char longest[400];
        memset(longest, '1', sizeof longest - 1);
        longest[sizeof longest - 1] = 0;
        CHECK(status_of(longest) == E_SYNTAX);
    }
    CASE("a message says what was typed as it was typed") {
        struct why why = {0};
        struct lab c;
        CHECK(color_read(" Dusty Teal ", &c, &why) == E_SYNTAX);
        CHECK(strstr(why.text, "\"Dusty Teal\" is not a color") == why.text);
        CHECK(color_read("LAB(101 0 0)", &c, &why) == E_DOMAIN && strstr(why.text, "LAB(101 0 0)"));
    }
    CASE("a color that is not finite prints a dash") {
        char text[20];
        CHECK(color_print(NOTATION_LAB, (struct lab){NAN, 0, 0}, text, sizeof text) == 1);
        CHECK_TEXT(text, "-");
        CHECK(color_print(NOTATION_LAB, (struct lab){50, 10, 10}, text, 5) == 4);
        CHECK_TEXT(text, "lab(");
    }
    return check_done();
}
