/* The days of a workshop: who does what when, what dries where, when it is ready.
 *
 * Times are int64 minutes since any origin (the app uses UTC minutes); time runs in whole minutes.
 * The caller expands shop hours, days off and the time zone into windows, so that a 23-hour day or
 * a 29 February needs no rule here.
 *
 * A task's block for its person is [set-up][scuff][work][clean-up]. `start` is when hands reach the
 * piece (scuff and work), `end` when they leave it; set-up lies before start, clean-up after end.
 * Lags, due dates and holds count from start and end. A task that cannot pause lies with its whole
 * block in one window of its person; one that can pause stops at a window's end and goes on at the
 * next window's begin. Two blocks of one person never overlap.
 *
 * Best means: least weighted lateness, then earliest finish, then fewest sittings.
 * Source of the problem class: Brucker et al. 1999, EJOR 112, "Resource-constrained project
 * scheduling: notation, classification, models, and methods" (minimum and maximum lags). */
#ifndef CORE_TIMETABLE_TIMETABLE_H
#define CORE_TIMETABLE_TIMETABLE_H

#include "core/base/arena.h"
#include "core/base/limit.h"
#include "core/base/status.h"

#include <stdbool.h>
#include <stdint.h>

#define TIMETABLE_UNSAID INT64_MIN  /* no date, no minimum, no maximum */
#define TIMETABLE_UNKNOWN INT64_MAX /* of `wait`: nobody knows yet when it comes */
enum {
    TIMETABLE_ANYBODY = -1, /* any person with the skills */
    TIMETABLE_NOBODY = -2,  /* needs no hands: runs by the clock, day and night */
    TIMETABLE_NONE = -1,    /* index that points nowhere */
    TIMETABLE_MAX_TASKS = 4000,
    TIMETABLE_MAX_LAGS = 40000,
    TIMETABLE_MAX_PERSONS = 16,
    TIMETABLE_MAX_RESOURCES = 64,
    TIMETABLE_MAX_HOLDS = 8000,
    TIMETABLE_MAX_WINDOWS = 20000, /* a person; of a resource: when it is shut */
};

/* [from, to), in order, not touching: a break is a gap between two of them. */
struct timetable_span {
    int64_t from, to;
};

struct timetable_person {
    const char *name; /* for messages; may be NULL, here and below */
    uint32_t skills;  /* bits of the caller's choosing */
    const struct timetable_span *windows;
    int windows_n;
};

/* Drying places by number, floor space in any unit, a spray booth. Nothing that is still to be
 * placed may hold any of it while it is shut, as warmth that goes off at night. */
struct timetable_resource {
    const char *name;
    int32_t capacity;                  /* 0..1e9 */
    const struct timetable_span *shut; /* [shut_n] in order, not touching; NULL: never */
    int shut_n;
};

/* Same product on the same tool: set up once, cleaned once, while it stays wet in between. A task
 * may follow another of the same person and row when it starts within keep_wet_min of the other's
 * end; then that one needs no clean-up and this one no set-up. One task has one follower. */
struct timetable_setup {
    const char *name;
    int32_t setup_min, cleanup_min; /* 0..1440 */
    int32_t keep_wet_min;           /* 0: never shared */
};

enum timetable_state {
    TIMETABLE_OPEN,  /* to be placed */
    TIMETABLE_FIXED, /* stands at fixed_start: begun, done, or promised to the hour */
};

