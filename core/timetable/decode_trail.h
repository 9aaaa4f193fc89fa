/* What the decoder keeps of a timetable, so that the next ones need not be built from the start:
 * its log, and its own state after some numbers of tasks. */
#ifndef CORE_TIMETABLE_DECODE_TRAIL_H
#define CORE_TIMETABLE_DECODE_TRAIL_H

#include "core/timetable/decode.h"

/* Logs of all rounds; without snapshots yet. false: no memory. */
bool trail_make(struct decoder *d, struct arena *arena);

/* So many tasks are tried as in the timetable kept and stand as they do there, by ranks and manner
 * of this call. Counts those of other ranks as pending. */
int trail_same(struct decoder *d);

/* The decoder comes to stand as after the kept timetable's first tasks, `most` of them at most;
 * `now` says so. Returns their number; 0: nothing was done. */
int trail_restore(struct decoder *d, struct decode_log *now, int most);

/* To be called after `n` tasks that are as in the timetable kept. */
void trail_save(struct decoder *d, int n);

/* Nothing has been tried yet. */
void trail_clear(struct decode_log *now, int tasks);

/* Task i is tried (again) now, or may be from now on. */
void trail_popped(struct decoder *d, int i);
void trail_pushed(struct decode_log *now, int i);

/* The state after n tasks is that of the timetable kept: true when all that follows is so as well,
 * and the decoder then stands as after it. */
bool trail_finish(struct decoder *d, int n);

#endif
