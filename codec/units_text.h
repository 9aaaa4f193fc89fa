/* Quantities as people write them, and back.
 *
 * Read:  32 3/4 in   2' 6-1/2"   830 mm   13 fl oz   1/2 cup   1 qt 4 fl oz   68 °F   3 h 20 min
 *        35 %   $45/h   $1,250   400 ft2/gal   1.5 mil   1 lb 3 oz
 * Numbers are whole, decimal with a point, or whole with a fraction (32 3/4, 32-3/4, 32¾). Every
 * number needs its unit; several units of one kind add up. Upper and lower case are the same.
 * Nothing here depends on a locale. At most UNITS_TEXT_MAX bytes are looked at.
 *
 * Source of the factors: core/base/units.h (NIST SP 811, appendix B). */
#ifndef CODEC_UNITS_TEXT_H
#define CODEC_UNITS_TEXT_H

#include "core/base/arena.h"
#include "core/base/dimension.h"
#include "core/base/status.h"
#include "core/work/job.h"

enum { UNITS_TEXT_MAX = 96 };

/* Reads one quantity.
 *
 *   d          what it must measure; DIM_NONE reads a plain number, and a fraction like 3/4
 *   text       NUL-terminated
 *   out_value  in the canonical unit of d (core/base/dimension.h), finite
 *   why        field "" (the caller puts its pointer in front), text says what would be right
 *
 * Errors: E_SYNTAX (no number, or something behind it), E_UNIT (unit missing, unknown or of
 * another kind), E_DOMAIN (too large for a number). */
enum status units_read(enum dimension d, const char *text, double *out_value, struct why *why);

/* As people read it: fractions of an inch to 1/32, fluid ounces to a half, cents only where there
 * are any; below zero with a minus sign, which units_read knows. "-" for a value that is not known.
 * Rounds; use units_print_exact for what is stored. */
size_t units_print(enum dimension d, enum unit_system units, double value, char *out, size_t cap);
char *units_text(struct arena *a, enum dimension d, enum unit_system units, double value);

/* A way driven: miles or kilometers to a tenth, "12 mi", "4.5 km". NULL: no memory. */
char *distance_text(struct arena *a, enum unit_system units, double m);

/* A spelling that units_read turns back into exactly this value; percent and money, which are
 * scaled by 100, into it or its neighbor (1 unit in the last place; money also to a millionth of a
 * cent). */
size_t units_print_exact(enum dimension d, double value, char *out, size_t cap);

/* An amount of paint as it is measured out: with `fl oz` down to 1/8, teaspoons below that; whole
 * milliliters, tenths below 10. */
size_t units_print_measure(enum measure m, double ml, double g_per_ml, char *out, size_t cap);

/* The shortest of 15, 16, 17 digits that reads back equal: 53.2, not 53.200000000000003. */
size_t number_print(double value, char *out, size_t cap);

/* How to write this dimension, for errors and help: "inches, feet or millimeters: 32 3/4 in, ..."
 */
const char *units_hint(enum dimension d);

#endif
