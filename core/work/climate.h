/* The shop's air: dew point, water in the air, and whether a product may be put on in it.
 *
 * Humidities are fractions of saturation over water, 0 < rh <= 1; temperatures -45..60 degC.
 * Source: WMO8, Magnus formula (A 17.62, B 243.12 degC); ISO8502 for the 3 degC over the dew
 * point, which was written for steel and is used on wood by analogy. */
#ifndef CORE_WORK_CLIMATE_H
#define CORE_WORK_CLIMATE_H

#include "tables.h"

/* Temperature at which this air is saturated. */
double climate_dew_degc(double air_degc, double rh_frac);

/* Humidity of the same air (same water in it) brought to another temperature; at most 1. */
double climate_rh_moved(double from_degc, double rh_frac, double to_degc);

/* How far this air is from saturated: what draws water out of a film. */
double climate_deficit_hpa(double degc, double rh_frac);

enum climate_gate { CLIMATE_GO, CLIMATE_WARN, CLIMATE_STOP };

/* Which limit decided; the first that stops, else the first that warns. */
enum climate_limit {
    CLIMATE_WITHIN,
    CLIMATE_COLD,   /* under the product's lowest temperature */
    CLIMATE_DEW,    /* surface less than 3 degC over the dew point */
    CLIMATE_HUMID,  /* over the class's limit, or over 85 % whatever it is */
    CLIMATE_UNCLEAR /* something needed was not said */
};

struct climate_verdict {
    enum climate_gate gate;
    enum climate_limit limit;
    double dew_degc;                  /* NAN when the air is not known */
    double margin_degc;               /* surface - dew point */
    double lowest_degc, rh_stop_frac; /* limits that were applied */
};

/* Judges one moment.
 *
 *   product       row of product_classes; NULL: only dew point and 85 %
 *   lowest_degc   what the can says; NAN: the class's
 *   surface_degc  of the work; NAN: as the air
 *
 * Source: ISO8502; humidity limits of the classes CP. */
struct climate_verdict climate_judge(const struct product_classes_row *product, double lowest_degc,
                                     double air_degc, double surface_degc, double rh_frac);

/* The nearest air in which the product may go on: warmed to its lowest temperature, dried to its
 * limit and to 3 degC over the dew point. product NULL: only the dew point and 85 %. */
void climate_bring(const struct product_classes_row *product, double lowest_degc, double *degc,
                   double *rh_frac);

#endif
