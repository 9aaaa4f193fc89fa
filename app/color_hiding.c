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

/* Samples tell how strong paints are beside each other, not how much any of them scatters: a fit
 * may make all of them stronger alike, and no card contradicts. HIDING_WHITE_SCATTER_PER_UM is that
 * of the white, so the palest of the paints that go together is what its lightness tells. */
static double white_scatter(const struct palette *p, size_t with) {
    size_t palest = with;
    double s = 0;
    for (size_t i = 0; i < p->n; i++)
        if (p->paints[i].binder == p->paints[with].binder &&
            p->paints[i].knowledge != KNOWN_BY_RECIPE &&
            p->paints[i].lab.l > p->paints[palest].lab.l)
            palest = i;
    for (int b = 0; b < SPECTRUM_BANDS; b++) s += p->paints[palest].pigment.s[b] / SPECTRUM_BANDS;
    return HIDING_WHITE_SCATTER_PER_UM * pigment_strength_of_lightness(p->paints[palest].lab.l) / s;
}

/* Scattering of a mix in a film against what lightness and samples let expect: that of its paints,
 * each by its share of the mix's K and S. A jar that was tried over black and white tells its own;
 * of the others nothing is known but that they may be WEAK. */
struct scale {
    double mean, low;
    size_t tried, jars; /* of those in the mix */
};

/* Adds one paint of the model, out of its jar. */
static void scale_add(const struct tables *t, const struct palette *p, size_t model, double volume,
                      double *sum, struct scale *io) {
    const size_t row = p->model_paint[model];
    const struct paint *jar = p->paints[row].paint;
    const struct pigment *pigment = &sample_pigments(p->model)[model];
    const struct hiding_film film = {pigment, white_scatter(p, row), film_um(t, jar->class)};
    const bool tried = jar->hides_in > 0;
    const double share = volume * pigment_tinting(pigment);
    struct hiding_scale h = {1, WEAK, 1};
    if (tried) h = hiding_learn(&film, (int)jar->hides_in, &p->d50);
    io->mean += share * h.scale;
    io->low += share * h.low;
    io->tried += tried;
    io->jars++;
    *sum += share;
}

static struct scale scale_of(const struct tables *t, const struct palette *p,
                             const double *volume) {
    struct scale s = {0};
    double sum = 0;
    for (size_t i = 0; i < p->n; i++) {
        const struct sample_mix *of = &p->paints[i].made_of;
        for (size_t k = 0; k < of->n && volume[i] > 0; k++)
            scale_add(t, p, of->paint[k], volume[i] * of->volume[k], &sum, &s);
    }
    s.mean /= sum;
    s.low /= sum;
    return s;
}

static const char *coats_word(int64_t n) {
    return n == 1 ? "coat" : "coats";
}

/* What the second number of coats is of. */
static const char *if_weak(const struct scale *s) {
    if (!s->tried) return "it hides only half as well";
    return s->tried == s->jars ? "its jars hide no better than just so"
                               : "the jars that were not tried hide only half as well";
}

static const char *text_of(const struct hiding_answer *r, const struct scale *s, struct arena *a) {
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
static const char *known_by(const struct scale *s, struct arena *a) {
    if (s->tried == s->jars)
        return arena_print(a,
                           "How well it hides is from the coats that its jars took over black and "
                           "white: %.0f %% of what their lightness tells.",
                           100 * s->mean);
    return arena_print(
        a,
        "How well a paint hides is taken from its lightness and your samples%s; many bright "
        "yellows, oranges and reds hide half as well. To be sure, paint coat upon coat on a card "
        "that is half black and half white, and write down at the jar how many it took.",
        s->tried ? ", and of the jars that were tried from the coats that they took" : "");
}

static const char *how_of(const struct hiding_answer *r, const struct scale *s, struct arena *a) {
    const char *known = known_by(s, a);
    if (!known) return NULL;
    return arena_print(
        a,
        "Reckoned for %.0f %% of a dry coat of %.1f mil, its thin places, until it is "
        "within %.0f %% of the brightness of a layer that hides all (contrast "
        "ratio, ISO 6504-3). %s",
        100 * HIDING_THIN_PLACES, r->coat_um / 25.4, 100 * (1 - HIDING_CONTRAST), known);
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
    size_t main = 0;
    for (size_t i = 0; i < p.n; i++) {
        all[i] = p.paints[i].pigment;
        if (volume[i] > most) most = volume[i], main = i;
    }
    struct pigment mix = pigment_mix(all, volume, p.n);
    struct lab under = ground && ground->text ? color_lab(ground) : OLD_FINISH;
    struct spectrum below = upsample_color(&p.d50, under).spectrum,
                    opaque = pigment_reflectance(&mix);
    struct hiding_film film = {&mix, white_scatter(&p, main),
                               film_um(t, p.paints[main].paint->class)};
    const struct scale scale = scale_of(t, &p, volume);
    struct hiding_film weak = film;
    struct lab want = lab_of_xyz(xyz_of_spectrum(&p.d50, &opaque), p.d50.white);
    film.white_scatter_per_um *= scale.mean;
    weak.white_scatter_per_um *= scale.low;
    r.jars_tried = (int64_t)scale.tried;
    r.jars = (int64_t)scale.jars;
    r.ground_assumed = !(ground && ground->text);
    r.ground_hex = color_swatch(arena, under);
    r.coat_um = film.coat_um;
    r.coats = hiding_coats(&film, &below, HIDING_COATS, &p.d50);
    r.coats_if_weak = hiding_coats(&weak, &below, HIDING_COATS, &p.d50);
    /* over any ground a film lies between that over black and that over white */
    const int64_t seen_in = scale.jars == 1 ? p.paints[main].paint->hides_in : INT64_MIN;
    if (seen_in > 0 && r.coats > seen_in) r.coats = seen_in;
    if (seen_in > 0 && r.coats_if_weak > seen_in) r.coats_if_weak = seen_in;
    r.hidden = r.coats <= HIDING_COATS;
    for (int c = 1; c <= (r.coats <= 3 ? 3 : HIDING_COATS); c++) {
        struct hiding_seen seen = hiding_after(&film, c, &below, &p.d50);
        struct lab lab = lab_of_xyz(seen.xyz, p.d50.white);
        r.rows[r.rows_n++] =
            (struct hiding_row){c, color_swatch(arena, lab), ciede2000(want, lab), seen.contrast};
    }
    r.text = text_of(&r, &scale, arena);
    r.how = how_of(&r, &scale, arena);
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
