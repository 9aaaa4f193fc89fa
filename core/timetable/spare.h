/* What is left of one person's working time: the windows less what is booked, as pieces in order.
 * Where a block fits is then one walk over few pieces, with no look at windows and blocks apart. */
#ifndef CORE_TIMETABLE_SPARE_H
#define CORE_TIMETABLE_SPARE_H

#include "core/timetable/hours.h"

struct spare_piece {
    int64_t from, to; /* free, within one window */
    int window;
};
struct spare {
    const struct hours *hours;
    struct spare_piece *pieces; /* [n] those of windows before `past`; after them all is free */
    int n, past;
};

struct spare_fit {
    int64_t begin, to; /* of the block; between them no free minute is left out */
    int64_t piece_to;  /* end of the piece in which it begins */
};

/* taken: most bookings at a time, each of which makes a piece at most. */
bool spare_make(struct spare *s, const struct hours *hours, int taken, struct arena *arena);

/* All is free again from `now` on. */
void spare_clear(struct spare *s, int64_t now);

/* [from, to) is booked; what is of it is given back. from <= to; outside windows nothing happens.
 */
void spare_take(struct spare *s, int64_t from, int64_t to);
void spare_give(struct spare *s, int64_t from, int64_t to);

/* Earliest block of `work` > 0 minutes that begins at `from` or later: within one window, or, when
 * pausable, over several. false: there is none. */
bool spare_fit(struct spare *s, int64_t from, int64_t work, bool pausable, struct spare_fit *out);

#endif
