/* The kinds of shape, a file a family; inside the shape modules only. */
#ifndef CORE_WORK_SHAPE_KINDS_H
#define CORE_WORK_SHAPE_KINDS_H

#include "core/work/shape.h"

struct shape_family {
    const struct shape_kind *rows;
    size_t n;
};
extern const struct shape_family shape_boards; /* boards, boxes, frames */
extern const struct shape_family shape_sticks; /* legs, turned work, moldings, open work */

#endif
