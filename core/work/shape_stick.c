/* Legs, turned work, moldings and open work. Sizes in the order of the rows below. */
#include "core/work/shape_kinds.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

enum { A, B, C, D, E, F };

static double disc(double diameter) {
    return PI / 4 * diameter * diameter;
}

static struct shape_area_mm2 square_leg(const double *mm) {
    double end = mm[A] * mm[B];
    return (struct shape_area_mm2){.body = 2 * (mm[A] + mm[B]) * mm[C],
                                   .face = {[FACE_TOP] = end, [FACE_BOTTOM] = end}};
}

/* Straight for `straight`, then tapered on all four faces: side of a square frustum. */
static struct shape_area_mm2 taper_leg(const double *mm) {
    double top = mm[A], foot = mm[B], slope = mm[C] - mm[D];
    double side = (top + foot) / 2 * hypot(slope, (top - foot) / 2);
    return (struct shape_area_mm2){.body = 4 * (top * mm[D] + side),
                                   .face = {[FACE_TOP] = top * top, [FACE_BOTTOM] = foot * foot}};
}

/* The same with the two outer faces straight: the inner two lean by the whole difference. */
static struct shape_area_mm2 taper_inside(const double *mm) {
    double top = mm[A], foot = mm[B], slope = mm[C] - mm[D], mean = (top + foot) / 2;
    double outer = mean * slope, inner = mean * hypot(slope, top - foot);
    return (struct shape_area_mm2){.body = 4 * top * mm[D] + 2 * (outer + inner),
                                   .face = {[FACE_TOP] = top * top, [FACE_BOTTOM] = foot * foot}};
}

static const char *taper_wrong(const double *mm) {
    return mm[D] > mm[C] ? "The straight part is longer than the leg." : NULL;
}

/* Two frusta, top to middle and middle to foot; beads sit on the middle and take their width off
 * the length. */
static struct shape_area_mm2 turned_leg(const double *mm) {
    double beads = mm[E], width = mm[F], shaft = mm[D] - beads * width;
    double at[] = {0, shaft / 2, shaft}, diameter[] = {mm[A], mm[B], mm[C]};
    return (struct shape_area_mm2){.body = shape_turned_mm2(at, diameter, 3) +
                                           beads * shape_bead_mm2(mm[B], width),
                                   .face = {[FACE_TOP] = disc(mm[A]), [FACE_BOTTOM] = disc(mm[C])}};
}

static const char *turned_wrong(const double *mm) {
    if (mm[E] != floor(mm[E])) return "The number of beads must be whole.";
    return mm[E] * mm[F] > mm[D] ? "The beads together are longer than the leg." : NULL;
}

static struct shape_area_mm2 spindle(const double *mm) {
    double at[] = {0, mm[C] / 2, mm[C]}, diameter[] = {mm[A], mm[B], mm[A]};
    return (struct shape_area_mm2){.body = shape_turned_mm2(at, diameter, 3)};
}

static struct shape_area_mm2 cylinder(const double *mm) {
    return (struct shape_area_mm2){.body = PI * mm[A] * mm[B],
                                   .face = {[FACE_TOP] = disc(mm[A]), [FACE_BOTTOM] = disc(mm[A])}};
}

static struct shape_area_mm2 cone(const double *mm) {
    double at[] = {0, mm[C]}, diameter[] = {mm[A], mm[B]};
    return (struct shape_area_mm2){.body = shape_turned_mm2(at, diameter, 2),
                                   .face = {[FACE_TOP] = disc(mm[A]), [FACE_BOTTOM] = disc(mm[B])}};
}

/* Ball cut off flat above and below: a spherical zone, whatever the place of the cuts. */
static struct shape_area_mm2 ball_foot(const double *mm) {
    double cut = sqrt(fmax(0, mm[A] * mm[A] - mm[B] * mm[B]));
    return (struct shape_area_mm2){.body = PI * mm[A] * mm[B],
                                   .face = {[FACE_TOP] = disc(cut), [FACE_BOTTOM] = disc(cut)}};
}

static const char *ball_wrong(const double *mm) {
    return mm[B] > mm[A] ? "A ball foot is not higher than its diameter." : NULL;
}

/* Ball on a neck: the sphere without the cap that the neck covers, and the neck. */
static struct shape_area_mm2 knob(const double *mm) {
    double r = mm[A] / 2, neck = mm[B] / 2, cap = r - sqrt(fmax(0, r * r - neck * neck));
    return (struct shape_area_mm2){.body = 2 * PI * r * (2 * r - cap) + PI * mm[B] * mm[C]};
}

static const char *knob_wrong(const double *mm) {
    return mm[B] > mm[A] ? "The neck is thicker than the knob." : NULL;
}

