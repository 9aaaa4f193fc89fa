/* From the stands of a decoder to what the caller sees: places, segments, drying, reasons. */
#ifndef CORE_TIMETABLE_ANSWER_H
#define CORE_TIMETABLE_ANSWER_H

#include "core/timetable/decode.h"

/* d must hold a timetable (decode returned true). bound and proof are the caller's to fill.
 * Errors: E_MEMORY. */
enum status answer_make(struct decoder *d, struct arena *arena, struct timetable_answer *out);

/* From score and bound: proven, and by how many percent the first part of the score that is not
 * proven is above its bound. */
void answer_judge(struct timetable_answer *a, int64_t now);

#endif
