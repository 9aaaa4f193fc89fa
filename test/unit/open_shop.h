/* What the small shops of the timetable's tests have in common: open hours, and a chain of tasks of
 * an hour each, one after the other. */
#ifndef TEST_UNIT_OPEN_SHOP_H
#define TEST_UNIT_OPEN_SHOP_H

#include "core/timetable/timetable.h"

enum { DAY = 1440 };

/* 8 to 12 and 13 to 17, seven days a week. Returns how many spans. */
static inline int open_hours(struct timetable_span *hours, int days) {
    for (int day = 0; day < days; day++) {
        hours[2 * day] = (struct timetable_span){day * DAY + 480, day * DAY + 720};
        hours[2 * day + 1] = (struct timetable_span){day * DAY + 780, day * DAY + 1020};
    }
    return 2 * days;
}

static inline void open_chain(struct timetable_task *task, struct timetable_lag *lag, int n) {
    for (int i = 0; i < n; i++) {
        task[i] = timetable_work(60);
        lag[i] =
            (struct timetable_lag){NULL, i, i + 1, false, 0, TIMETABLE_UNSAID, TIMETABLE_NONE, -1};
    }
}

#endif
