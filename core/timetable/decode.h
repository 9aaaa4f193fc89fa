/* From a list of priorities to a timetable: each task in turn goes to its earliest place among
 * what stands already (serial schedule generation, Kolisch 1996, with working hours). */
#ifndef CORE_TIMETABLE_DECODE_H
#define CORE_TIMETABLE_DECODE_H

#include "core/timetable/booking.h"
#include "core/timetable/shop.h"
#include "core/timetable/spare.h"

/* One task where it stands; person TIMETABLE_NOBODY where no hands are needed. */
struct stand {
    int64_t start, end, block_from, block_to;
    int person;
    int follows, followed; /* task whose set-up it goes on with, which goes on with its */
    int32_t setup_min, cleanup_min, scuff_min;
    bool placed;
};

/* How a decoder weighs what pulls both ways. */
struct manner {
    bool keep_windows; /* put tasks off rather than miss a maximum with a price */
    int32_t patience;  /* minutes that a task may end later to go on with another's set-up */
};

/* What a round did, place by place, so that the next need not look again as far as nothing that
 * bears on it has changed. Two rounds are in the same state where they have placed the same tasks
 * at the same places; that is told by a sum of hashes, which 64 bits keep apart. */
struct decode_log {
    int *task;           /* [room] in the order in which they were tried */
    struct stand *stand; /* [room] where each came to stand; not placed: found no room */
    uint64_t *state;     /* [room] what stands after it */
    int n;
};

/* Working memory of one decoder; not shared between threads. */
struct decoder {
    const struct shop *shop;
    struct stand *stand; /* [tasks_n] the timetable of the last call */
    struct timetable_score score;
    int64_t *not_before; /* [tasks_n] set by the caller, INT64_MIN: none */
    int *keep_person;    /* [tasks_n] the only person wanted, TIMETABLE_ANYBODY: free choice */
    int *go_on_with;     /* [tasks_n] the task whose set-up it should go on with, set by the caller;
                            TIMETABLE_NONE: free choice */
    struct manner manner; /* set by the caller */

    int64_t *bump; /* [tasks_n] put off so far, so that a maximum holds */
    int *next_wet; /* [tasks_n] the task that is to go on with its set-up, so that no clean-up is
                      booked; TIMETABLE_NONE */
    int *missing;  /* [tasks_n] predecessors not yet placed */
    int *wait_for; /* [tasks_n] predecessors in all */
    struct shop_list after;
    struct diary *diaries; /* [persons_n] */
    struct spare *spares;  /* [persons_n] the same by what is free */
    struct level *levels;  /* [resources_n] */
    int *wet, *wet_n;      /* of each row of setups: tasks that another may go on with, those of
                              row k from same_setup.first[k] on */
    int *heap, *parked, *yields; /* yields: [lags_n] times a task was put off for this lag */
    bool *hold_open;             /* [holds_n] its end is not known yet */
    int heap_n, parked_n;
    struct decode_log logs[2]; /* of the rounds in turn */
    int log_room;
    int *changed;    /* [tasks_n] last round in which it was found that it must stand otherwise */
    int round;       /* of the call */
    uint64_t rounds; /* timetables begun in all */
    const double *rank;
};

bool decoder_make(struct decoder *d, const struct shop *shop, struct arena *arena);

/* Lower rank goes first, as far as lags let it. true: stand and score hold a timetable in which
 * every rule is kept. false: none came out of these ranks. Takes no memory. */
bool decode(struct decoder *d, const double *rank);

/* A fixed task where it stands. */
struct stand decode_fixed(const struct timetable_task *task);

/* Of what stands, as it does: its score. */
struct timetable_score decode_score(const struct decoder *d);

#endif
