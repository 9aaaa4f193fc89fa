/* Which tool puts a coat on which kind of surface: rows of data/methods.tsv. */
#ifndef CORE_WORK_METHOD_H
#define CORE_WORK_METHOD_H

#include "core/work/room.h"
#include "core/work/shape.h"

enum { METHOD_FORMS = FORM_OPEN + 1 };

/* Borrowed, or NULL. */
const struct methods_row *method_of(const struct tables *t, const char *id);

/* The best tool that the shop owns for areas of these forms.
 *
 *   form_m2   [METHOD_FORMS] coated area by form
 *   wanted    id of a method, or NULL: beats the ranking where it can do the work at all
 *   out_asked false when `wanted` was passed over
 *
 * Never NULL: a brush is always at hand. */
const struct methods_row *method_choose(const struct tables *t, const struct shop *shop,
                                        const double *form_m2, const char *wanted, bool *out_asked);

/* Its name by its size in inches or in millimeters. */
const char *method_name(const struct methods_row *m, bool metric);

/* Does that tool throw a mist? id may be NULL. */
bool method_sprays(const struct tables *t, const char *id);

/* Share of what is taken that does not stay on the work, for areas of these forms. */
double method_loss_frac(const struct methods_row *m, const double *form_m2);

/* Words for the form that most of the area has. */
const char *method_form_name(const double *form_m2);

/* Errors: E_REFERENCE, for a method in piece or shop that is no row. */
enum status method_check(const struct room *r, struct why *why);

#endif
