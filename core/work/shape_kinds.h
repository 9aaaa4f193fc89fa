/* What the rows of shape_kinds() compute with; inside the shape modules only. */
#ifndef CORE_WORK_SHAPE_KINDS_H
#define CORE_WORK_SHAPE_KINDS_H

#include "core/work/shape.h"

/* boards, boxes, frames: shape_board.c */
struct shape_area_mm2 shape_panel(const double *mm);
const char *shape_panel_wrong(const double *mm);
struct shape_area_mm2 shape_box(const double *mm);
struct shape_area_mm2 shape_shelf(const double *mm);
struct shape_area_mm2 shape_top(const double *mm);
const char *shape_bow_wrong(const double *mm);
struct shape_area_mm2 shape_disc(const double *mm);
struct shape_area_mm2 shape_oval(const double *mm);
struct shape_area_mm2 shape_ring(const double *mm);
const char *shape_ring_wrong(const double *mm);
struct shape_area_mm2 shape_frame(const double *mm);
const char *shape_frame_wrong(const double *mm);
struct shape_area_mm2 shape_frame_panel(const double *mm);
const char *shape_frame_panel_wrong(const double *mm);
struct shape_area_mm2 shape_arch(const double *mm);
struct shape_area_mm2 shape_seat(const double *mm);
struct shape_area_mm2 shape_carved(const double *mm);

/* legs, turned work, moldings, open work: shape_stick.c */
struct shape_area_mm2 shape_square_leg(const double *mm);
struct shape_area_mm2 shape_taper_leg(const double *mm);
struct shape_area_mm2 shape_taper_inside(const double *mm);
const char *shape_taper_wrong(const double *mm);
struct shape_area_mm2 shape_turned_leg(const double *mm);
const char *shape_turned_wrong(const double *mm);
struct shape_area_mm2 shape_spindle(const double *mm);
struct shape_area_mm2 shape_cylinder(const double *mm);
struct shape_area_mm2 shape_cone(const double *mm);
struct shape_area_mm2 shape_ball_foot(const double *mm);
const char *shape_ball_wrong(const double *mm);
struct shape_area_mm2 shape_knob(const double *mm);
const char *shape_knob_wrong(const double *mm);
struct shape_area_mm2 shape_cabriole(const double *mm);
struct shape_area_mm2 shape_molding(const double *mm);
struct shape_area_mm2 shape_slat(const double *mm);
struct shape_area_mm2 shape_louvers(const double *mm);
const char *shape_louvers_wrong(const double *mm);
struct shape_area_mm2 shape_lattice(const double *mm);
const char *shape_lattice_wrong(const double *mm);

#endif
