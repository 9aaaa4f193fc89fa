#include "app/color_hiding.h"

#include "core/color/color.h"
#include "core/color/hiding.h"
#include "core/work/palette.h"

#include <math.h>
#include <string.h>

/* Aged varnish on walnut; common practice where nobody said what is under it. */
static const struct lab OLD_FINISH = {32, 12, 18};
#define USUAL_UM 38 /* dry film of a brushed coat */

static double film_um(const struct tables *t, const char *class) {
    for (size_t i = 0; class && i < t->product_classes_n; i++)
        if (!strcmp(t->product_classes[i].id, class)) return t->product_classes[i].film_um;
    return USUAL_UM;
}

static const char *text_of(const struct hiding_answer *r, struct arena *a) {
    const char *ground = r->ground_assumed ? "a brown old finish (assumed)" : "this ground";
    if (!r->hidden)
        return arena_print(a,
                           "%d coats do not hide %s: prime it near the color, or make the mix "
                           "stronger in white, gray or earth colors, which hide best.",
                           HIDING_COATS, ground);
    return arena_print(a, "%lld %s %s %s where the film is thinnest; a coat is %.1f mil dry.",
                       (long long)r->coats, r->coats == 1 ? "coat" : "coats",
                       r->coats == 1 ? "hides" : "hide", ground, r->coat_um / 25.4);
}

enum status color_hiding(const struct tables *t, const struct shelf *shelf,
                         const struct mix_item *items, size_t items_n,
                         const struct color_said *ground, struct arena *arena,
                         struct hiding_answer *out, struct why *why) {
    struct palette p;
    enum status s = palette_make(t, shelf, NULL, arena, &p, why);
    if (s) return s;
    double *volume = arena_array(arena, p.n + 1, sizeof *volume), most = 0;
    struct pigment *all = arena_array(arena, p.n + 1, sizeof *all);
    struct hiding_answer r = {.rows = arena_array(arena, HIDING_COATS, sizeof *r.rows)};
    if (!volume || !all || !r.rows) return why_say(why, E_MEMORY, "", "%s", status_text(E_MEMORY));
    if ((s = color_volumes(&p, items, items_n, volume, arena, why))) return s;
    const char *class = NULL;
    for (size_t i = 0; i < p.n; i++) {
        all[i] = p.paints[i].pigment;
        if (volume[i] > most) most = volume[i], class = p.paints[i].paint->class;
    }
    struct pigment mix = pigment_mix(all, volume, p.n);
    struct lab under = ground && ground->text ? color_lab(ground) : OLD_FINISH;
    struct spectrum below = upsample_color(&p.d50, under).spectrum,
                    opaque = pigment_reflectance(&mix, NULL);
    struct hiding_film film = {&mix, HIDING_WHITE_SCATTER_PER_UM, film_um(t, class)};
    struct lab want = lab_of_xyz(xyz_of_spectrum(&p.d50, &opaque), p.d50.white);
    r.ground_assumed = !(ground && ground->text);
    r.ground_hex = color_swatch(arena, under);
    r.coat_um = film.coat_um;
    double full = xyz_of_spectrum(&p.d50, &opaque).y;
    for (int c = 1; c <= HIDING_COATS && !(r.hidden && c > 3); c++) {
        struct spectrum seen = hiding_over(&film, c * film.coat_um * HIDING_THIN_PLACES, &below);
        struct xyz now = xyz_of_spectrum(&p.d50, &seen);
        double contrast = fmin(now.y, full) / fmax(now.y, full);
        struct lab lab = lab_of_xyz(now, p.d50.white);
        r.rows[r.rows_n++] =
            (struct hiding_row){c, color_swatch(arena, lab), ciede2000(want, lab), contrast};
        if (r.hidden || contrast < HIDING_CONTRAST) continue;
        r.hidden = true;
        r.coats = c;
    }
    if (!r.hidden) r.coats = HIDING_COATS + 1;
    r.text = text_of(&r, arena);
    if (!r.text || !r.ground_hex) return why_say(why, E_MEMORY, "", "%s", status_text(E_MEMORY));
    *out = r;
    return OK;
}

static const struct field row_fields[] = {
    F_INT(struct hiding_row, coats, 0, 0, "so many coats"),
    F_TEXT(struct hiding_row, hex, "what is seen over the ground, #rrggbb"),
    F_NUM(struct hiding_row, difference, 0, 0, "CIEDE2000 from the opaque layer"),
    F_NUM(struct hiding_row, contrast, 0, 0,
          "of luminance to the opaque layer, 0..1; 0.98 hides (ISO 6504-3)"),
};
static DESC(desc_row, struct hiding_row, "hiding_row", "A mix over a ground.", row_fields);
static const struct field hiding_fields[] = {
    F_TEXT(struct hiding_answer, ground_hex, "the ground, #rrggbb"),
    F_BOOL(struct hiding_answer, ground_assumed, "none was said: a brown old finish"),
    F_INT(struct hiding_answer, coats, 0, 0, "coats that hide the ground"),
    F_BOOL(struct hiding_answer, hidden, "false: not within the coats that were tried"),
    F_QTY(struct hiding_answer, coat, coat_um, DIM_FILM, 0, 0, "dry film of one coat"),
    F_TEXT(struct hiding_answer, text, "in a sentence"),
    F_LIST(struct hiding_answer, rows, &desc_row, HIDING_COATS, "coat after coat"),
};
DESC(desc_hiding, struct hiding_answer, "hiding", "How many coats hide the ground.", hiding_fields);
