#include "core/color/surface.h"

#include <math.h>

double surface_scattered(double gloss_60) {
    return fmax(0, fmin(1, 1 - gloss_60 / 70));
}

struct spectrum surface_seen(const struct spectrum *r, double gloss_from, double gloss_to) {
    double more = SURFACE_FRESNEL * (surface_scattered(gloss_to) - surface_scattered(gloss_from));
    struct spectrum out;
    for (int b = 0; b < SPECTRUM_BANDS; b++) out.at[b] = fmax(0, fmin(1, r->at[b] + more));
    return out;
}
