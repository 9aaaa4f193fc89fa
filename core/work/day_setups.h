/* Set-up and clean-up of coats: done once for several parts while the tool is kept wet. */
#ifndef CORE_WORK_DAY_SETUPS_H
#define CORE_WORK_DAY_SETUPS_H

#include "core/work/day_tasks.h"

/* Rows of the timetable's set-ups: one for each product, tool and kind of work. A color mixed for a
 * piece is a product of that piece; what comes out of a can as it is serves all pieces. hardens: of
 * two parts (core/work/pot.h), so that the tool goes straight on or is cleaned.
 *
 * Returns the coat's row; TIMETABLE_NONE where nothing is set up (not a film, or no time in it), or
 * where memory is out (l->failed). */
int day_setup_of(const struct tables *t, const struct piece_plan *p, const struct coat *k,
                 bool hardens, struct ledger *l, struct day_tasks *d);

/* Lets coats go on with a tool that is still wet where the timetable set up anew for no need: what
 * was found by finish and sittings alone keeps its times and has a few minutes less to do. */
void day_setups_share(const struct day_tasks *d, struct timetable_answer *a);

/* What a place shares or spares, in words: "Goes on with the wet brush of ...: 11 min saved."; NULL
 * when it sets up and cleans up for itself. out_saved_min: minutes, 0 then. */
const char *day_setup_words(const struct day_tasks *d, const struct timetable_answer *a,
                            const struct piece_plan *pieces, size_t i, struct arena *arena,
                            int32_t *out_saved_min);

#endif
