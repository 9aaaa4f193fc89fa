#include "core/work/climate.h"

#include <math.h>

static const double MAGNUS_A = 17.62, MAGNUS_B_DEGC = 243.12, MAGNUS_HPA = 6.112;
static const double OVER_DEW_DEGC = 3, STEEL_RH = .85;

/* Pressure of saturated water vapor over water. */
static double saturation_hpa(double degc) {
    return MAGNUS_HPA * exp(MAGNUS_A * degc / (MAGNUS_B_DEGC + degc));
}

static double dew_of_pressure(double hpa) {
    double g = log(hpa / MAGNUS_HPA);
    return MAGNUS_B_DEGC * g / (MAGNUS_A - g);
}

double climate_dew_degc(double air_degc, double rh_frac) {
    return dew_of_pressure(rh_frac * saturation_hpa(air_degc));
}

double climate_rh_moved(double from_degc, double rh_frac, double to_degc) {
    double rh = rh_frac * saturation_hpa(from_degc) / saturation_hpa(to_degc);
    return fmin(1, rh);
}

double climate_deficit_hpa(double degc, double rh_frac) {
    return saturation_hpa(degc) * (1 - rh_frac);
}

/* Keeps the worst of the limits met so far; the first of equals stays. */
static void meet(struct climate_verdict *v, enum climate_gate gate, enum climate_limit limit) {
    if (gate <= v->gate) return;
    v->gate = gate;
    v->limit = limit;
}

static double lowest_of(const struct product_classes_row *product, double lowest_degc) {
    return !isnan(lowest_degc) ? lowest_degc : product ? product->lowest_degc : NAN;
}
static double rh_stop_of(const struct product_classes_row *product) {
    double stop = product && !isnan(product->rh_stop_frac) ? product->rh_stop_frac : STEEL_RH;
    return fmin(stop, STEEL_RH);
}

void climate_bring(const struct product_classes_row *product, double lowest_degc, double *degc,
                   double *rh_frac) {
    *degc = fmax(*degc, lowest_of(product, lowest_degc));
    double dew = saturation_hpa(*degc - OVER_DEW_DEGC) / saturation_hpa(*degc);
    *rh_frac = fmin(*rh_frac, fmin(rh_stop_of(product), dew));
}

struct climate_verdict climate_judge(const struct product_classes_row *product, double lowest_degc,
                                     double air_degc, double surface_degc, double rh_frac) {
    struct climate_verdict v = {.dew_degc = NAN, .margin_degc = NAN};
    double surface = isnan(surface_degc) ? air_degc : surface_degc;
    v.lowest_degc = lowest_of(product, lowest_degc);
    v.rh_stop_frac = rh_stop_of(product);
    if (isnan(air_degc) || isnan(rh_frac)) meet(&v, CLIMATE_WARN, CLIMATE_UNCLEAR);
    if (fmin(air_degc, surface) < v.lowest_degc) meet(&v, CLIMATE_STOP, CLIMATE_COLD);
    if (rh_frac > 0) {
        v.dew_degc = climate_dew_degc(air_degc, rh_frac);
        v.margin_degc = surface - v.dew_degc;
        if (v.margin_degc < OVER_DEW_DEGC) meet(&v, CLIMATE_STOP, CLIMATE_DEW);
    }
    if (rh_frac > v.rh_stop_frac) meet(&v, CLIMATE_STOP, CLIMATE_HUMID);
    if (product && rh_frac > product->rh_warn_frac) meet(&v, CLIMATE_WARN, CLIMATE_HUMID);
    return v;
}
