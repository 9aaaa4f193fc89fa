/* How many coats of a color it takes until what lies below no longer shows. */
#include "core/work/coats_build.h"

#include "core/color/hiding.h"
#include "core/work/fact.h"
#include "core/work/mix_film.h"

#include <math.h>
#include <string.h>

static struct spectrum spectrum_of_lab(const struct weights *w, const double lab[3]) {
    struct lab c = {lab[0], lab[1], lab[2]};
    return upsample_color(w, c).spectrum;
}

static double film_um(const struct tables *t, const char *class) {
    const struct product_classes_row *row = product_class_of(t, class);
    return row ? row->film_um : NAN;
}

struct hides coats_hide(const struct tables *t, const char *class, const double color[3],
                        int64_t hides_in, const double ground[3], int most) {
    struct weights w = weights_make(t, OBSERVER_2, LIGHT_D50);
    struct lab c = {color[0], color[1], color[2]};
    const struct pigment wished = pigment_of_color(&w, c, NULL), paint = hiding_paint(&wished);
    struct hiding_film film = {&paint, HIDING_WHITE_SCATTER_PER_UM, film_um(t, class)};
    struct spectrum below = spectrum_of_lab(&w, ground);
    struct hides h = {.film_um = film.coat_um, .thin = HIDING_THIN_PLACES, .scale = 1};
    if (hides_in > 0) h.scale = hiding_learn(&film, (int)hides_in, &w).scale;
    film.white_scatter_per_um *= h.scale;
    h.coats = hiding_coats(&film, &below, most, &w);
    /* over any ground the film lies between that over black and that over white */
    if (hides_in > 0 && h.coats > hides_in) h.coats = (int)hides_in;
    h.contrast = hiding_after(&film, h.coats <= most ? h.coats : most, &below, &w).contrast;
    return h;
}

struct hides coats_hide_mix(const struct tables *t, const struct mix_film *mix,
                            const double ground[3], int most) {
    const struct weights w = weights_make(t, OBSERVER_2, LIGHT_D50);
    const struct spectrum below = spectrum_of_lab(&w, ground);
    const struct hiding_film film = mix_film_of(mix, false);
    struct hides h = {.film_um = film.coat_um, .thin = HIDING_THIN_PLACES, .scale = mix->scale};
    h.coats = mix_film_coats(mix, false, &below, most, &w);
    h.contrast = hiding_after(&film, h.coats <= most ? h.coats : most, &below, &w).contrast;
    return h;
}
