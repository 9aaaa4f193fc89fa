/* Rows of the trade's tables and things of the job document by their id. */
#ifndef CORE_WORK_LOOKUP_H
#define CORE_WORK_LOOKUP_H

#include "core/work/room.h"

/* Rows of the tables by id; NULL when there is none. */
const struct operations_row *operation_row(const struct tables *t, const char *id);
const struct repairs_row *repair_row(const struct tables *t, const char *id);
const struct product_classes_row *product_class_of(const struct tables *t, const char *id);
const struct materials_row *material_of(const struct tables *t, const char *id);
const struct coat_kinds_row *coat_kind_of(const struct tables *t, const char *id);
const struct wood_traits_row *wood_trait_of(const struct tables *t, const char *id);
const struct paint *shelf_paint(const struct shelf *s, const char *id);
/* Two parts are mixed and then used within a time that the label tells; casein needs water alone.
 */
bool paint_two_part(const struct paint *p);
/* Density that a scale needs: of the paint, else of its class, else the usual one. */
double paint_g_per_ml(const struct tables *t, const struct paint *p);
/* A figure of data/figures.tsv, in the unit that its name ends with. */
double figure(const struct tables *t, enum figures_place which);
/* Class of a shelf id, or the text itself when the shelf has no such paint; NULL stays NULL. */
const char *class_wanted(const struct shelf *s, const char *text);

/* "published", "secondary", "common", "memory", ... of a table's certainty column */
enum certainty certainty_of(const char *word);

#endif
