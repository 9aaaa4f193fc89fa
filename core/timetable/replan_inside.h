/* Shared by the parts of the re-plan. */
#ifndef CORE_TIMETABLE_REPLAN_INSIDE_H
#define CORE_TIMETABLE_REPLAN_INSIDE_H

#include "core/base/random.h"
#include "core/timetable/decode.h"

/* A timetable, by what the decoder was given. */
struct kept {
    double *rank;
    int64_t *not_before;
    int *keep_person, *go_on_with;
    bool *shifted; /* [tasks_n] does not stand where it stood */
    bool keeps, found;
    int64_t lateness;
    double moved;
};

struct replan {
    const struct timetable_problem *p;
    const struct timetable_answer *old;
    const int *old_task;
    struct decoder d;
    double *rank, *weight;
    struct kept best; /* least lateness, then least moved */
    struct kept lean; /* least moved, to begin with another time */
};

/* Where task i stood; NULL: nowhere. */
const struct timetable_place *replan_old_place(const struct replan *r, int i);

/* Is it to be placed? */
bool replan_open(const struct replan *r, int i);

/* Can the old block of task i not stay, whatever else moves? */
bool replan_displaced(const struct replan *r, int i);

/* Marks all that must come after what is marked. */
void replan_mark_after(const struct replan *r, bool *mark);

/* Wishes: old times, persons and shared set-ups for all but the free ones. free NULL: for all. */
void replan_wish(struct replan *r, const bool *free);

/* r->rank by old starts; new tasks by their dates, and as urgent as what must follow them. */
void replan_rank(struct replan *r);

/* Ranks and wishes as they were kept. */
void replan_take_up(struct replan *r, const struct kept *k);

/* Builds from r->rank and the decoder's wishes; keeps it where it is better. mended NULL: lean
 * keeps the one that moves least; else it is mended[0] that goes on. */
void replan_attempt(struct replan *r, bool keeps, struct kept *mended);

/* Whole timetables, until best is no later than must be; work1, work2: [tasks_n + 1]. bound:
 * lateness proved. */
void replan_whole(struct replan *r, bool *work1, bool *work2, struct limit limit, int64_t bound,
                  struct random *random);

#endif
