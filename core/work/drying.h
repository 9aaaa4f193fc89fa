/* How long a coat takes in the shop's air: from the can's label or the class, to this climate.
 *
 * Three rules of thumb, each for its kind of film, all rough and said to be so:
 *   reacts      (oil, alkyd): twice as long for every 10 degC colder; practice for reactive films
 * (Q10). coalesces   (waterborne): as long as the water takes to leave: by the vapor pressure
 * deficit of the air, an upper bound (DALTON); its later hardening twice as long for every 10 degC.
 *   evaporates  (shellac, lacquer): by the vapor pressure of ethanol (Antoine equation, MEM).
 * Thicker films: time grows with the wet film where something leaves it, with its square where
 * oxygen must get in. Class times hold at 23 degC, 50 % (D1640), labels at 25 degC (77 degF), 50 %.
 */
#ifndef CORE_WORK_DRYING_H
#define CORE_WORK_DRYING_H

#include "core/base/status.h"
#include "core/work/basis.h"
#include "core/work/job.h"
#include "tables.h"

enum drying_cure { DRYING_EVAPORATES, DRYING_COALESCES, DRYING_REACTS };
enum drying_cure drying_cure_of(const struct product_classes_row *product);

struct air {
    double degc, rh_frac;
};

extern const struct air drying_air_class; /* 23 degC, 50 %: ASTM D1640 */
extern const struct air drying_air_label; /* 25 degC, 50 %: what labels mean by 77 degF */
extern const struct air drying_air_home;  /* 20 degC, 50 %: a room that is lived in; practice */

/* How many times longer than in `from` the same stage takes in `to`; INFINITY in saturated air.
 * hardening: later stages (light use, full cure), which do not hang on the water any more. */
double drying_factor(enum drying_cure cure, struct air from, struct air to, bool hardening);

/* The same for a film `ratio` times as thick as usual; ratio > 0. */
double drying_thickness_factor(enum drying_cure cure, double ratio);

struct drying {
    double touch_min, recoat_min;
    double recoat_until_min; /* scuff after that; INFINITY: no edge */
    double handle_min, light_use_min;
    double cure_min, cure_low_min, cure_high_min; /* the longer end is planned with */
    double factor; /* of the early stages against the air the times were given for */
    bool label;    /* at least one of the times is the can's */
    enum certainty certainty;
};

/* Times of one coat.
 *
 *   product     row of product_classes
 *   label       the can, or NULL; what it says beats the class
 *   air         10..60 degC as far as the product allows; rh 0 < rh < 1
 *   film_ratio  film against the usual one; NAN or 1: as usual
 *   why         /degc or /rh_frac
 *
 * The order touch <= recoat, touch <= handle <= light use <= cure is kept even where a label says
 * only some of them. Errors: E_DOMAIN. Cost: O(1). */
enum status drying_times(const struct product_classes_row *product, const struct paint *label,
                         struct air air, double film_ratio, struct drying *out, struct why *why);

/* What a label says must not contradict itself: the next coat after a time, and before an earlier
 * one without scuffing. Errors: E_DOMAIN at /label_recoat_until, both times in words. */
enum status drying_label_check(const struct paint *label, struct why *why);

/* Progress of drying in `now`, per minute, when a minute in `usual` counts 1. 0 below
 * lowest_degc: a film that stands under its product's minimum does not get on. That minimum is of
 * film formation (ASTM D2354, from memory): what has formed goes on hardening in the cold, slower.
 */
double drying_rate(enum drying_cure cure, struct air usual, struct air now, double lowest_degc,
                   bool hardening);

#endif
