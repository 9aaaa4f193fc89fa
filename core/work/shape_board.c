/* Boards, boxes, tops and frames. Sizes in the order of their rows in shape.c. */
#include "core/work/shape_kinds.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

enum { A, B, C, D, E, F };

/* Board of even thickness over a chord: the back is the concentric arc, the edges lie between. */
struct shape_area_mm2 shape_panel(const double *mm) {
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

const char *shape_panel_wrong(const double *mm) {
    double bow = mm[D];
    if (bow > mm[A] / 2) return "A front cannot bow out by more than half its width.";
    if (bow > 0 && (mm[A] * mm[A] / 4 + bow * bow) / (2 * bow) <= mm[C])
        return "The board is thicker than the radius of its bow.";
    return NULL;
}

/* Box; the depth of a bowed one is measured at its sides. */
struct shape_area_mm2 shape_box(const double *mm) {
    double width = mm[A], depth = mm[B], height = mm[C], bow = mm[D];
    double plan = width * depth + shape_segment_mm2(width, bow);
    return (struct shape_area_mm2){.face = {[FACE_FRONT] = shape_arc_mm(width, bow) * height,
                                            [FACE_BACK] = width * height,
                                            [FACE_LEFT] = depth * height,
                                            [FACE_RIGHT] = depth * height,
                                            [FACE_TOP] = plan,
                                            [FACE_BOTTOM] = plan}};
}

const char *shape_bow_wrong(const double *mm) {
    return mm[D] > mm[A] / 2 ? "A front cannot bow out by more than half its width." : NULL;
}

struct shape_area_mm2 shape_shelf(const double *mm) {
    double box[PART_SIZES] = {mm[A], mm[B], mm[C]};
    return shape_box(box);
}

/* Top with a bowed front and a molded edge; the girth of a plain edge is its thickness. */
struct shape_area_mm2 shape_top(const double *mm) {
    double width = mm[A], depth = mm[B], bow = mm[D], girth = mm[E] > 0 ? mm[E] : mm[C];
    double plan = width * depth + shape_segment_mm2(width, bow);
    return (struct shape_area_mm2){.face = {[FACE_FRONT] = shape_arc_mm(width, bow) * girth,
                                            [FACE_BACK] = width * girth,
                                            [FACE_LEFT] = depth * girth,
                                            [FACE_RIGHT] = depth * girth,
                                            [FACE_TOP] = plan,
                                            [FACE_BOTTOM] = plan}};
}

struct shape_area_mm2 shape_disc(const double *mm) {
    double d = mm[A], girth = mm[C] > 0 ? mm[C] : mm[B];
    return (struct shape_area_mm2){
        .body = PI * d * girth,
        .face = {[FACE_TOP] = PI / 4 * d * d, [FACE_BOTTOM] = PI / 4 * d * d}};
}

struct shape_area_mm2 shape_oval(const double *mm) {
    double plan = PI / 4 * mm[A] * mm[B], girth = mm[D] > 0 ? mm[D] : mm[C];
    return (struct shape_area_mm2){.body = shape_ellipse_mm(mm[A], mm[B]) * girth,
                                   .face = {[FACE_TOP] = plan, [FACE_BOTTOM] = plan}};
}

struct shape_area_mm2 shape_ring(const double *mm) {
    double flat = PI / 4 * (mm[A] * mm[A] - mm[B] * mm[B]);
    return (struct shape_area_mm2){.body = PI * (mm[A] + mm[B]) * mm[C],
                                   .face = {[FACE_FRONT] = flat, [FACE_BACK] = flat}};
}

const char *shape_ring_wrong(const double *mm) {
    return mm[B] > mm[A] ? "The hole is wider than the ring." : NULL;
}

/* Board with a rectangular opening: mirror frame, glazed door, face frame. */
struct shape_area_mm2 shape_frame(const double *mm) {
    double flat = mm[A] * mm[B] - mm[D] * mm[E];
    return (struct shape_area_mm2){.body = 2 * (mm[D] + mm[E]) * mm[C],
                                   .face = {[FACE_FRONT] = flat,
                                            [FACE_BACK] = flat,
                                            [FACE_LEFT] = mm[B] * mm[C],
                                            [FACE_RIGHT] = mm[B] * mm[C],
                                            [FACE_TOP] = mm[A] * mm[C],
                                            [FACE_BOTTOM] = mm[A] * mm[C]}};
}

const char *shape_frame_wrong(const double *mm) {
    return mm[D] > mm[A] || mm[E] > mm[B] ? "The opening is larger than the frame." : NULL;
}

/* One side of a frame-and-panel door: the plan, the walls of the recess, and for a raised panel
 * the slope from the recess up to the frame's plane over `bevel` of its border. */
struct shape_area_mm2 shape_frame_panel(const double *mm) {
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

const char *shape_frame_panel_wrong(const double *mm) {
    double across = fmin(mm[A], mm[B]) - 2 * mm[D];
    if (across < 0) return "The frame is wider than half the door.";
    return 2 * mm[F] > across ? "The bevel is wider than half the panel." : NULL;
}

/* Rectangle with a round head. */
struct shape_area_mm2 shape_arch(const double *mm) {
    double flat = mm[A] * mm[B] + shape_segment_mm2(mm[A], mm[D]);
    return (struct shape_area_mm2){.face = {[FACE_FRONT] = flat,
                                            [FACE_BACK] = flat,
                                            [FACE_LEFT] = mm[B] * mm[C],
                                            [FACE_RIGHT] = mm[B] * mm[C],
                                            [FACE_TOP] = shape_arc_mm(mm[A], mm[D]) * mm[C],
                                            [FACE_BOTTOM] = mm[A] * mm[C]}};
}

/* Seat that narrows to the back. */
struct shape_area_mm2 shape_seat(const double *mm) {
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
struct shape_area_mm2 shape_carved(const double *mm) {
    return (struct shape_area_mm2){
        .face = {[FACE_FRONT] = mm[A] * mm[B], [FACE_BACK] = mm[A] * mm[B]}};
}
