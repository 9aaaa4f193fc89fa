/* Shapes of furniture parts: exact areas, face by face, from a few lengths.
 *
 * A shape is one row of shape_board.c or shape_stick.c: names of its sizes and functions that
 * compute from them. A new shape is a new row. A body that no face letter names (a turned leg, a
 * slat) counts always; the faces f(ront) k (back) l(eft) r(ight) t(op) b(ottom) count when they are
 * named. */
#ifndef CORE_WORK_SHAPE_H
#define CORE_WORK_SHAPE_H

#include "core/base/status.h"
#include "core/work/job.h"

#include <stdbool.h>

enum shape_face { FACE_FRONT, FACE_BACK, FACE_LEFT, FACE_RIGHT, FACE_TOP, FACE_BOTTOM, FACES };

/* What a hand meets there; decides the tool. */
enum shape_form {
    FORM_UNSAID,
    FORM_FLAT,   /* broad and flat or evenly curved: a roller runs on it */
    FORM_PANEL,  /* flat with recesses */
    FORM_NARROW, /* edges, rails, square legs */
    FORM_TURNED, /* turned, carved, molded */
    FORM_OPEN    /* slats, louvers, lattice: gaps to reach into */
};

struct shape_area_mm2 {
    double body;        /* counted always */
    double face[FACES]; /* counted when named */
};

struct shape_kind {
    const char *id, *name;
    const char *sizes[PART_SIZES]; /* names in the order of a part's sizes; NULL past the last */
    int needed;                    /* the first so many must be given; the others default to 0 */
    enum shape_form form;
    const char *faces; /* usual ones; "" when there are none to choose */
    struct shape_area_mm2 (*area)(const double *mm);
    const char *(*wrong)(
        const double *mm); /* sentence when sizes contradict, else NULL; may be 0 */
    int lies[2];           /* rows of sizes that span it as it lies; the same twice: round */
};

/* The shapes one after another; NULL behind the last. */
const struct shape_kind *shape_kind_at(size_t i);
/* Borrowed, or NULL when there is no such shape. */
const struct shape_kind *shape_kind_of(const char *id);

/* Area of one body: what is always there and the named faces.
 *
 *   kind       a shape
 *   size_mm    [PART_SIZES] in the row's order; 0 <= size <= 20 000; NAN: not given
 *   faces      letters of "fklrtb", each at most once; NULL: the shape's usual ones
 *   out_m2     exact to rounding; untouched on failure
 *   why        /sizes/NAME or /faces, or NULL if nobody asks
 *
 * Errors: E_MISSING (a needed size), E_DOMAIN (out of range, or sizes that contradict), E_SYNTAX
 * (faces). Cost: O(1), no allocation. */
enum status shape_area(const struct shape_kind *kind, const double *size_mm, const char *faces,
                       double *out_m2, struct why *why);

/* Floor that one takes when it lies on its largest face. Sizes as checked by shape_area. */
double shape_floor_m2(const struct shape_kind *kind, const double *size_mm);

/* Length of the outline of that face: what is taped when this part is masked. */
double shape_outline_mm(const struct shape_kind *kind, const double *size_mm);

/* ---- geometry that has uses of its own ---- */

/* Side of a body of revolution given by diameters at places along its axis, straight between them
 * (frusta; two equal places make a step, whose ring is counted). at_mm nondecreasing, n >= 2. */
double shape_turned_mm2(const double *at_mm, const double *diameter_mm, size_t n);
/* Half-round bead of that width around a shaft, its own surface only. */
double shape_bead_mm2(double shaft_mm, double width_mm);
/* Arc over a chord rising by `rise` in the middle; 0 <= rise. */
double shape_arc_mm(double chord_mm, double rise_mm);
/* Area between that arc and its chord. */
double shape_segment_mm2(double chord_mm, double rise_mm);
/* Perimeter of an ellipse with these full axes, by the arithmetic-geometric mean. */
double shape_ellipse_mm(double width_mm, double height_mm);

#endif
