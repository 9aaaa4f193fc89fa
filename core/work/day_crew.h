/* Who works in the shop, as the timetable sees it: hours, days off, and what each one does. */
#ifndef CORE_WORK_DAY_CREW_H
#define CORE_WORK_DAY_CREW_H

#include "core/work/day_tasks.h"

enum { DAY_CREW_MAX = 8 };

struct day_crew {
    struct timetable_person people[DAY_CREW_MAX];
    const char *ids[DAY_CREW_MAX]; /* in the shop's crew; "1", "2" where they have no names */
    int people_n;
    int64_t longest_min; /* the longest time that each of them has in one go */
};

/* The shop's crew, or as many people as it says with the shop's hours.
 * Errors: E_DOMAIN (somebody never works in these days), E_MEMORY. */
enum status day_crew_make(const struct shop *shop, const struct plan_options *o, int64_t begin,
                          int days, struct ledger *l, struct day_crew *out, struct why *why);

/* Index of an id; TIMETABLE_NONE: NULL, or nobody who is there now. */
int day_crew_find(const struct day_crew *crew, const char *id);

/* Sets what each person can do and each task needs. Errors: E_REFERENCE (no such operation),
 * E_DOMAIN (a task that nobody does), with the field in the job document. */
enum status day_crew_skills(const struct tables *t, const struct shop *shop, struct ledger *l,
                            struct day_crew *crew, struct day_tasks *d, struct why *why);

/* Tasks of the operations that the shop does in one go stop at no break, unless they are longer
 * than any time in one go. Errors: E_REFERENCE (no such operation), with the field. */
enum status day_crew_one_go(const struct tables *t, const struct shop *shop,
                            const struct day_crew *crew, struct ledger *l, struct day_tasks *d,
                            struct why *why);

#endif
