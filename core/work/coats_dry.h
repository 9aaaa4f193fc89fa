/* Drying and film of one product, label before class default. */
#ifndef CORE_WORK_COATS_DRY_H
#define CORE_WORK_COATS_DRY_H

#include "core/work/room.h"

struct coat_dry {
    double touch_min, recoat_min, recoat_until_min, handle_min, cure_min, film_um;
    const char *source;
};

/* NAN where nothing is known. */
struct coat_dry coat_dry(const struct room *r, const char *class, const struct paint *can);

#endif
