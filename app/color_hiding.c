#include "app/color_hiding.h"

#include "codec/units_text.h"
#include "core/color/color.h"
#include "core/work/mix_film.h"

#include <string.h>

/* Aged varnish on walnut; common practice where nobody said what is under it. */
static const struct lab OLD_FINISH = {32, 12, 18};

static const char *coats_word(int64_t n) {
    return n == 1 ? "coat" : "coats";
}

/* What the second number of coats is of. */
static const char *if_weak(const struct mix_film *s) {
    if (!s->tried) return "it hides only half as well";
    return s->tried == s->jars ? "its jars hide no better than just so"
                               : "the jars that were not tried hide only half as well";
}

static const char *text_of(const struct hiding_answer *r, const struct mix_film *s,
                           struct arena *a) {
    const char *ground = r->ground_assumed ? "a brown old finish (assumed)" : "this ground";
    if (!r->hidden)
        return arena_print(a,
                           "%d coats do not hide %s: prime it near the color, or make the mix "
                           "stronger in white, gray or earth colors, which hide best.",
                           HIDING_COATS, ground);
    const char *weak =
        r->coats_if_weak == r->coats ? "."
        : r->coats_if_weak > HIDING_COATS
            ? arena_print(a, "; more than %d if %s.", HIDING_COATS, if_weak(s))
            : arena_print(a, "; %lld if %s.", (long long)r->coats_if_weak, if_weak(s));
    if (!weak) return NULL;
    return arena_print(a, "%lld %s %s %s where the film is thinnest%s", (long long)r->coats,
                       coats_word(r->coats), r->coats == 1 ? "hides" : "hide", ground, weak);
}

/* Where the strength of hiding is from, and how to be surer of it. */
static const char *known_by(const struct mix_film *s, struct arena *a) {
    if (s->tried == s->jars)
        return arena_print(a,
                           "How well it hides is from the coats that its jars took over black and "
                           "white: %.0f %% of what their lightness tells.",
                           100 * s->scale);
    return arena_print(
        a,
        "How well a paint hides is taken from its lightness and your samples%s; many bright "
        "yellows, oranges and reds hide half as well. To be sure, paint coat upon coat on a card "
        "that is half black and half white, and write down at the jar how many it took.",
        s->tried ? ", and of the jars that were tried from the coats that they took" : "");
}

static const char *how_of(const struct hiding_answer *r, const struct mix_film *s,
                          enum unit_system units, struct arena *a) {
    const char *known = known_by(s, a), *coat = units_text(a, DIM_FILM, units, r->coat_um);
    if (!known || !coat) return NULL;
    return arena_print(a,
                       "Reckoned for %.0f %% of a dry coat of %s, its thin places, until it is "
                       "within %.0f %% of the brightness of a layer that hides all (contrast "
                       "ratio, ISO 6504-3). %s",
                       100 * HIDING_THIN_PLACES, coat, 100 * (1 - HIDING_CONTRAST), known);
}

enum status color_hiding(const struct tables *t, const struct shelf *shelf,
                         const struct mix_item *items, size_t items_n,
                         const struct color_said *ground, enum unit_system units,
                         struct arena *arena, struct hiding_answer *out, struct why *why) {
    struct palette p;
    enum status s = palette_make(t, shelf, NULL, arena, &p, why);
    if (s) return s;
    double *volume = arena_array(arena, p.n + 1, sizeof *volume);
    struct hiding_answer r = {.rows = arena_array(arena, HIDING_COATS, sizeof *r.rows)};
    if (!volume || !r.rows) return why_no_memory(why);
    if ((s = color_volumes(&p, items, items_n, volume, arena, why))) return s;
    struct mix_film mix;
    mix_film_make(&p, volume, &mix);
    struct lab under = ground->text ? color_lab(ground) : OLD_FINISH;
    struct spectrum below = upsample_color(&p.d50, under).spectrum,
                    opaque = pigment_reflectance(&mix.paint);
    struct hiding_film film = mix_film_of(&mix, false);
    struct lab want = lab_of_xyz(xyz_of_spectrum(&p.d50, &opaque), p.d50.white);
    r.jars_tried = (int64_t)mix.tried;
    r.jars = (int64_t)mix.jars;
    r.ground_assumed = !ground->text;
    r.ground_hex = color_swatch(arena, under);
    r.coat_um = film.coat_um;
    r.coats = mix_film_coats(&mix, false, &below, HIDING_COATS, &p.d50);
    r.coats_if_weak = mix_film_coats(&mix, true, &below, HIDING_COATS, &p.d50);
    r.hidden = r.coats <= HIDING_COATS;
    for (int c = 1; c <= (r.coats <= 3 ? 3 : HIDING_COATS); c++) {
        struct hiding_seen seen = hiding_after(&film, c, &below, &p.d50);
        struct lab lab = lab_of_xyz(seen.xyz, p.d50.white);
        r.rows[r.rows_n++] =
            (struct hiding_row){c, color_swatch(arena, lab), ciede2000(want, lab), seen.contrast};
        if (!r.rows[r.rows_n - 1].hex) return why_no_memory(why);
    }
    r.text = text_of(&r, &mix, arena);
    r.how = how_of(&r, &mix, units, arena);
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
    F_INT(
        struct hiding_answer, coats_if_weak, 0, 0,
        "where its jars hide as badly as may be: half as well as their colors tell, or just so as "
        "they were tried; 6: more than 5"),
    F_INT(struct hiding_answer, jars, 0, 0, "jars in the mix"),
    F_INT(struct hiding_answer, jars_tried, 0, 0, "of these tried over black and white"),
    F_TEXT(struct hiding_answer, text, "in a sentence"),
    F_TEXT(struct hiding_answer, how, "what it was reckoned from, and how to be sure"),
    F_LIST(struct hiding_answer, rows, &desc_row, HIDING_COATS, "coat after coat"),
};
DESC(desc_hiding, struct hiding_answer, "hiding", "How many coats hide the ground.", hiding_fields);
