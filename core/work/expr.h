/* Arithmetic in the cells of a table: "(h - 2*t) / drawers".
 *
 *   sum     = product { (+|-) product }        product = factor { (*|/) factor }
 *   factor  = number | name | name ( sum {, sum} ) | ( sum ) | - factor
 *
 * Functions: min(a,b) max(a,b) floor(a) if(a,b,c): b when a > 0, else c. Names are given by the
 * caller. Bounded: EXPR_TEXT characters, EXPR_DEPTH levels of nesting; no allocation. */
#ifndef CORE_WORK_EXPR_H
#define CORE_WORK_EXPR_H

#include "core/base/status.h"

#include <stddef.h>

enum { EXPR_TEXT = 200, EXPR_DEPTH = 24 };

struct expr_name {
    const char *name;
    double value;
};

/* Computes the text.
 *
 *   names       [n] what names stand for; values finite
 *   out_value   finite; untouched on failure
 *   why         text with the place of the fault, field "", or NULL
 *
 * Errors: E_SYNTAX, E_REFERENCE (a name that is not given), E_TOO_LARGE, E_DOMAIN (division by
 * nothing, a result that is not finite). */
enum status expr_value(const char *text, const struct expr_name *names, size_t n, double *out_value,
                       struct why *why);

#endif
