/* Which one paint would bring a shelf nearest to a color.
 *
 * Paints are tried that a maker could have: for each of the ten Munsell hues a deep, a middling and
 * a light one, 60 % as colorful as the most colorful chip of that hue and value (at most chroma
 * 14: about what strong pigments reach, common practice), a white, a black and a middle gray. Each
 * is the smoothest reflectance of its color, with the strength that goes with its lightness. Each
 * is put on the shelf in turn and the best recipe with it searched for, so the gain is that of a
 * real mix and not of the hue alone.
 *
 * Source: RENOTATION1943 for hues and chips; own method. */
#ifndef CORE_RECIPE_EXTEND_H
#define CORE_RECIPE_EXTEND_H

#include "core/base/arena.h"
#include "core/base/limit.h"
#include "core/color/munsell.h"
#include "core/color/pigment.h"

enum { EXTEND_HUES = 10, EXTEND_DEPTHS = 3, EXTEND_GRAYS = 3 };
enum { EXTEND_TRIED = EXTEND_HUES * EXTEND_DEPTHS + EXTEND_GRAYS };

struct extend_ask {
    const struct pigment *paints; /* [n] on the shelf, 0..RECIPE_SHELF_MAX - 1 */
    size_t n;
    struct lab target;               /* Lab D50, 2 degree */
    const struct weights *d50, *d65; /* 2 degree */
    const struct munsell_book *book;
    int items_max, parts; /* of a recipe, as in recipe_problem */
};

struct extend_paint {
    struct lab color;    /* Lab D50 of the paint */
    struct munsell chip; /* the same; chroma 0: white, black, gray */
    double after;        /* difference of the best recipe with it */
};

struct extend {
    double before; /* difference of the shelf's own best; INFINITY without a paint */
    struct extend_paint best;
};

/* Errors: E_MEMORY; of recipe_search. limit: of all searches together. Cost: EXTEND_TRIED searches
 * of recipes that hold the new paint, some milliseconds each. */
enum status extend_find(const struct extend_ask *ask, const struct limit *limit,
                        struct arena *arena, struct extend *out, struct why *why);

#endif
