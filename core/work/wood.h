/* Wood and water: equilibrium moisture, movement across the grain, what fasteners hold.
 *
 * Moisture contents and humidities are fractions of 1; lengths mm; forces N; G is the specific
 * gravity, ovendry mass on the volume at 12 % moisture. */
#ifndef CORE_WORK_WOOD_H
#define CORE_WORK_WOOD_H

#include "tables.h"

#include <stdbool.h>

/* Moisture that wood comes to in this air.
 *
 *   degc      -1..132 (30..270 degF); rh_frac 0.05..0.95
 * Returns a fraction; wood that dries ends above it, wood that wets below (1 to 4 points at 50 %).
 * Source: WH4 eq. 4-5 (Simpson 1973). */
double wood_emc_frac(double degc, double rh_frac);

/* Growth of a width across the grain from one moisture to another; negative: it shrinks.
 *
 *   coefficient   per 1 % moisture: radial for quartersawn, tangential for flatsawn boards
 *   out_outside   true when a moisture lies outside 6..14 %, where the equation was made; or NULL
 * Source: WH13 eq. 13-2 and table 13-5. */
double wood_move_mm(double width_mm, double coefficient, double from_frac, double to_frac,
                    bool *out_outside);

/* No wood grown: MDF, foil on board, metal (data/wood_traits.tsv). */
bool wood_is_board(const struct tables *t, const char *id);

/* Row of data/species.tsv by its id, or NULL. */
const struct species_row *wood_species_of(const struct tables *t, const char *id);

/* Ultimate withdrawal load of one wood screw: shank diameter, thread in the wood; end grain holds
 * 75 %. Source: WH8. */
double wood_screw_n(double gravity, double diameter_mm, double thread_mm, bool end_grain);
/* What may be asked of one nail: 1380 G^2.5 D (lb, in), a fifth of the 6900 of FPL093. Its G is on
 * the ovendry volume; with G at 12 % it is on the safe side. */
double wood_nail_allowed_n(double gravity, double diameter_mm, double depth_mm);
/* What may be asked of a screw: 1/5.5 of the ultimate load. */
double wood_screw_allowed_n(double ultimate_n);

/* Pilot hole of a wood screw: 70 % of the root in soft, 90 % in hard wood, root = 2/3 shank.
 * Source: WH8. The folk rule that hard wood takes the smaller hole is the wrong way round. */
double wood_pilot_mm(double shank_mm, bool hard);

#endif
