#include "app/color_looks.h"

#include "codec/color_text.h"
#include "core/color/color.h"
#include "core/color/surface.h"

#include <math.h>

const char *color_swatch(struct arena *a, struct lab d50) {
    char hex[8];
    color_print_hex(d50, hex);
    return arena_text(a, hex);
}

struct lab color_lab(const struct color_said *c) {
    return (struct lab){c->lab[0], c->lab[1], c->lab[2]};
}

/* Seen under another light on a screen that a daylight-adapted eye looks at: the color is brought
 * over by adaptation of the whites. */
static const char *seen_under(const struct weights *w, const struct spectrum *r, struct arena *a) {
    struct xyz there = xyz_of_spectrum(w, r);
    return color_swatch(a, lab_of_xyz(xyz_adapt(there, w->white, XYZ_D50), XYZ_D50));
}

static double apart(const struct weights *w, const struct spectrum *r,
                    const struct spectrum *target) {
    if (!target) return NAN;
    return ciede2000(lab_of_xyz(xyz_of_spectrum(w, r), w->white),
                     lab_of_xyz(xyz_of_spectrum(w, target), w->white));
}

bool looks_fill(const struct palette *p, const struct spectrum *mix, const struct spectrum *target,
                struct arena *a, struct light_look **out, size_t *out_n) {
    static const char *const names[LIGHT_LOOKS] = {"d65", "a", "led"};
    const struct weights *const w[LIGHT_LOOKS] = {&p->d65, &p->a, &p->led};
    struct spectrum flat = surface_seen(mix, SURFACE_GLOSS_SATIN, SURFACE_GLOSS_FLAT);
    struct light_look *rows = arena_array(a, LIGHT_LOOKS, sizeof *rows);
    if (!rows) return false;
    for (size_t i = 0; i < LIGHT_LOOKS; i++) {
        rows[i] =
            (struct light_look){names[i], seen_under(w[i], mix, a), seen_under(w[i], &flat, a),
                                apart(w[i], mix, target), apart(w[i], &flat, target)};
        if (!rows[i].hex || !rows[i].hex_flat) return false;
    }
    *out = rows;
    *out_n = LIGHT_LOOKS;
    return true;
}

static const struct field look_fields[] = {
    F_TEXT(struct light_look, light, "d65, a (evening lamp), led"),
    F_TEXT(struct light_look, hex, "on a screen, #rrggbb; the surface satin"),
    F_TEXT(struct light_look, hex_flat, "the same paint drying flat"),
    F_NUM(struct light_look, difference, 0, 0, "CIEDE2000 to the target under that light"),
    F_NUM(struct light_look, difference_flat, 0, 0, "the same on a flat surface"),
};
DESC(desc_look, struct light_look, "light_look", "A color under one light.", look_fields);
