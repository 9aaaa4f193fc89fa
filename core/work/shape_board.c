/* Boards, boxes, tops and frames. Sizes in the order of the rows below. */
#include "core/work/shape_kinds.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

enum { A, B, C, D, E, F };

/* Board of even thickness over a chord: the back is the concentric arc, the edges lie between. */
static struct shape_area_mm2 panel(const double *mm) {
    double width = mm[A], height = mm[B], thick = mm[C], bow = mm[D];
    double front = shape_arc_mm(width, bow);
    double turn = bow > 0 ? 4 * atan2(2 * bow, width) : 0; /* the arc's angle */
    double back = front - thick * turn, middle = front - thick / 2 * turn;
    return (struct shape_area_mm2){.face = {[FACE_FRONT] = front * height,
                                            [FACE_BACK] = back * height,
                                            [FACE_LEFT] = thick * height,
                                            [FACE_RIGHT] = thick * height,
                                            [FACE_TOP] = thick * middle,
                                            [FACE_BOTTOM] = thick * middle}};
}

static const char *panel_wrong(const double *mm) {
    double bow = mm[D];
    if (bow > mm[A] / 2) return "A front cannot bow out by more than half its width.";
    if (bow > 0 && (mm[A] * mm[A] / 4 + bow * bow) / (2 * bow) <= mm[C])
        return "The board is thicker than the radius of its bow.";
    return NULL;
}

/* Box; the depth of a bowed one is measured at its sides. */
static struct shape_area_mm2 box(const double *mm) {
    double width = mm[A], depth = mm[B], height = mm[C], bow = mm[D];
    double plan = width * depth + shape_segment_mm2(width, bow);
    return (struct shape_area_mm2){.face = {[FACE_FRONT] = shape_arc_mm(width, bow) * height,
                                            [FACE_BACK] = width * height,
                                            [FACE_LEFT] = depth * height,
                                            [FACE_RIGHT] = depth * height,
                                            [FACE_TOP] = plan,
                                            [FACE_BOTTOM] = plan}};
}

static const char *bow_wrong(const double *mm) {
    return mm[D] > mm[A] / 2 ? "A front cannot bow out by more than half its width." : NULL;
}

static struct shape_area_mm2 shelf(const double *mm) {
    double sizes[PART_SIZES] = {mm[A], mm[B], mm[C]};
    return box(sizes);
}

/* Top with a bowed front and a molded edge; the girth of a plain edge is its thickness. */
static struct shape_area_mm2 top(const double *mm) {
    double width = mm[A], depth = mm[B], bow = mm[D], girth = mm[E] > 0 ? mm[E] : mm[C];
    double plan = width * depth + shape_segment_mm2(width, bow);
    return (struct shape_area_mm2){.face = {[FACE_FRONT] = shape_arc_mm(width, bow) * girth,
                                            [FACE_BACK] = width * girth,
                                            [FACE_LEFT] = depth * girth,
                                            [FACE_RIGHT] = depth * girth,
                                            [FACE_TOP] = plan,
                                            [FACE_BOTTOM] = plan}};
}

static struct shape_area_mm2 disc(const double *mm) {
    double d = mm[A], girth = mm[C] > 0 ? mm[C] : mm[B];
    return (struct shape_area_mm2){
        .body = PI * d * girth,
        .face = {[FACE_TOP] = PI / 4 * d * d, [FACE_BOTTOM] = PI / 4 * d * d}};
}

static struct shape_area_mm2 oval(const double *mm) {
    double plan = PI / 4 * mm[A] * mm[B], girth = mm[D] > 0 ? mm[D] : mm[C];
    return (struct shape_area_mm2){.body = shape_ellipse_mm(mm[A], mm[B]) * girth,
                                   .face = {[FACE_TOP] = plan, [FACE_BOTTOM] = plan}};
}

static struct shape_area_mm2 ring(const double *mm) {
    double flat = PI / 4 * (mm[A] * mm[A] - mm[B] * mm[B]);
    return (struct shape_area_mm2){.body = PI * (mm[A] + mm[B]) * mm[C],
                                   .face = {[FACE_FRONT] = flat, [FACE_BACK] = flat}};
}

static const char *ring_wrong(const double *mm) {
    return mm[B] > mm[A] ? "The hole is wider than the ring." : NULL;
}

/* Board with a rectangular opening: mirror frame, glazed door, face frame. */
static struct shape_area_mm2 frame(const double *mm) {
    double flat = mm[A] * mm[B] - mm[D] * mm[E];
    return (struct shape_area_mm2){.body = 2 * (mm[D] + mm[E]) * mm[C],
                                   .face = {[FACE_FRONT] = flat,
                                            [FACE_BACK] = flat,
                                            [FACE_LEFT] = mm[B] * mm[C],
                                            [FACE_RIGHT] = mm[B] * mm[C],
                                            [FACE_TOP] = mm[A] * mm[C],
                                            [FACE_BOTTOM] = mm[A] * mm[C]}};
}

static const char *frame_wrong(const double *mm) {
    return mm[D] > mm[A] || mm[E] > mm[B] ? "The opening is larger than the frame." : NULL;
}

/* One side of a frame-and-panel door: the plan, the walls of the recess, and for a raised panel
 * the slope from the recess up to the frame's plane over `bevel` of its border. */
