#include "core/work/coats_dry.h"
#include "core/work/climate.h"
#include "core/work/drying.h"
#include "core/work/fact.h"
#include "core/work/learn.h"

#include <math.h>
#include <string.h>

struct coat_dry coat_dry(const struct room *r, const char *class, const struct paint *can) {
    const struct product_classes_row *row = product_class_of(r->t, class);
    struct coat_dry none = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, 1, "CP"};
    if (!row) return none;
    struct air air = {r->shop->day_degc, r->shop->humidity_frac};
    if (isnan(air.degc)) air.degc = drying_air_class.degc;
    if (!(air.rh_frac > 0)) air.rh_frac = drying_air_class.rh_frac;
    /* in air in which it must not be used it is planned as if that were put right (day_check.c) */
    climate_bring(row, can ? can->label_lowest_degc : NAN, &air.degc, &air.rh_frac);
    struct drying d;
    if (drying_times(row, can, air, NAN, &d, NULL) != OK) return none;
    const struct learnt *l = learnt_of(r->shop, r->piece->id, "drying", class, NULL);
    if (d.label) l = NULL; /* a can's label speaks for itself */
    if (l) {               /* the shop's own clock */
        d.touch_min *= l->factor, d.recoat_min *= l->factor, d.handle_min *= l->factor;
        d.recoat_until_min = fmax(d.recoat_until_min, d.recoat_min);
        d.cure_min = fmax(d.cure_min, d.handle_min);
    }
    double until = isinf(d.recoat_until_min) ? NAN : d.recoat_until_min;
    return (struct coat_dry){d.touch_min,       d.recoat_min, until,    d.handle_min,
                             d.cure_min,        row->film_um, air.degc, air.rh_frac,
                             l ? l->factor : 1, row->source};
}
