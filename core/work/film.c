#include "core/work/film.h"

#include <math.h>

static const double M2_UM_PER_L = 1000;

double film_spread_m2_per_l(double solids_frac, double dry_um) {
    return M2_UM_PER_L * solids_frac / dry_um;
}

double film_practical_m2_per_l(double theoretical_m2_per_l, double loss_frac) {
    return theoretical_m2_per_l * (1 - loss_frac);
}

double film_thinned_frac(double solids_frac, double thinner_frac) {
    return solids_frac / (1 + thinner_frac);
}

double film_wet_um(double solids_frac, double thinner_frac, double dry_um) {
    return dry_um / film_thinned_frac(solids_frac, thinner_frac);
}

double film_wet_of_spread_um(double spread_m2_per_l) {
    return M2_UM_PER_L / spread_m2_per_l;
}

int film_gloss_level(double g, double s) {
    if (g > 85) return 7;
    if (g >= 70) return 6;
    if (g <= 5 && s <= 10) return 1;
    if (g <= 10 && s >= 10 && s <= 35) return 2;
    if (g >= 20 && g <= 35 && s >= 35) return 4;
    if (g >= 10 && g <= 25 && s >= 10 && s <= 35) return 3;
    return g > 35 ? 5 : 0;
}
