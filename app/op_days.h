/* The days of all open pieces with the state of their tasks. */
#ifndef APP_OP_DAYS_H
#define APP_OP_DAYS_H

#include "app/book.h"
#include "app/gather.h"

enum task_state { TASK_UNSAID, TASK_OPEN, TASK_BEGUN, TASK_DONE };

struct task_view { /* a task of the timetable and what became of it */
    const char *id, *piece, *piece_title, *group, *name, *operation, *person, *held_by;
    enum task_state state;
    double hands_min, took_min;
    int64_t start_utc_min, end_utc_min, dry_until_utc_min, window_end_utc_min, begun_utc_min,
        done_utc_min;
    int64_t promised_utc_min;   /* start that was accepted; INT64_MIN: none */
    int64_t not_before_utc_min; /* cannot go on earlier; INT64_MIN: any time */
};
extern const struct desc desc_task_view;

struct days_view {
    struct gathered gathered;
    struct plan_answer answer;
    struct task_view *tasks; /* by start */
    size_t tasks_n;
    int64_t now_utc_min;
};

/* Gathers, plans and joins the book's tasks. now: INT64_MIN for the clock's. Without recipes (what
 * hangs on them: struct plan_options) it is much quicker; the days are the same. */
enum status days_look(struct op_call *call, int64_t now_utc_min, bool recipes,
                      struct days_view *out, struct why *why);

#endif
