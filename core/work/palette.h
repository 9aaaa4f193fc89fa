/* The shelf's paints as pigments: what can be mixed, and what is known of each. */
#ifndef CORE_WORK_PALETTE_H
#define CORE_WORK_PALETTE_H

#include "core/base/arena.h"
#include "core/color/pigment.h"
#include "core/color/sample.h"
#include "core/work/job.h"
#include "tables.h"

/* Reading error of one pour against a mark, standard deviation in parts (common practice: a
 * twentieth). */
#define PALETTE_POUR_SD_PARTS 0.05

/* How far a reading may be off, per axis (CIEDE2000), by how it was read; unsaid counts as a photo.
 * Common practice; the photo's is what bench/photo measures with a few chips in the picture. */
double palette_reading_sd(enum reading read);

/* How well a paint's color is known. */
enum palette_knowledge {
    KNOWN_BY_COLOR,    /* one color of the dried paint */
    KNOWN_BY_SPECTRUM, /* measured reflectance */
    KNOWN_BY_RECIPE    /* a leftover: the sum of its paints */
};

struct palette_paint {
    const struct paint *paint; /* on the shelf */
    size_t shelf_row;
    struct pigment pigment; /* as the samples have it */
    struct lab lab;         /* of the paint alone, Lab D50 2 degree */
    enum palette_knowledge knowledge;
    int binder; /* paints of one family of products, of one part or of two; others do not mix with
                   it */
    bool impossible; /* no paint can have the color that was said; the nearest is used */
    struct sample_mix
        made_of; /* over the model's paints: itself, or what a leftover was mixed of */
    int can_of;  /* row of the paint that this is another can of; -1: none */
};

struct palette {
    const struct tables *t;
    const struct shelf *shelf; /* that it was made of; class: as asked for, or NULL */
    const char *class;
    struct palette_paint *paints; /* in the shelf's order; behind them those that are gone */
    size_t n, gone_n;
    size_t left_out; /* more than SAMPLE_PAINTS_MAX: not looked at, used-up leftovers first */
    struct weights d50, d65, a, led;  /* 2 degree observer */
    const struct sample_model *model; /* over the paints that are no leftovers */
    size_t *model_paint;              /* [model_n] row of paints[]; n and more: gone */
    size_t model_n;
    size_t *sample;           /* [samples_n] row of the shelf's samples that were used */
    struct lab *sample_color; /* [samples_n] as they were learnt from: a wet one as it should dry */
    size_t samples_n;
    uint64_t
        key; /* stands for all that palette_variance depends on (recipe_problem.variance_key) */
};

/* The palettes of one shelf, made once each; several pieces get the same kind of paint. */
enum { PALETTES_MAX = 8 };
struct palettes {
    struct {
        const char *class;
        struct palette palette;
    } rows[PALETTES_MAX];
    size_t n;
};

/* Paints of one class whose color is known, and what the shelf's samples teach about them. Samples
 * that hold a paint from elsewhere and those without a color are left out. One that was read wet
 * enters as what it should dry to, by the shop's own pairs and with their doubt added, once there
 * are enough (core/work/wet_pairs.h).
 *
 *   class   row of data/product_classes.tsv; NULL: every paint whose role is color
 *
 * The palette and all in it are the arena's; paints are borrowed from the shelf.
 * Errors: E_DOMAIN (a spectrum that cannot be used; field "/shelf/paints/N/spectrum..."),
 * E_MEMORY. An empty palette is no error. */
enum status palette_make(const struct tables *t, const struct shelf *shelf, const char *class,
                         struct arena *arena, struct palette *out, struct why *why);

/* Is a paint of that class, and its color known? */
bool palette_takes(const struct tables *t, const struct paint *p, const char *class);

/* How many paints such a palette is made of. Cost: O(paints). */
size_t palette_paints(const struct tables *t, const struct shelf *shelf, const char *class);

/* Is one of them a product that says how long it can be used once mixed? */
bool palette_spoils(const struct tables *t, const struct shelf *shelf, const char *class);

/* The palette of a class out of those made before, or made now. *out is borrowed from *made, or
 * from the arena. Errors: as palette_make. */
enum status palettes_get(struct palettes *made, const struct tables *t, const struct shelf *shelf,
                         const char *class, struct arena *arena, const struct palette **out,
                         struct why *why);

/* The rows of two paints of the mix that do not go together, volumes over the palette [n]; false:
 * all do. */
bool palette_apart(const struct palette *p, const double *volume, size_t *out_one,
                   size_t *out_other);

/* Row of a paint by its id; -1: not in the palette. */
int palette_find(const struct palette *p, const char *id);

/* The same for a paint that somebody named; else says what keeps it out of the palette: it is on no
 * shelf, no color (a primer), of another class, or its color is not known.
 *
 *   at   where it was named, or NULL after a lack of memory
 *
 * Errors: E_REFERENCE, E_MEMORY. */
enum status palette_need(const struct palette *p, const char *id, const char *at, int *out_row,
                         struct why *why);

/* What a sample is of, as the model counts it, paints that are gone included; false: one of them is
 * unknown, or it is of too many. */
bool palette_sample_mix(const struct palette *p, const struct sample *s, struct sample_mix *out);

/* Does another can of the same paint stand for this one in a recipe of need_ml (0: parts alone
 * count)? The first on the shelf that holds so much does, so that cans of one paint do not crowd a
 * list of recipes. Where none holds so much all of them may be poured. */
bool palette_can_spare(const struct palette *p, size_t row, double need_ml);

/* How far another can is expected to dry from the paint that it is a can of, by itself; NAN: it is
 * none. */
double palette_lots_apart(const struct palette *p, size_t row);

/* A mix of the palette's paints as the model counts it; false when it holds more than
 * SAMPLE_ITEMS_MAX of them. volume [n] over the palette. */
bool palette_mix(const struct palette *p, const double *volume, struct sample_mix *out);

/* Variance of a mix for the recipe search (recipe_variance in core/recipe/recipe.h); ctx is the
 * palette, parts [n] over it. */
double palette_variance(void *ctx, const int *parts, size_t n);

#endif
