/* How a color looks under other lights and on a flat surface, as swatches for a daylight screen. */
#ifndef APP_COLOR_LOOKS_H
#define APP_COLOR_LOOKS_H

#include "codec/desc.h"
#include "core/base/arena.h"
#include "core/color/spectrum.h"
#include "core/work/job.h"
#include "core/work/palette.h"

/* How a mix looks under one light, adapted to a daylight screen. */
struct light_look {
    const char *light;                  /* d65, a, led */
    const char *hex, *hex_flat;         /* on its satin surface; on a flat one */
    double difference, difference_flat; /* to the target under that light; NAN: no target */
};
enum { LIGHT_LOOKS = 3 };
extern const struct desc desc_look;

/* target NULL: none. False: no memory. */
bool looks_fill(const struct palette *p, const struct spectrum *mix, const struct spectrum *target,
                struct arena *a, struct light_look **out, size_t *out_n);

/* "#rrggbb" of Lab D50; NULL: no memory. */
const char *color_swatch(struct arena *a, struct lab d50);
struct lab color_lab(const struct color_said *c);

#endif
