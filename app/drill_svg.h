/* The drilling template on paper, in true size. */
#ifndef APP_DRILL_SVG_H
#define APP_DRILL_SVG_H

#include "app/op.h"
#include "core/work/drill.h"

/* An SVG measured in millimeters, one page a kind of front, with a line that shows whether the
 * printer kept the size. Fits on A4 and letter; holes further apart than the page is wide are drawn
 * from the pull's center to one side, to be turned over; where even half is too long, the distance
 * is written.
 *   title  of the piece
 *   out    appended to; text_free, after an error too
 * Errors: E_MEMORY. */
enum status drill_svg(const struct drill *d, const char *title, enum unit_system units,
                      struct arena *arena, struct text *out, struct why *why);

#endif
