/* Munsell notation of a color and the color of a notation, by the renotation of 1943.
 *
 * Hue is a number 0..100 (5 = 5R, 15 = 5YR, ... 95 = 5RP), value 0..10, chroma >= 0 in steps of the
 * book; chroma below MUNSELL_NEUTRAL is neutral (N). Between chips: chroma, hue and value linear in
 * the polar form of Lab under illuminant C, where the chips lie almost evenly; beyond the most
 * colorful chip the last step goes on.
 *
 * Source: RENOTATION1943 (chips); value from luminous reflectance by its fifth-degree polynomial,
 * in the form of ASTM D1535 that counts from the perfect white. */
#ifndef CORE_COLOR_MUNSELL_H
#define CORE_COLOR_MUNSELL_H

#include "core/color/color.h"

enum { MUNSELL_HUES = 40, MUNSELL_VALUES = 9, MUNSELL_STEPS = 20 };
#define MUNSELL_NEUTRAL 0.25

struct munsell {
    double hue, value, chroma;
};

/* The chips in Lab C, polar. About 120 kB: belongs to the caller, made once. steps[v][h] chips are
 * known of value v + 1 and hue 2.5 h, of chroma 2, 4, ...; angles in degrees grow with hue. */
struct munsell_book {
    double radius[MUNSELL_VALUES][MUNSELL_HUES][MUNSELL_STEPS];
    double angle[MUNSELL_VALUES][MUNSELL_HUES][MUNSELL_STEPS];
    int steps[MUNSELL_VALUES][MUNSELL_HUES];
};

void munsell_book_make(const struct tables *t, struct munsell_book *out);

/* Luminous reflectance (0..1, perfect white 1) of a Munsell value 0..10. */
double munsell_y_of_value(double value);

/* Lab D50 of a notation, adapted from illuminant C by Bradford. value and chroma are clamped to
 * 0..10 and 0..50, hue taken modulo 100. */
struct lab munsell_color(const struct munsell_book *b, struct munsell m);

/* Notation of a color (Lab D50). out_beyond, if not NULL: it is more colorful than any chip, so the
 * notation is extrapolated. */
struct munsell munsell_of_color(const struct munsell_book *b, struct lab c, bool *out_beyond);

#endif
