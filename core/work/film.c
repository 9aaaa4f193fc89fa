#include "core/work/film.h"

static const double M2_UM_PER_L = 1000;

double film_spread_m2_per_l(double solids_frac, double dry_um) {
    return M2_UM_PER_L * solids_frac / dry_um;
}
