/* How far paint goes by what is in it. */
#ifndef CORE_WORK_FILM_H
#define CORE_WORK_FILM_H

/* What a liter covers when it leaves a dry film.
 *
 *   solids_frac   by volume, 0..1; by weight is another number
 *   dry_um        film when it has dried, > 0
 *   returns       m2 per liter, before anything is lost
 *
 * 1 L on 1000 m2 is 1 um wet (1 US gal on 1604.17 ft2 is 1 mil): arithmetic. */
double film_spread_m2_per_l(double solids_frac, double dry_um);

#endif
