/* Colors as people and programs write them, and back.
 *
 * Read: #1f4e5a  #abc  rgb(31 78 90)  hsl(192 49% 24%)  hwb(...)  lab(30.6 -13 -11)  lch(...)
 *       oklab(...)  oklch(...)  color(display-p3 .1 .3 .35)  color(srgb|srgb-linear|a98-rgb|
 *       prophoto-rgb|rec2020|xyz|xyz-d50|xyz-d65 ...)  named colors of CSS
 *       lab-d65() lch-d65() lab-d65-10() lch-d65-10() as instruments show them, under D65 and of
 *       the observer of 2 or 10 degrees  Munsell notation: 7.5BG 3/4, N 5/
 * after CSS Color 4: commas or spaces, percentages, `none` = 0, hues in deg, grad, rad, turn. A
 * paint has no transparency: an alpha other than 1 is an error. Upper and lower case are the same.
 *
 * The result is always CSS Lab (D50, 2 degree): lab() and lch() exactly as given, the rest adapted
 * by Bradford. Nothing here depends on a locale; at most COLOR_TEXT_MAX bytes are looked at.
 * Source: CSS4; RENOTATION1943 for Munsell. */
#ifndef CODEC_COLOR_TEXT_H
#define CODEC_COLOR_TEXT_H

#include "core/base/status.h"
#include "core/color/munsell.h"

#include <stddef.h>

enum { COLOR_TEXT_MAX = 120 };

/*  text   NUL-terminated
 *  out    Lab D50: L 0..100, |a|, |b| <= 250
 *  why    field ""
 *
 * Errors: E_SYNTAX (no notation that is known, wrong number of values, something behind it),
 * E_UNIT (a unit where none belongs), E_DOMAIN (a value outside what the notation allows). */
enum status color_read(const char *text, struct lab *out, struct why *why);

enum color_notation {
    NOTATION_HEX, /* nearest on a screen, mapped into sRGB */
    NOTATION_RGB,
    NOTATION_HSL,
    NOTATION_LAB,
    NOTATION_LCH,
    NOTATION_OKLAB,
    NOTATION_OKLCH,
    NOTATION_DISPLAY_P3, /* unmapped, may go beyond 0..1 */
    NOTATION_XYZ_D50,
    NOTATION_XYZ_D65,
    NOTATION_MUNSELL,
    NOTATIONS
};

/* Prints a Lab D50 color in one notation that color_read reads back: to the digits shown, except
 * hex, rgb and hsl, which a color outside sRGB is mapped into. Returns the length (cut at cap - 1,
 * always ends in NUL); "-" for a color that is not finite. */
size_t color_print(enum color_notation n, struct lab c, char *out, size_t cap);

/* "#rrggbb" of what a screen shows, for a page. */
void color_print_hex(struct lab c, char out[8]);

#endif
