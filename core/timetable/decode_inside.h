/* Shared by the parts of the decoder. */
#ifndef CORE_TIMETABLE_DECODE_INSIDE_H
#define CORE_TIMETABLE_DECODE_INSIDE_H

#include "core/timetable/decode.h"

enum outcome {
    PLACED,
    NO_ROOM, /* as long as no other hold ends */
    PUT_OFF, /* a task that stands must start later: all is built anew */
    FAILED   /* that was done often enough */
};

/* Where task i is to stand; *s is left undefined unless PLACED. */
enum outcome find_place(struct decoder *d, int i, struct stand *s);

/* Books the holds that task i, which stands, opens and ends those that it closes; true when room
 * became free. */
bool book_holds(struct decoder *d, int i);

#endif
