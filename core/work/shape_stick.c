/* Legs, turned work, moldings and open work. Sizes in the order of their rows in shape.c. */
#include "core/work/shape_kinds.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

enum { A, B, C, D, E, F };

static double disc(double diameter) {
    return PI / 4 * diameter * diameter;
}

struct shape_area_mm2 shape_square_leg(const double *mm) {
    double end = mm[A] * mm[B];
    return (struct shape_area_mm2){.body = 2 * (mm[A] + mm[B]) * mm[C],
                                   .face = {[FACE_TOP] = end, [FACE_BOTTOM] = end}};
}

/* Straight for `straight`, then tapered on all four faces: side of a square frustum. */
struct shape_area_mm2 shape_taper_leg(const double *mm) {
    double top = mm[A], foot = mm[B], slope = mm[C] - mm[D];
    double side = (top + foot) / 2 * hypot(slope, (top - foot) / 2);
    return (struct shape_area_mm2){.body = 4 * (top * mm[D] + side),
                                   .face = {[FACE_TOP] = top * top, [FACE_BOTTOM] = foot * foot}};
}

/* The same with the two outer faces straight: the inner two lean by the whole difference. */
struct shape_area_mm2 shape_taper_inside(const double *mm) {
    double top = mm[A], foot = mm[B], slope = mm[C] - mm[D], mean = (top + foot) / 2;
    double outer = mean * slope, inner = mean * hypot(slope, top - foot);
    return (struct shape_area_mm2){.body = 4 * top * mm[D] + 2 * (outer + inner),
                                   .face = {[FACE_TOP] = top * top, [FACE_BOTTOM] = foot * foot}};
}

const char *shape_taper_wrong(const double *mm) {
    return mm[D] > mm[C] ? "The straight part is longer than the leg." : NULL;
}

/* Two frusta, top to middle and middle to foot; beads sit on the middle and take their width off
 * the length. */
struct shape_area_mm2 shape_turned_leg(const double *mm) {
    double beads = mm[E], width = mm[F], shaft = mm[D] - beads * width;
    double at[] = {0, shaft / 2, shaft}, diameter[] = {mm[A], mm[B], mm[C]};
    return (struct shape_area_mm2){.body = shape_turned_mm2(at, diameter, 3) +
                                           beads * shape_bead_mm2(mm[B], width),
                                   .face = {[FACE_TOP] = disc(mm[A]), [FACE_BOTTOM] = disc(mm[C])}};
}

const char *shape_turned_wrong(const double *mm) {
    if (mm[E] != floor(mm[E])) return "The number of beads must be whole.";
    return mm[E] * mm[F] > mm[D] ? "The beads together are longer than the leg." : NULL;
}

struct shape_area_mm2 shape_spindle(const double *mm) {
    double at[] = {0, mm[C] / 2, mm[C]}, diameter[] = {mm[A], mm[B], mm[A]};
    return (struct shape_area_mm2){.body = shape_turned_mm2(at, diameter, 3)};
}

struct shape_area_mm2 shape_cylinder(const double *mm) {
    return (struct shape_area_mm2){.body = PI * mm[A] * mm[B],
                                   .face = {[FACE_TOP] = disc(mm[A]), [FACE_BOTTOM] = disc(mm[A])}};
}

struct shape_area_mm2 shape_cone(const double *mm) {
    double at[] = {0, mm[C]}, diameter[] = {mm[A], mm[B]};
    return (struct shape_area_mm2){.body = shape_turned_mm2(at, diameter, 2),
                                   .face = {[FACE_TOP] = disc(mm[A]), [FACE_BOTTOM] = disc(mm[B])}};
}

/* Ball cut off flat above and below: a spherical zone, whatever the place of the cuts. */
struct shape_area_mm2 shape_ball_foot(const double *mm) {
    double cut = sqrt(fmax(0, mm[A] * mm[A] - mm[B] * mm[B]));
    return (struct shape_area_mm2){.body = PI * mm[A] * mm[B],
                                   .face = {[FACE_TOP] = disc(cut), [FACE_BOTTOM] = disc(cut)}};
}

const char *shape_ball_wrong(const double *mm) {
    return mm[B] > mm[A] ? "A ball foot is not higher than its diameter." : NULL;
}

/* Ball on a neck: the sphere without the cap that the neck covers, and the neck. */
struct shape_area_mm2 shape_knob(const double *mm) {
    double r = mm[A] / 2, neck = mm[B] / 2, cap = r - sqrt(fmax(0, r * r - neck * neck));
    return (struct shape_area_mm2){.body = 2 * PI * r * (2 * r - cap) + PI * mm[B] * mm[C]};
}

const char *shape_knob_wrong(const double *mm) {
    return mm[B] > mm[A] ? "The neck is thicker than the knob." : NULL;
}

/* Curved leg known by a string laid around knee and ankle and along the curve. */
struct shape_area_mm2 shape_cabriole(const double *mm) {
    return (struct shape_area_mm2){.body = mm[A] * (mm[B] + mm[C]) / 2};
}

struct shape_area_mm2 shape_molding(const double *mm) {
    return (struct shape_area_mm2){.body = mm[A] * mm[B]};
}

struct shape_area_mm2 shape_slat(const double *mm) {
    double end = mm[B] * mm[C];
    return (struct shape_area_mm2){.body = 2 * (mm[B] + mm[C]) * mm[A],
                                   .face = {[FACE_LEFT] = end, [FACE_RIGHT] = end}};
}

/* Frame on both sides with its outer edges and inner walls, and all blades around; a blade every
 * `pitch` of the opening. */
struct shape_area_mm2 shape_louvers(const double *mm) {
    double width = mm[A], height = mm[B], thick = mm[C], frame = mm[D], pitch = mm[E],
           girth = mm[F];
    double across = width - 2 * frame, up = height - 2 * frame;
    double sides = 2 * (width * height - across * up);
    double edges = 2 * thick * (width + height + across + up);
    return (struct shape_area_mm2){.body = sides + edges + floor(up / pitch) * girth * across};
}

const char *shape_louvers_wrong(const double *mm) {
    if (mm[E] <= 0) return "The distance from blade to blade must be more than nothing.";
    return 2 * mm[D] > fmin(mm[A], mm[B]) ? "The frame is wider than half the door." : NULL;
}

/* Strips both ways laid over each other, one every `spacing`; where they touch no paint goes. */
struct shape_area_mm2 shape_lattice(const double *mm) {
    double width = mm[A], height = mm[B], strip = mm[C], thick = mm[D], spacing = mm[E];
    double upright = floor(width / spacing), across = floor(height / spacing);
    double around = 2 * (strip + thick) * (upright * height + across * width);
    return (struct shape_area_mm2){.body = around - 2 * upright * across * strip * strip};
}

const char *shape_lattice_wrong(const double *mm) {
    return mm[E] <= mm[C] ? "The strips stand closer than they are wide." : NULL;
}
