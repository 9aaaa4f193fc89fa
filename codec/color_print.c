/* The printing half of color_text.h. */
#include "codec/color_text.h"

#include "codec/say.h"
#include "tables.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Rounded to `unit` and never minus zero. */
static double round_to(double v, double unit) {
    double r = nearbyint(v / unit) * unit;
    return r == 0 ? 0 : r;
}

struct bytes {
    int r, g, b;
};

static struct bytes bytes_of(struct lab c) {
    struct rgb v = rgb_show(RGB_SRGB, c, NULL);
    const double up = 1e-6; /* half a step is rounded up even after the way through Lab */
    return (struct bytes){(int)lround(v.r * 255 + up), (int)lround(v.g * 255 + up),
                          (int)lround(v.b * 255 + up)};
}

void color_print_hex(struct lab c, char out[8]) {
    struct bytes v = bytes_of(c);
    snprintf(out, 8, "#%02x%02x%02x", (unsigned)v.r & 255, (unsigned)v.g & 255,
             (unsigned)v.b & 255);
}

static size_t print_hsl(struct lab c, char *out, size_t cap) {
    struct rgb v = rgb_show(RGB_SRGB, c, NULL);
    double high = fmax(v.r, fmax(v.g, v.b)), low = fmin(v.r, fmin(v.g, v.b)), span = high - low;
    if (span < 1e-6) span = 0; /* gray but for rounding */
    double l = (high + low) / 2, s = span > 0 ? span / (1 - fabs(2 * l - 1)) : 0, h = 0;
    if (span > 0 && high == v.r)
        h = fmod((v.g - v.b) / span + 6, 6);
    else if (span > 0)
        h = high == v.g ? (v.b - v.r) / span + 2 : (v.r - v.g) / span + 4;
    return say(out, cap, "hsl(%g %g%% %g%%)", fmod(round_to(60 * h, 0.1), 360),
               fmin(round_to(100 * s, 0.1), 100), round_to(100 * l, 0.1));
}

static size_t print_munsell(struct lab c, char *out, size_t cap) {
    static const char *const families[10] = {"R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP"};
    struct munsell_book *book = malloc(sizeof *book);
    if (!book) return say(out, cap, "-");
    munsell_book_make(&tables_builtin, book);
    struct munsell m = munsell_of_color(book, c, NULL);
    free(book);
    double value = round_to(m.value, 0.1), chroma = round_to(m.chroma, 0.1);
    if (m.chroma < MUNSELL_NEUTRAL) return say(out, cap, "N %g/", value);
    /* hue letters change after 10: 10RP is written so, not 0R */
    double hue = round_to(m.hue, 0.1);
    int family = hue > 0 ? (int)((hue - 1e-9) / 10) % 10 : 9;
    double within = hue > 0 ? hue - 10 * (int)((hue - 1e-9) / 10) : 10;
    return say(out, cap, "%g%s %g/%g", round_to(within, 0.1), families[family], value, chroma);
}

size_t color_print(enum color_notation n, struct lab c, char *out, size_t cap) {
    if (!(isfinite(c.l) && isfinite(c.a) && isfinite(c.b))) return say(out, cap, "-");
    struct xyz d50 = xyz_of_lab(c, XYZ_D50), d65 = xyz_d65_of_d50(d50);
    struct lch lch = lch_of_lab(c), oklch;
    struct oklab ok = oklab_of_xyz_d65(d65);
    struct rgb p3 = rgb_encode(rgb_of_xyz_d65(RGB_DISPLAY_P3, d65));
    struct bytes v;
    char hex[8];
    switch (n) {
    case NOTATION_HEX: color_print_hex(c, hex); return say(out, cap, "%s", hex);
    case NOTATION_RGB: v = bytes_of(c); return say(out, cap, "rgb(%d %d %d)", v.r, v.g, v.b);
    case NOTATION_HSL: return print_hsl(c, out, cap);
    case NOTATION_LAB:
        return say(out, cap, "lab(%g %g %g)", round_to(c.l, 1e-3), round_to(c.a, 1e-3),
                   round_to(c.b, 1e-3));
    case NOTATION_LCH:
        if (lch.c < 5e-4) lch.h = 0; /* gray has no hue */
        return say(out, cap, "lch(%g %g %g)", round_to(lch.l, 1e-3), round_to(lch.c, 1e-3),
                   round_to(lch.h, 1e-2));
    case NOTATION_OKLAB:
        return say(out, cap, "oklab(%g %g %g)", round_to(ok.l, 1e-5), round_to(ok.a, 1e-5),
                   round_to(ok.b, 1e-5));
    case NOTATION_OKLCH:
        oklch = oklch_of_oklab(ok);
        if (oklch.c < 5e-6) oklch.h = 0;
        return say(out, cap, "oklch(%g %g %g)", round_to(oklch.l, 1e-5), round_to(oklch.c, 1e-5),
                   round_to(oklch.h, 1e-2));
    case NOTATION_DISPLAY_P3:
        return say(out, cap, "color(display-p3 %g %g %g)", round_to(p3.r, 1e-5),
                   round_to(p3.g, 1e-5), round_to(p3.b, 1e-5));
    case NOTATION_XYZ_D50:
        return say(out, cap, "color(xyz-d50 %g %g %g)", round_to(d50.x, 1e-5),
                   round_to(d50.y, 1e-5), round_to(d50.z, 1e-5));
    case NOTATION_XYZ_D65:
        return say(out, cap, "color(xyz-d65 %g %g %g)", round_to(d65.x, 1e-5),
                   round_to(d65.y, 1e-5), round_to(d65.z, 1e-5));
    case NOTATION_MUNSELL: return print_munsell(c, out, cap);
    default: return say(out, cap, "-");
    }
}
