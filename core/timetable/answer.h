/* From the stands of a decoder to what the caller sees: places, segments, drying, reasons. */
#ifndef CORE_TIMETABLE_ANSWER_H
#define CORE_TIMETABLE_ANSWER_H

#include "core/timetable/decode.h"

/* d must hold a timetable (decode returned true). bound and proof are the caller's to fill.
 * Errors: E_MEMORY. */
enum status answer_make(struct decoder *d, struct arena *arena, struct timetable_answer *out);

#endif