struct timetable_task {
    const char *name;
    int32_t work_min; /* hands-on minutes, 0..100 000; 0 is an event */
    bool pausable;
    int person;      /* index, TIMETABLE_ANYBODY or TIMETABLE_NOBODY */
    uint32_t skills; /* the person must have all of these */
    int piece;       /* group for messages and bounds; TIMETABLE_NONE */
    int setup;       /* row of setups[], TIMETABLE_NONE */
    int64_t release; /* not before; TIMETABLE_UNSAID */
    int64_t due;     /* end wanted by; TIMETABLE_UNSAID */
    int32_t weight;  /* of a minute late, 0..1 000 000; counts only with due */
    int64_t wait;    /* result or part from outside expected then; TIMETABLE_UNSAID: none,
                        TIMETABLE_UNKNOWN: blocks this task and what follows it */
    enum timetable_state state;
    int64_t fixed_start, fixed_end; /* of FIXED: hands on the piece, as it was or is promised;
                                       not checked against windows; end >= start */
    int fixed_person;               /* of FIXED: who; TIMETABLE_NOBODY if nobody's time is taken */
};

/* Work for anybody, of no piece, with nothing said of when. */
struct timetable_task timetable_work(int32_t work_min);

/* How fast it dries: from `from` until the next row, progress_permille / 1000 minutes of drying
 * pass in a minute. Before the first row 1000. Rows in order of time; 0..4000; the last row > 0. */
struct timetable_rate {
    int64_t from;
    int32_t progress_permille;
};
struct timetable_climate {
    const struct timetable_rate *rates;
    int rates_n;
};

/* `to` starts at least min_min and at most max_min after the end (or start) of `from`.
 * With a climate both count as drying minutes at the rates of the hour (cold nights count less).
 * A maximum is missed only at a price: scuff_min more hands-on minutes in front of the work of
 * `to`; scuff_min < 0: it must not be missed at all. */
struct timetable_lag {
    const char *name; /* "recoat window of the barrier primer" */
    int from, to;
    bool from_start; /* counts from the start of `from`, not from its end */
    int64_t min_min; /* TIMETABLE_UNSAID: no minimum; may be negative (without climate) */
    int64_t max_min; /* TIMETABLE_UNSAID: no maximum; >= min_min */
    int climate;     /* row of climates[]; TIMETABLE_NONE: clock minutes */
    int32_t scuff_min;
};

/* `amount` of a resource is taken from the start of `first` until the end of `last`, and, if
 * `until_lag` names a lag whose `from` is `last`, on until that lag's minimum has passed (dry). */
struct timetable_hold {
    int first, last, resource;
    int32_t amount; /* 0..1e9 */
    int until_lag;  /* TIMETABLE_NONE: free at the end of `last` */
};

struct timetable_problem {
    int64_t now; /* nothing OPEN starts earlier */
    const struct timetable_task *tasks;
    const struct timetable_lag *lags;
    const struct timetable_person *persons;
    const struct timetable_resource *resources;
    const struct timetable_hold *holds;
    const struct timetable_setup *setups;
    const struct timetable_climate *climates;
    int tasks_n, lags_n, persons_n, resources_n, holds_n, setups_n, climates_n;
    int32_t sitting_gap_min; /* a pause up to this long belongs to the same sitting */
};

/* What holds a task where it is: nothing lets it start a minute earlier because of this. */
enum timetable_reason {
    TIMETABLE_BY_NOTHING,  /* starts at `now` */
    TIMETABLE_BY_RELEASE,  /* index: none */
    TIMETABLE_BY_WAIT,     /* none: something from outside */
    TIMETABLE_BY_FIXED,    /* none: it stands where it was put */
    TIMETABLE_BY_LAG,      /* lag: the minimum (drying) from `from` */
    TIMETABLE_BY_HOURS,    /* person: not at work, or the window too short */
    TIMETABLE_BY_PERSON,   /* task: the person is at that one */
    TIMETABLE_BY_RESOURCE, /* resource: full */
    TIMETABLE_BY_NEXT,     /* lag: would be too early for what must follow in time (maximum) */
    TIMETABLE_BY_ORDER,    /* none: later is better for the whole */
};

