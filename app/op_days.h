/* The days of all open pieces with the state of their tasks. */
#ifndef APP_OP_DAYS_H
#define APP_OP_DAYS_H

#include "app/book.h"
#include "app/gather.h"

enum task_state { TASK_UNSAID, TASK_OPEN, TASK_BEGUN, TASK_DONE };

struct task_view { /* a task of the timetable and what became of it */
    const char *id, *piece, *piece_title, *group, *name, *operation, *person, *held_by, *note,
        *stack_how, *who;
    enum task_state state;
    bool pauses;
    double hands_min, took_min, setup_min, cleanup_min, extra_min;
    int64_t start_utc_min, end_utc_min, dry_until_utc_min, window_end_utc_min, begun_utc_min,
        done_utc_min;
    int64_t stack_utc_min;      /* may be stacked; INT64_MIN: not before it is dry */
    int64_t promised_utc_min;   /* start that was accepted; INT64_MIN: none */
    int64_t not_before_utc_min; /* cannot go on earlier; INT64_MIN: any time */
};
extern const struct desc desc_task_view;
/* A task as it lies in the days, and what the book's row says became of it (NULL: nothing yet). */
struct task_view days_task_view(const struct day_task *t, const struct task_row *row,
                                const char *title);

struct days_view {
    struct gathered gathered;
    struct plan_answer answer;
    struct task_view *tasks; /* by start */
    size_t tasks_n;
    struct task_row *gone; /* accepted once, and not in the days any more */
    size_t gone_n;
    int64_t now_utc_min;
    bool anew; /* laid out anew, whatever was accepted */
};

/* What may happen, to see what it would move. */
struct days_ask {
    bool anew;               /* laid out anew, whatever was accepted */
    int64_t off_day;         /* nobody works on it; INT64_MIN: nothing of the kind */
    const char *person;      /* only this one does not; NULL: nobody */
    int64_t night_day;       /* the night after it is cold; INT64_MIN: none */
    double night_degc;       /* as cold as that */
    const struct shop *shop; /* this one instead of the book's; NULL: the book's */
};
extern const struct days_ask days_as_they_are;
#define DAYS_ASK_FIELDS(S)                                                                         \
    {.name = "anew",                                                                               \
     .offset = offsetof(S, ask.anew),                                                              \
     .type = FIELD_BOOL,                                                                           \
     .help = "laid out anew, whatever was accepted, and looked for longer"},                       \
        {.name = "off",                                                                            \
         .offset = offsetof(S, ask.off_day),                                                       \
         .type = FIELD_DAY,                                                                        \
         .help = "if nobody worked on this day"},                                                  \
        {.name = "person",                                                                         \
         .offset = offsetof(S, ask.person),                                                        \
         .type = FIELD_ID,                                                                         \
         .help = "only this one of the crew does not work on it"},                                 \
        {.name = "cold",                                                                           \
         .offset = offsetof(S, ask.night_day),                                                     \
         .type = FIELD_DAY,                                                                        \
         .help = "if the night after this day were cold"},                                         \
    {                                                                                              \
        .name = "night", .offset = offsetof(S, ask.night_degc), .type = FIELD_QUANTITY,            \
        .dimension = DIM_TEMPERATURE, .min = -40, .max = 60,                                       \
        .help = "how cold it would be in the shop: 45 F"                                           \
    }

/* Puts it into a shop that was gathered, and into the book's shop.
 * Errors: E_MISSING (a night without its temperature), E_REFERENCE (no such person). */
enum status days_if_apply(const struct days_ask *ask, struct shop *shop, struct arena *arena,
                          struct why *why);
enum status days_if_enter(struct op_call *call, const struct days_ask *ask, struct why *why);

/* Gathers, plans and joins the book's tasks. now: INT64_MIN for the clock's. Without recipes (what
 * hangs on them: struct plan_options) it is much quicker; the days are the same. */
enum status days_look(struct op_call *call, int64_t now_utc_min, bool recipes,
                      struct days_view *out, struct why *why);

/* The same, if that happened. */
enum status days_look_if(struct op_call *call, int64_t now_utc_min, bool recipes,
                         const struct days_ask *if_so, struct days_view *out, struct why *why);

/* The days before a change, computed outside of it where possible (OP_PREPARES). */
enum status days_before(struct op_call *call, const struct days_ask *if_so, struct days_view **out,
                        struct why *why);

/* Work on the piece has begun: it is no longer only looked over or agreed. */
enum status days_piece_in_work(struct op_call *call, const char *id, struct why *why);

/* The next step of the same group has begun, or there is none: the window of this task no longer
 * matters. */
bool days_followed(const struct days_view *v, size_t task);

/* Pieces that come after the day they were promised for, and what they wait for, in words. */
enum status days_promises(struct op_call *call, const struct days_view *v, const char ***out,
                          size_t *out_n, struct why *why);

#endif