static struct shape_area_mm2 frame_panel(const double *mm) {
    double width = mm[A], height = mm[B], thick = mm[C], frame = mm[D], recess = mm[E],
           bevel = mm[F];
    double across = width - 2 * frame, up = height - 2 * frame;
    double side = width * height + 2 * (across + up) * recess;
    if (bevel > 0) {
        double border = across * up - (across - 2 * bevel) * (up - 2 * bevel);
        side += border * (hypot(bevel, recess) / bevel - 1);
    }
    return (struct shape_area_mm2){.face = {[FACE_FRONT] = side,
                                            [FACE_BACK] = side,
                                            [FACE_LEFT] = height * thick,
                                            [FACE_RIGHT] = height * thick,
                                            [FACE_TOP] = width * thick,
                                            [FACE_BOTTOM] = width * thick}};
}

static const char *frame_panel_wrong(const double *mm) {
    double across = fmin(mm[A], mm[B]) - 2 * mm[D];
    if (across < 0) return "The frame is wider than half the door.";
    return 2 * mm[F] > across ? "The bevel is wider than half the panel." : NULL;
}

/* Rectangle with a round head. */
static struct shape_area_mm2 arch(const double *mm) {
    double flat = mm[A] * mm[B] + shape_segment_mm2(mm[A], mm[D]);
    return (struct shape_area_mm2){.face = {[FACE_FRONT] = flat,
                                            [FACE_BACK] = flat,
                                            [FACE_LEFT] = mm[B] * mm[C],
                                            [FACE_RIGHT] = mm[B] * mm[C],
                                            [FACE_TOP] = shape_arc_mm(mm[A], mm[D]) * mm[C],
                                            [FACE_BOTTOM] = mm[A] * mm[C]}};
}

/* Seat that narrows to the back. */
static struct shape_area_mm2 seat(const double *mm) {
    double front = mm[A], back = mm[B], depth = mm[C], thick = mm[D];
    double side = hypot(depth, (front - back) / 2) * thick, plan = (front + back) / 2 * depth;
    return (struct shape_area_mm2){.face = {[FACE_FRONT] = front * thick,
                                            [FACE_BACK] = back * thick,
                                            [FACE_LEFT] = side,
                                            [FACE_RIGHT] = side,
                                            [FACE_TOP] = plan,
                                            [FACE_BOTTOM] = plan}};
}

/* Work whose relief nobody measures: the plain face, to be taken with a profile factor. */
static struct shape_area_mm2 carved(const double *mm) {
    return (struct shape_area_mm2){
        .face = {[FACE_FRONT] = mm[A] * mm[B], [FACE_BACK] = mm[A] * mm[B]}};
}

/* clang-format off */
static const struct shape_kind rows[] = {
    /* id, name, sizes, needed, form, usual faces, area, wrong, lies */
    {"panel", "board", {"width", "height", "thickness", "bow"}, 2, FORM_FLAT, "flrtb",
     panel, panel_wrong, {0, 1}},
    {"drawer_front", "drawer front", {"width", "height", "thickness", "bow"}, 2, FORM_FLAT, "flrtb",
     panel, panel_wrong, {0, 1}},
    {"door", "flat door", {"width", "height", "thickness", "bow"}, 2, FORM_FLAT, "fklrtb",
     panel, panel_wrong, {0, 1}},
    {"frame_panel", "frame and panel", {"width", "height", "thickness", "frame", "recess", "bevel"},
     4, FORM_PANEL, "fklrtb", frame_panel, frame_panel_wrong, {0, 1}},
    {"frame", "frame with an opening",
     {"width", "height", "thickness", "opening_width", "opening_height"}, 5, FORM_NARROW, "flrtb",
     frame, frame_wrong, {0, 1}},
    {"box", "box", {"width", "depth", "height", "bow"}, 3, FORM_FLAT, "flrt",
     box, bow_wrong, {0, 1}},
    {"inside", "inside of a box, open in front", {"width", "depth", "height", "bow"}, 3, FORM_FLAT,
     "klrtb", box, bow_wrong, {0, 1}},
    {"shelf", "shelf", {"width", "depth", "thickness"}, 2, FORM_FLAT, "ftb",
     shelf, 0, {0, 1}},
    {"top", "top", {"width", "depth", "thickness", "bow", "edge_girth"}, 2, FORM_FLAT, "fklrt",
     top, bow_wrong, {0, 1}},
    {"disc", "round top", {"diameter", "thickness", "edge_girth"}, 1, FORM_FLAT, "t",
     disc, 0, {0, 0}},
    {"oval", "oval top", {"width", "depth", "thickness", "edge_girth"}, 2, FORM_FLAT, "t",
     oval, 0, {0, 1}},
    {"ring", "ring", {"outer_diameter", "inner_diameter", "thickness"}, 2, FORM_NARROW, "fk",
     ring, ring_wrong, {0, 0}},
    {"arch", "board with a round head", {"width", "height", "thickness", "rise"}, 4, FORM_FLAT,
     "flrt", arch, bow_wrong, {0, 1}},
    {"seat", "seat", {"front_width", "back_width", "depth", "thickness"}, 3, FORM_FLAT, "fklrt",
     seat, 0, {0, 2}},
    {"carved", "carved work", {"width", "height"}, 2, FORM_TURNED, "f", carved, 0, {0, 1}},
};
/* clang-format on */
const struct shape_family shape_boards = {rows, sizeof rows / sizeof *rows};