struct timetable_place {
    bool blocked;       /* not placed: waits on something unknown; times are TIMETABLE_UNSAID */
    int blocked_by;     /* task whose wait is unknown */
    int64_t start, end; /* hands on the piece, scuff included */
    int64_t block_from, block_to;              /* with set-up and clean-up */
    int person;                                /* TIMETABLE_NOBODY: none */
    int32_t setup_min, cleanup_min, scuff_min; /* what really is needed here */
    int follows;                           /* task whose set-up it goes on with; TIMETABLE_NONE */
    int64_t late_min;                      /* after due; 0 in time */
    const struct timetable_span *segments; /* the block, cut by breaks and nights */
    int segments_n;
    enum timetable_reason reason;
    int reason_index;
};

struct timetable_lag_time {
    int64_t dry;    /* the minimum has passed; TIMETABLE_UNSAID: no minimum or blocked */
    int64_t latest; /* the maximum passes; TIMETABLE_UNSAID: none */
    bool missed;    /* the maximum is missed, a scuff stands in front of `to` */
};

struct timetable_score {
    int64_t lateness; /* sum of weight * minutes */
    int64_t finish;   /* end of the last task placed; problem.now when nothing is */
    int32_t sittings;
};

/* a better than b: less lateness, then earlier finish, then fewer sittings. */
bool score_less(const struct timetable_score *a, const struct timetable_score *b);

struct timetable_answer {
    struct timetable_place *places;  /* [tasks_n] */
    struct timetable_lag_time *lags; /* [lags_n] */
    int tasks_n, lags_n, blocked_n;
    struct timetable_score score, bound; /* no timetable is better than bound */
    bool proven;                         /* lateness and finish are the best there are */
    double gap_percent; /* of the first of lateness, finish that is not proven; 0 when proven */
    bool stopped;       /* by limit.stop: not repeatable */
    uint64_t steps;     /* timetables tried */
};

/* The best timetable found within the limit, and how far from the best it can be at most.
 *
 *   limit  steps: timetables built (the first is built in any case), 32 orders tried counted as
 *          one; 1 gives a priority-rule one
 *   seed   same problem, steps and seed give the same answer
 *   arena  holds the answer and working memory: about 2 kB a task and lag, and at most
 *          8 MB of tables by the minute and of states where orders are tried
 *   why    field: pointer into the problem (/tasks/3, /lags/0); text names both facts at odds
 *
 * Errors: E_DOMAIN, E_REFERENCE, E_TOO_LARGE (malformed problem), E_IMPOSSIBLE (proved: lags that
 * contradict each other, a task longer than any window, nobody with the skills, more held than
 * there is), E_LIMIT (no timetable found within the limit, none proved impossible), E_MEMORY. */
enum status timetable_solve(const struct timetable_problem *problem, struct limit limit,
                            uint64_t seed, struct arena *arena, struct timetable_answer *out_answer,
                            struct why *why);

/* One line of what a re-plan changes. */
struct timetable_change {
    int task;
    int64_t was_start, was_end, start, end; /* was_*: TIMETABLE_UNSAID when it is new */
    int was_person, person;
    bool promise;    /* the task has a due date: somebody was told */
    int64_t late_by; /* minutes later than it was; negative: earlier */
};

/* A new timetable after a slip, a cold night, a day off, a new job: what has begun or is done
 * (FIXED) stays, all else keeps its old time unless it must move; promised tasks and near ones
 * move least.
 *
 *   problem  as it stands now, problem.now included
 *   old      the timetable in force; old_task[i] is the index in it of task i, TIMETABLE_NONE for
 *            a new one; old_task NULL: same indices
 *   out_changes  in order of the new start; arena's
 *
 * Errors: as timetable_solve. */
enum status timetable_replan(const struct timetable_problem *problem,
                             const struct timetable_answer *old, const int *old_task,
                             struct limit limit, uint64_t seed, struct arena *arena,
                             struct timetable_answer *out_answer,
                             struct timetable_change **out_changes, int *out_changes_n,
                             struct why *why);

#endif
