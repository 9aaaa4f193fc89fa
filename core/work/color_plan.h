/* The color of a piece: which paints in which parts, and how near it will come. */
#ifndef CORE_WORK_COLOR_PLAN_H
#define CORE_WORK_COLOR_PLAN_H

#include "core/base/limit.h"
#include "core/work/room.h"

/* Nearer than this nobody sees a difference edge to edge (common practice): a can that is so near
 * to the color that is wanted is used as it is. */
#define COLOR_AS_IT_IS 0.5

/* Chooses paint or recipe for the piece's color and for each further one; fills p->color, p->colors
 * and their bases. Of colors[] target and product (a shelf id) must be set; product becomes a name.
 *
 *   batch_ml   [1 + colors_n] how much of each will be mixed, so that no more of a leftover is
 *              taken than there is and no part is too small to pour
 *
 * Reads p->coats (which class of product the color is). Only paints of that class whose color is
 * known are mixed; a named product is used as it is. Errors: E_REFERENCE, E_MEMORY; a target out
 * of reach is not an error but a notice. */
enum status color_plan_make(const struct room *r, struct piece_plan *p, const double *batch_ml,
                            const struct limit *limit, struct why *why);

/* The piece's color (0) or a further one, as the rows of coats and amounts count them. */
struct color_plan *color_plan_row(struct piece_plan *p, size_t row);

/* True when a recipe asks more of a leftover than there is: it must be chosen again.
 * out_batch_ml [1 + colors_n]. */
bool color_plan_short(struct piece_plan *p, const struct shelf *shelf, double *out_batch_ml);

/* The mixes of the recipes that were found, as films, for the coats to count with (struct room).
 * *out [1 + colors_n], the arena's; NULL: no recipe holds a jar that was tried. Errors: as
 * palette_make. */
enum status color_plan_films(const struct room *r, struct piece_plan *p,
                             const struct mix_film **out, struct why *why);

/* After the amounts are known: how much of each paint, in what the shop can measure. */
enum status color_plan_pour(const struct room *r, struct piece_plan *p, struct why *why);

#endif
