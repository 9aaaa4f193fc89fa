/* The shelf's paints as pigments: what can be mixed, and what is known of each. */
#ifndef CORE_WORK_PALETTE_H
#define CORE_WORK_PALETTE_H

#include "core/base/arena.h"
#include "core/color/pigment.h"
#include "core/work/job.h"
#include "tables.h"

/* How well a paint's color is known. */
enum palette_knowledge {
    KNOWN_BY_COLOR,    /* one color of the dried paint */
    KNOWN_BY_SPECTRUM, /* measured reflectance */
    KNOWN_BY_RECIPE    /* a leftover: the sum of its paints */
};

struct palette_paint {
    const struct paint *paint; /* on the shelf */
    size_t shelf_row;
    struct pigment pigment;
    struct lab lab; /* of the paint alone, Lab D50 2 degree */
    enum palette_knowledge knowledge;
    bool impossible; /* no paint can have the color that was said; the nearest is used */
};

struct palette {
    struct palette_paint *paints; /* in the shelf's order */
    size_t n;
    struct weights d50, d65, a, led; /* 2 degree observer */
};

/* Paints of one class whose color is known.
 *
 *   class   row of data/product_classes.tsv; NULL: every paint whose role is color
 *
 * The palette and all in it are the arena's; paints are borrowed from the shelf.
 * Errors: E_DOMAIN (a spectrum that cannot be used; field "/shelf/paints/N/spectrum..."),
 * E_MEMORY. An empty palette is no error. */
enum status palette_make(const struct tables *t, const struct shelf *shelf, const char *class,
                         struct arena *arena, struct palette *out, struct why *why);

/* Row of a paint by its id; -1: not in the palette. */
int palette_find(const struct palette *p, const char *id);

#endif
