#include "core/work/wood.h"

#include <math.h>
#include <string.h>

double wood_emc_frac(double c, double h) {
    double w = 349 + 1.29 * c + 0.0135 * c * c;
    double k = 0.805 + 0.000736 * c - 0.00000273 * c * c;
    double k1 = 6.27 - 0.00938 * c - 0.000303 * c * c;
    double k2 = 1.91 + 0.0407 * c - 0.000293 * c * c;
    double kh = k * h, both = k1 * k2 * kh * kh;
    return 18 / w * (kh / (1 - kh) + (k1 * kh + 2 * both) / (1 + k1 * kh + both));
}

double wood_move_mm(double width_mm, double coefficient, double from_frac, double to_frac,
                    bool *out_outside) {
    if (out_outside)
        *out_outside = fmin(from_frac, to_frac) < .06 || fmax(from_frac, to_frac) > .14;
    return width_mm * coefficient * (to_frac - from_frac) * 100;
}

bool wood_is_board(const struct tables *t, const char *id) {
    for (size_t i = 0; id && i < t->wood_traits_n; i++)
        if (!strcmp(t->wood_traits[i].id, id)) return t->wood_traits[i].board == 1;
    return false;
}

const struct species_row *wood_species_of(const struct tables *t, const char *id) {
    for (size_t i = 0; id && i < t->species_n; i++)
        if (!strcmp(t->species[i].id, id)) return &t->species[i];
    return NULL;
}

double wood_screw_n(double gravity, double diameter_mm, double thread_mm, bool end_grain) {
    double side = 108.25 * gravity * gravity * diameter_mm * thread_mm;
    return end_grain ? .75 * side : side;
}

double wood_nail_allowed_n(double gravity, double diameter_mm, double depth_mm) {
    return 9.5147 * pow(gravity, 2.5) * diameter_mm * depth_mm; /* 1380 lb/in2 */
}

double wood_screw_allowed_n(double ultimate_n) {
    return ultimate_n / 5.5;
}

double wood_pilot_mm(double shank_mm, bool hard) {
    double root = shank_mm * 2 / 3;
    return root * (hard ? .9 : .7);
}
