/* What can hurt somebody, what blocks the work, what is refused: the rows of data/hazards.tsv
 * whose facts hold. */
#ifndef CORE_WORK_HAZARD_H
#define CORE_WORK_HAZARD_H

#include "core/work/room.h"

/* True if a notice keeps an operation from being done: its `blocks` is the operation's id or its
 * gate (data/operations.tsv), or "all". */
bool hazard_blocks(const struct tables *t, const struct notice *n, const char *operation);

/* The row that refuses the whole piece, or NULL. */
struct facts;
const struct hazards_row *hazard_refuses(const struct facts *f);

/* 40 CFR 745: does the rule for housing apply to so much disturbed paint? More than 6 square feet
 * a room inside, more than 20 outside. Furniture in a shop is outside the rule; the hazard is the
 * same. */
bool lead_area_ruled(double area_m2, bool outside);

/* 16 CFR 1261 (ASTM F2057-23): clothing storage at least 27 in tall, 30 lb and 3.2 cubic feet. */
bool tip_over_ruled(double height_mm, double mass_g, double volume_ml);

/* Formaldehyde limit of a board, parts per million of air (40 CFR 770.10); NAN not covered.
 * board: "plywood", "particleboard", "mdf", "thin_mdf". */
double formaldehyde_limit_ppm(const char *board);

#endif