/* Curved leg known by a string laid around knee and ankle and along the curve. */
static struct shape_area_mm2 cabriole(const double *mm) {
    return (struct shape_area_mm2){.body = mm[A] * (mm[B] + mm[C]) / 2};
}

static struct shape_area_mm2 molding(const double *mm) {
    return (struct shape_area_mm2){.body = mm[A] * mm[B]};
}

static struct shape_area_mm2 slat(const double *mm) {
    double end = mm[B] * mm[C];
    return (struct shape_area_mm2){.body = 2 * (mm[B] + mm[C]) * mm[A],
                                   .face = {[FACE_LEFT] = end, [FACE_RIGHT] = end}};
}

/* Frame on both sides with its outer edges and inner walls, and all blades around; a blade every
 * `pitch` of the opening. */
static struct shape_area_mm2 louvers(const double *mm) {
    double width = mm[A], height = mm[B], thick = mm[C], frame = mm[D], pitch = mm[E],
           girth = mm[F];
    double across = width - 2 * frame, up = height - 2 * frame;
    double sides = 2 * (width * height - across * up);
    double edges = 2 * thick * (width + height + across + up);
    return (struct shape_area_mm2){.body = sides + edges + floor(up / pitch) * girth * across};
}

static const char *louvers_wrong(const double *mm) {
    if (mm[E] <= 0) return "The distance from blade to blade must be more than nothing.";
    return 2 * mm[D] > fmin(mm[A], mm[B]) ? "The frame is wider than half the door." : NULL;
}

/* Strips both ways laid over each other, one every `spacing`; where they touch no paint goes. */
static struct shape_area_mm2 lattice(const double *mm) {
    double width = mm[A], height = mm[B], strip = mm[C], thick = mm[D], spacing = mm[E];
    double upright = floor(width / spacing), across = floor(height / spacing);
    double around = 2 * (strip + thick) * (upright * height + across * width);
    return (struct shape_area_mm2){.body = around - 2 * upright * across * strip * strip};
}

static const char *lattice_wrong(const double *mm) {
    return mm[E] <= mm[C] ? "The strips stand closer than they are wide." : NULL;
}

/* clang-format off */
static const struct shape_kind rows[] = {
    /* id, name, sizes, needed, form, usual faces, area, wrong, lies */
    {"square_leg", "square leg", {"width", "depth", "length"}, 3, FORM_NARROW, "",
     square_leg, 0, {0, 2}},
    {"rail", "rail", {"width", "depth", "length"}, 3, FORM_NARROW, "",
     square_leg, 0, {0, 2}},
    {"taper_leg", "leg tapered on four faces", {"top", "foot", "length", "straight"}, 3,
     FORM_NARROW, "", taper_leg, taper_wrong, {0, 2}},
    {"taper_inside", "leg tapered on the inner faces", {"top", "foot", "length", "straight"}, 3,
     FORM_NARROW, "", taper_inside, taper_wrong, {0, 2}},
    {"turned_leg", "turned leg",
     {"top_diameter", "middle_diameter", "foot_diameter", "length", "beads", "bead_width"}, 4,
     FORM_TURNED, "", turned_leg, turned_wrong, {1, 3}},
    {"spindle", "spindle", {"end_diameter", "middle_diameter", "length"}, 3, FORM_TURNED, "",
     spindle, 0, {1, 2}},
    {"cylinder", "round rail or column", {"diameter", "length"}, 2, FORM_TURNED, "",
     cylinder, 0, {0, 1}},
    {"cone", "round tapered leg", {"top_diameter", "foot_diameter", "length"}, 3, FORM_TURNED, "",
     cone, 0, {0, 2}},
    {"ball_foot", "ball foot", {"diameter", "height"}, 2, FORM_TURNED, "",
     ball_foot, ball_wrong, {0, 0}},
    {"knob", "knob", {"diameter", "neck_diameter", "neck_length"}, 1, FORM_TURNED, "",
     knob, knob_wrong, {0, 0}},
    {"cabriole", "curved leg by its girth", {"length", "knee_girth", "ankle_girth"}, 3, FORM_TURNED,
     "", cabriole, 0, {0, 1}},
    {"molding", "molding by its girth", {"length", "girth"}, 2, FORM_TURNED, "",
     molding, 0, {0, 1}},
    {"slat", "slat", {"length", "width", "thickness"}, 3, FORM_OPEN, "", slat, 0, {0, 1}},
    {"louvers", "louvers in a frame",
     {"width", "height", "thickness", "frame", "pitch", "blade_girth"}, 6, FORM_OPEN, "",
     louvers, louvers_wrong, {0, 1}},
    {"lattice", "lattice", {"width", "height", "strip", "thickness", "spacing"}, 5, FORM_OPEN, "",
     lattice, lattice_wrong, {0, 1}},
};
/* clang-format on */
const struct shape_family shape_sticks = {rows, sizeof rows / sizeof *rows};
