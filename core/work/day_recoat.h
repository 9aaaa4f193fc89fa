/* A shop that would rather wait than scuff: recoat windows as edges that no plan passes. */
#ifndef CORE_WORK_DAY_RECOAT_H
#define CORE_WORK_DAY_RECOAT_H

#include "core/work/day_tasks.h"

/* Which of d's lags (problem->lags) are windows, and what missing them costs. */
struct day_recoat {
    bool *keepable; /* [lags_n] these hours can keep it */
    int32_t *price; /* [lags_n] scuff_min as it was */
};

/* Finds the windows that these hours can keep; those that they cannot are said in *out. Films that
 * were begun keep what is left of theirs. Call after day_keep_tasks. E_MEMORY. */
enum status day_recoat_find(const struct timetable_problem *p, const struct day_tasks *d,
                            const struct plan *plan, struct ledger *l, struct notices *out,
                            struct day_recoat *r);

/* Is one of them missed, other than as it was accepted? old, old_task: as day_keep_accepted gives
 * them; NULL where nothing was. */
bool day_recoat_missed(const struct day_tasks *d, const struct day_recoat *r,
                       const struct timetable_answer *a, const struct timetable_answer *old,
                       const int *old_task);

/* Those that close no sooner than `from_min` after a coat must not be missed, the others may at
 * their price. */
void day_recoat_tighten(struct day_tasks *d, const struct day_recoat *r, int64_t from_min);

/* Says that no order keeps them all. */
void day_recoat_say_loose(struct ledger *l, struct notices *out);

#endif
