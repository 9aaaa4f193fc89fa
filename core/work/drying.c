#include "core/work/drying.h"

#include "core/work/climate.h"

#include <math.h>
#include <string.h>

const struct air drying_air_class = {23, .5};
const struct air drying_air_label = {25, .5};
const struct air drying_air_home = {20, .5};

enum drying_cure drying_cure_of(const struct product_classes_row *product) {
    return !strcmp(product->cure, "reacts")      ? DRYING_REACTS
           : !strcmp(product->cure, "coalesces") ? DRYING_COALESCES
                                                 : DRYING_EVAPORATES;
}

/* Antoine equation of ethanol, 0..60 degC, in mm of mercury; only ratios are used. */
static double ethanol_pressure(double degc) {
    return pow(10, 8.20417 - 1642.89 / (degc + 230.3));
}

static double per_10_degc(double from_degc, double to_degc) {
    return exp2((from_degc - to_degc) / 10);
}

double drying_factor(enum drying_cure cure, struct air from, struct air to, bool hardening) {
    switch (cure) {
    case DRYING_REACTS: return per_10_degc(from.degc, to.degc);
    case DRYING_EVAPORATES: return ethanol_pressure(from.degc) / ethanol_pressure(to.degc);
    case DRYING_COALESCES: break;
    }
    if (hardening) return per_10_degc(from.degc, to.degc);
    return climate_deficit_hpa(from.degc, from.rh_frac) / climate_deficit_hpa(to.degc, to.rh_frac);
}

double drying_thickness_factor(enum drying_cure cure, double ratio) {
    return cure == DRYING_REACTS ? ratio * ratio : ratio;
}

/* One stage: the label's time if it says one, else the class's, each from its own air. */
struct stage {
    enum drying_cure cure;
    struct air air;
    double thick;
    bool hardening;
};

static double stage_time(const struct stage *s, double label_min, double class_min, bool *label) {
    bool said = !isnan(label_min);
    if (said) *label = true;
    struct air from = said ? drying_air_label : drying_air_class;
    return (said ? label_min : class_min) * drying_factor(s->cure, from, s->air, s->hardening) *
           s->thick;
}

static enum status air_check(struct air air, struct why *why) {
    if (!(air.degc >= -40 && air.degc <= 60))
        return why_say(why, E_DOMAIN, "/degc", "Air of %g degC is outside -40 to 60 degC.",
                       air.degc);
    if (!(air.rh_frac > 0 && air.rh_frac < 1))
        return why_say(why, E_DOMAIN, "/rh_frac",
                       "A humidity of %g %% is not between 0 and 100 %%.", air.rh_frac * 100);
    return OK;
}

enum status drying_times(const struct product_classes_row *product, const struct paint *label,
                         struct air air, double film_ratio, struct drying *out, struct why *why) {
    enum status st = air_check(air, why);
    if (st) return st;
    struct paint none = {.label_touch_min = NAN,
                         .label_recoat_min = NAN,
                         .label_recoat_until_min = NAN,
                         .label_handle_min = NAN,
                         .label_cure_min = NAN};
    const struct paint *l = label ? label : &none;
    enum drying_cure cure = drying_cure_of(product);
    struct stage early = {cure, air, 1, false}, late = {cure, air, 1, true};
    if (film_ratio > 0) early.thick = drying_thickness_factor(cure, film_ratio);
    struct drying d = {.factor = drying_factor(cure, drying_air_class, air, false) * early.thick,
                       .certainty = CERTAINTY_COMMON};
    d.touch_min = stage_time(&early, l->label_touch_min, product->touch_min, &d.label);
    d.recoat_min = stage_time(&early, l->label_recoat_min, product->recoat_min, &d.label);
    d.recoat_until_min =
        stage_time(&late, l->label_recoat_until_min, product->recoat_until_min, &d.label);
    d.handle_min = stage_time(&early, l->label_handle_min, product->handle_min, &d.label);
    d.light_use_min = stage_time(&late, NAN, product->light_use_min, &d.label);
    d.cure_low_min = stage_time(&late, l->label_cure_min, product->cure_low_min, &d.label);
    d.cure_high_min = stage_time(&late, l->label_cure_min, product->cure_high_min, &d.label);
    if (isnan(d.recoat_until_min)) d.recoat_until_min = INFINITY;
    d.recoat_min = fmax(d.recoat_min, d.touch_min);
    d.recoat_until_min = fmax(d.recoat_until_min, d.recoat_min);
    d.handle_min = fmax(d.handle_min, d.touch_min);
    d.light_use_min = fmax(d.light_use_min, d.handle_min);
    d.cure_low_min = fmax(d.cure_low_min, d.light_use_min);
    d.cure_high_min = fmax(d.cure_high_min, d.cure_low_min);
    d.cure_min = d.cure_high_min;
    if (d.label) d.certainty = CERTAINTY_LABEL;
    *out = d;
    return OK;
}

enum status drying_label_check(const struct paint *label, struct why *why) {
    char after[32], before[32];
    if (!(label->label_recoat_min > label->label_recoat_until_min)) return OK;
    return why_say(why, E_DOMAIN, "/label_recoat_until",
                   "Both cannot be: by its label %.60s takes the next coat after %s, and only "
                   "before %s without scuffing. Read the label again.",
                   label->name ? label->name : label->id,
                   basis_span(label->label_recoat_min, after),
                   basis_span(label->label_recoat_until_min, before));
}

double drying_rate(enum drying_cure cure, struct air usual, struct air now, double lowest_degc,
                   bool hardening) {
    if (!hardening && now.degc < lowest_degc) return 0;
    double factor = drying_factor(cure, usual, now, hardening);
    return isfinite(factor) && factor > 0 ? 1 / factor : 0;
}
