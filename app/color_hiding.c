#include "app/color_hiding.h"

#include "core/color/color.h"
#include "core/color/hiding.h"
#include "core/work/fact.h"
#include "core/work/palette.h"

#include <string.h>

/* Aged varnish on walnut; common practice where nobody said what is under it. */
static const struct lab OLD_FINISH = {32, 12, 18};
#define USUAL_UM 38 /* dry film of a brushed coat */

static double film_um(const struct tables *t, const char *class) {
    const struct product_classes_row *row = product_class_of(t, class);
    return row ? row->film_um : USUAL_UM;
}

/* A paint's color does not tell how much of it is scattering pigment: many bright yellows, oranges
 * and reds hide half as well as the model takes from their lightness. Common practice. */
#define WEAK 0.5

static const char *coats_word(int64_t n) {
    return n == 1 ? "coat" : "coats";
}

static const char *text_of(const struct hiding_answer *r, struct arena *a) {
    const char *ground = r->ground_assumed ? "a brown old finish (assumed)" : "this ground";
    if (!r->hidden)
        return arena_print(a,
                           "%d coats do not hide %s: prime it near the color, or make the mix "
                           "stronger in white, gray or earth colors, which hide best.",
                           HIDING_COATS, ground);
    const char *weak =
        r->coats_if_weak == r->coats ? "."
        : r->coats_if_weak > HIDING_COATS
            ? arena_print(a, "; more than %d if it hides only half as well.", HIDING_COATS)
            : arena_print(a, "; %lld if it hides only half as well.", (long long)r->coats_if_weak);
    if (!weak) return NULL;
    return arena_print(a, "%lld %s %s %s where the film is thinnest%s", (long long)r->coats,
                       coats_word(r->coats), r->coats == 1 ? "hides" : "hide", ground, weak);
}

static const char *how_of(const struct hiding_answer *r, struct arena *a) {
    return arena_print(
        a,
        "Reckoned for %.0f %% of a dry coat of %.1f mil, its thin places, until it is "
        "within %.0f %% of the brightness of a layer that hides all (contrast ratio, ISO "
        "6504-3). How well a paint hides is taken from its lightness and your samples; "
        "many bright yellows, oranges and reds hide half as well. To be sure, paint "
        "one coat on a card that is half black and half white.",
        100 * HIDING_THIN_PLACES, r->coat_um / 25.4, 100 * (1 - HIDING_CONTRAST));
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
    if (!volume || !all || !r.rows) return why_no_memory(why);
    if ((s = color_volumes(&p, items, items_n, volume, arena, why))) return s;
    const char *class = NULL;
    for (size_t i = 0; i < p.n; i++) {
        all[i] = p.paints[i].pigment;
        if (volume[i] > most) most = volume[i], class = p.paints[i].paint->class;
    }
    struct pigment mix = pigment_mix(all, volume, p.n);
    struct lab under = ground && ground->text ? color_lab(ground) : OLD_FINISH;
    struct spectrum below = upsample_color(&p.d50, under).spectrum,
                    opaque = pigment_reflectance(&mix);
    struct hiding_film film = {&mix, HIDING_WHITE_SCATTER_PER_UM, film_um(t, class)};
    struct hiding_film weak = film;
    struct lab want = lab_of_xyz(xyz_of_spectrum(&p.d50, &opaque), p.d50.white);
    weak.white_scatter_per_um *= WEAK;
    r.ground_assumed = !(ground && ground->text);
    r.ground_hex = color_swatch(arena, under);
    r.coat_um = film.coat_um;
    r.coats = hiding_coats(&film, &below, HIDING_COATS, &p.d50);
    r.coats_if_weak = hiding_coats(&weak, &below, HIDING_COATS, &p.d50);
    r.hidden = r.coats <= HIDING_COATS;
    for (int c = 1; c <= (r.coats <= 3 ? 3 : HIDING_COATS); c++) {
        struct hiding_seen seen = hiding_after(&film, c, &below, &p.d50);
        struct lab lab = lab_of_xyz(seen.xyz, p.d50.white);
        r.rows[r.rows_n++] =
            (struct hiding_row){c, color_swatch(arena, lab), ciede2000(want, lab), seen.contrast};
    }
    r.text = text_of(&r, arena);
    r.how = how_of(&r, arena);
    if (!r.text || !r.how || !r.ground_hex) return why_no_memory(why);
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
    F_INT(struct hiding_answer, coats_if_weak, 0, 0,
          "where the mix hides half as well as its color tells; 6: more than 5"),
    F_TEXT(struct hiding_answer, text, "in a sentence"),
    F_TEXT(struct hiding_answer, how, "what it was reckoned from, and how to be sure"),
    F_LIST(struct hiding_answer, rows, &desc_row, HIDING_COATS, "coat after coat"),
};
DESC(desc_hiding, struct hiding_answer, "hiding", "How many coats hide the ground.", hiding_fields);
