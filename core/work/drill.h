/* Where the holes of pulls go on a drawer front: for a template in true size.
 *
 * Positions are taken from the left and upper edge of the front, in mm. One pull sits in the
 * middle; of two each sits a quarter of the width in, at most 8 in from its end (common practice).
 * Holes of one pull lie level. Old holes share the pull's center: pulls are centered on what is
 * there. Sources: HARDWARE; CP. */
#ifndef CORE_WORK_DRILL_H
#define CORE_WORK_DRILL_H

#include "core/work/fastener.h"
#include "core/work/plan.h"

#include <stdbool.h>

enum { DRILL_PULLS = 2, DRILL_HOLES = 2 };

struct drill_front {
    const char *name;            /* "drawer fronts" */
    int64_t count;               /* fronts alike */
    double width_mm, height_mm;  /* of one front */
    int pulls;                   /* on one front, 1 or 2 */
    double pull_mm[DRILL_PULLS]; /* center of each from the left edge */
    double level_mm;             /* from the upper edge */
};

struct drill {
    double spacing_mm;     /* new holes, center to center; 0: one hole (a knob) */
    double old_spacing_mm; /* NAN: no old holes, or the new pulls sit on them */
    double bit_mm;         /* drill */
    enum pull_fit fit;     /* PULL_DRILL without old holes */
    struct drill_front *fronts;
    size_t fronts_n;
    bool doors; /* the piece has doors too; their pulls stand upright */
};

/* The template of a piece's drawer fronts. Reads p->surfaces. `arena` owns the fronts.
 * Errors: E_MISSING (no spacing said and no knob: /fittings/pulls/new_spacing; no drawer front to
 * drill: /drawers), E_MEMORY. */
enum status drill_make(const struct tables *t, const struct piece_plan *p, const char *at,
                       struct arena *arena, struct drill *out, struct why *why);

#endif
