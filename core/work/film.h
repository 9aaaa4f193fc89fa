/* Film arithmetic: spread, wet and dry thickness, thinning, gloss levels, the wet gauge.
 *
 * 1 L covers 1000 m2 at 1 um (1 US gal 1604.17 ft2 at 1 mil): exact. Solids are by volume, never by
 * weight. Fractions 0..1, films in um, spread in m2/L. */
#ifndef CORE_WORK_FILM_H
#define CORE_WORK_FILM_H

/* What a liter covers when it leaves a dry film of dry_um. Source: arithmetic. */
double film_spread_m2_per_l(double solids_frac, double dry_um);
/* The same with what does not stay on the work (1 - transfer efficiency). Source: PCRC. */
double film_practical_m2_per_l(double theoretical_m2_per_l, double loss_frac);
/* Solids after thinning with that share of thinner. Source: marine coatings note. */
double film_thinned_frac(double solids_frac, double thinner_frac);
/* Wet film that leaves dry_um: what the comb gauge should read (ASTM D4414). */
double film_wet_um(double solids_frac, double thinner_frac, double dry_um);
/* Wet film at a spread. */
double film_wet_of_spread_um(double spread_m2_per_l);

/* Gloss level 1..7 (G1..G7) from 60 degree gloss and 85 degree sheen (NAN where the level does not
 * ask for it); 0 when the pair lies between the levels. Source: MPI. */
int film_gloss_level(double gloss_60, double sheen_85);

#endif
