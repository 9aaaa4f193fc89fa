/* Drying and film of one product, label before class default. */
#ifndef CORE_WORK_COATS_DRY_H
#define CORE_WORK_COATS_DRY_H

#include "core/work/room.h"

struct coat_dry {
    double touch_min, recoat_min, recoat_until_min, handle_min, cure_min, film_um;
    double degc,
        rh_frac;        /* the air it is planned for: no colder or damper than it may be used in */
    double shop_factor; /* the shop's own clock; 1 where a label spoke, or nothing is on record */
    const char *source;
};

/* NAN where nothing is known. */
struct coat_dry coat_dry(const struct room *r, const char *class, const struct paint *can);

#endif
