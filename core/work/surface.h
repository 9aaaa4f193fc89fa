/* Areas of a piece: part by part, group by group. surface_make stands in core/work/room.h. */
#ifndef CORE_WORK_SURFACE_H
#define CORE_WORK_SURFACE_H

#include "core/work/method.h"
#include "core/work/room.h"

/* Borrowed, or NULL. */
const struct profile_factors_row *profile_of(const struct tables *t, const char *id);

/* Area that a coat of this role covers in a group (NULL: all groups).
 *
 * Color, primer and what goes under them: painted parts; clear: painted parts that get clear and
 * natural ones; stain and wax: the parts treated so, wax the cleared ones where none is. */
double surface_role_m2(const struct surfaces *s, const char *group, enum coat_role role);

/* Coated area by form, for choosing a tool and its loss. group NULL: all. */
void surface_forms(const struct surfaces *s, const char *group, double form_m2[METHOD_FORMS]);

/* Chooses the tool of each group by its forms and treatments: again when a treatment has changed.
 */
void surface_tools(const struct room *r, struct surfaces *s);

#endif
