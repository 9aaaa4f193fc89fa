/* How much of everything: paint with what tools keep, and what is used up on the way.
 * amount_make stands in core/work/room.h. */
#ifndef CORE_WORK_AMOUNT_H
#define CORE_WORK_AMOUNT_H

#include "core/work/room.h"
#include "core/work/surface.h"

/* One product laid on by one tool. */
struct amount_terms {
    double area_m2; /* one coat */
    double coats;
    double spread_m2_per_l; /* median on the work, without losses */
    double spread_log_sd;
    double loss_frac;                       /* 0 <= loss < 1 */
    double area_log_sd;                     /* how well the area is known */
    double session_low_ml, session_high_ml; /* stays in tool and tray, each session */
    double sessions;
};

struct amount_range {
    double film_ml, taken_ml;        /* on the work; with what misses it */
    double need_ml, low_ml, high_ml; /* likeliest, 1 in 10 below, 1 in 10 above */
};

/* need = area x coats / spread / (1 - loss) + sessions x what tools keep. The spread (log-normal)
 * and the tools' share vary by themselves; their ranges are added in quadrature. */
struct amount_range amount_of(const struct amount_terms *terms);

/* The smallest amount >= ml that can be measured in so many equal parts of whole steps.
 * step_ml > 0, parts >= 1. */
double amount_measured(double ml, double step_ml, int64_t parts);

/* What the pieces of a document take off the shelf, one after the other: each has what those before
 * it leave, in jars and in cans that they buy. Made once a plan (NULL: no memory); amount_make
 * reads it, and what it took counts for the next piece once that is said. */
struct taken *taken_make(struct arena *arena);
void taken_keep(struct taken *taken);

/* The recipe that an amount is mixed by; NULL: it comes out of one can. */
const struct color_plan *amount_mix(const struct piece_plan *p, const struct amount *a);
/* How many cans all amounts are poured from, each as often as it is named. */
size_t amount_pours(const struct piece_plan *p);

/* Adds what is used up besides paint: rows of data/supplies.tsv. Reads surfaces, coats,
 * amounts and fittings. */
enum status supply_make(const struct room *r, struct piece_plan *p);

#endif
