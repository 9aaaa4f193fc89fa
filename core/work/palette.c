#include "core/work/palette.h"

#include "core/color/color.h"

#include <math.h>
#include <string.h>

static bool is_color_class(const struct tables *t, const char *class) {
    for (size_t i = 0; class && i < t->product_classes_n; i++)
        if (!strcmp(t->product_classes[i].id, class))
            return !strcmp(t->product_classes[i].role, "color");
    return false;
}

static bool belongs(const struct tables *t, const struct paint *p, const char *class) {
    bool known = p->color.text || p->spectrum.values_n || p->leftover_of_n;
    if (!known || !p->class) return false;
    return class ? !strcmp(p->class, class) : is_color_class(t, p->class);
}

static enum status by_spectrum(const struct paint *p, const struct weights *d50, const char *at,
                               struct palette_paint *out, struct why *why) {
    struct spectrum r;
    enum status s = spectrum_resample(p->spectrum.first_nm, p->spectrum.step_nm, p->spectrum.values,
                                      p->spectrum.values_n, &r, why);
    if (s) {
        why_under(why, "/spectrum");
        why_under(why, at);
        return s;
    }
    out->lab = lab_of_xyz(xyz_of_spectrum(d50, &r), d50->white);
    out->pigment = pigment_of_spectrum(&r, pigment_strength_of_lightness(out->lab.l));
    out->knowledge = KNOWN_BY_SPECTRUM;
    return OK;
}

static void by_color(const struct paint *p, const struct weights *d50, struct palette_paint *out) {
    struct upsampled u;
    struct lab said = {p->color.lab[0], p->color.lab[1], p->color.lab[2]};
    out->pigment = pigment_of_color(d50, said, &u);
    out->lab = u.color;
    out->impossible = !u.reached;
    out->knowledge = KNOWN_BY_COLOR;
}

/* A leftover whose paints are all in the palette is their sum; what it was seen to be is a sample
 * like any other and is learned from there. */
static bool by_recipe(const struct palette *so_far, const struct paint *p, struct arena *arena,
                      struct palette_paint *out) {
    double *volume = arena_array(arena, so_far->n + 1, sizeof *volume);
    struct pigment *pigments = arena_array(arena, so_far->n + 1, sizeof *pigments);
    if (!volume || !pigments || !p->leftover_of_n) return false;
    for (size_t i = 0; i < so_far->n; i++) pigments[i] = so_far->paints[i].pigment;
    for (size_t i = 0; i < p->leftover_of_n; i++) {
        int row = palette_find(so_far, p->leftover_of[i].paint);
        if (row < 0) return false;
        volume[row] += p->leftover_of[i].parts;
    }
    out->pigment = pigment_mix(pigments, volume, so_far->n);
    struct spectrum r = pigment_reflectance(&out->pigment, NULL);
    out->lab = lab_of_xyz(xyz_of_spectrum(&so_far->d50, &r), so_far->d50.white);
    out->knowledge = KNOWN_BY_RECIPE;
    return true;
}

static void weights_fill(const struct tables *t, struct palette *p) {
    p->d50 = weights_make(t, OBSERVER_2, LIGHT_D50);
    p->d65 = weights_make(t, OBSERVER_2, LIGHT_D65);
    p->a = weights_make(t, OBSERVER_2, LIGHT_A);
    p->led = weights_make(t, OBSERVER_2, LIGHT_LED_B3);
}

enum status palette_make(const struct tables *t, const struct shelf *shelf, const char *class,
                         struct arena *arena, struct palette *out, struct why *why) {
    struct palette p = {.paints = arena_array(arena, shelf->paints_n + 1, sizeof *p.paints)};
    if (!p.paints) return why_say(why, E_MEMORY, "", "%s", status_text(E_MEMORY));
    weights_fill(t, &p);
    for (size_t i = 0; i < shelf->paints_n; i++) {
        const struct paint *paint = &shelf->paints[i];
        if (!belongs(t, paint, class)) continue;
        struct palette_paint *q = &p.paints[p.n];
        *q = (struct palette_paint){.paint = paint, .shelf_row = i};
        if (paint->spectrum.values_n) {
            const char *at = arena_print(arena, "/shelf/paints/%zu", i);
            enum status s = at ? by_spectrum(paint, &p.d50, at, q, why) : E_MEMORY;
            if (s) return s;
        } else if (!by_recipe(&p, paint, arena, q)) {
            if (!paint->color.text) continue; /* a leftover of paints that are not here */
            by_color(paint, &p.d50, q);
        }
        p.n++;
    }
    *out = p;
    return OK;
}

int palette_find(const struct palette *p, const char *id) {
    for (size_t i = 0; i < p->n; i++)
        if (!strcmp(p->paints[i].paint->id, id)) return (int)i;
    return -1;
}
