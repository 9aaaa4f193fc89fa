/* The steps of all pieces as one timetable problem. */
#ifndef CORE_WORK_DAY_TASKS_H
#define CORE_WORK_DAY_TASKS_H

#include "core/timetable/timetable.h"
#include "core/work/plan.h"

/* Resources: those that every shop has, then its warmths (day_cold.h). */
enum { DAY_FLOOR, DAY_BOOTH, DAY_AIR, DAY_RESOURCES };
enum { DAY_WARMTH_MOST = 8 /* lowest temperatures that differ */ };

enum day_kind { DAY_WORK, DAY_JOIN, DAY_HANDLE, DAY_DELIVER };

/* What a task of the timetable stands for. */
struct day_meta {
    enum day_kind kind;
    size_t piece;
    const char *id, *name, *group, *operation;
    const char *waits_for; /* what from outside, or NULL */
    double hands_min;
    const struct coat *coat; /* that it lays on or prepares; NULL */
    int pot_lag;             /* lag whose maximum is its batch's pot life; TIMETABLE_NONE */
    int dry_lag;             /* lag whose minimum is this task's drying; TIMETABLE_NONE */
    int hard_lag;          /* lag whose minimum is dry-hard: it may be stacked then, and takes less
                              floor; TIMETABLE_NONE: no sooner than it may go on */
    const char *stack_how; /* with hard_lag: in words */
    const char *before_night; /* how dry it is before a night too cold for it; NULL: any */
    bool drying;              /* drying is shown: a film, glue, filler */
    double
        booth_min; /* sprayed: until it is dry to touch and may leave the booth; 0: not sprayed */
};

struct day_tasks {
    struct timetable_task *tasks;
    struct day_meta *meta; /* [n], beside tasks */
    size_t n, tasks_cap, meta_cap;
    struct timetable_lag *lags;
    size_t lags_n, lags_cap;
    struct timetable_hold *holds;
    size_t holds_n, holds_cap;
    struct timetable_setup *setups; /* one per product, tool and kind of work (day_setups.h) */
    struct day_setup *setup_keys;
    size_t setups_n, setups_cap, setup_keys_cap;
    struct timetable_climate *climates; /* one per product class and stage in use */
    struct day_climate *climate_keys;
    size_t climates_n, climates_cap, keys_cap;
    struct day_cure *cures;
    size_t cures_n, cures_cap;
    struct timetable_resource room[DAY_RESOURCES + DAY_WARMTH_MOST]; /* what tasks hold */
    double warmth_degc[DAY_WARMTH_MOST]; /* of what forms no film below that; warmth_n of them */
    int warmth_n;
};

/* The last film of a group, which goes on curing when the piece has long been delivered: no part of
 * the timetable, whose finish is the last delivery. */
struct day_cure {
    int task, deliver; /* that lays it on; event of the piece */
    double cure_min;
    int climate; /* TIMETABLE_NONE: by the clock */
    double home; /* minutes where it will stand for one in the shop; NAN: not known to be warmer */
};

struct day_setup {
    const char *operation, *product, *class, *piece, *tool; /* what makes it one; NULL: any */
    int64_t color_row;
    const char *tool_name, *how; /* how it is kept wet */
};

struct day_climate {
    const char *class;
    bool hardening; /* light use and cure, no longer the water's leaving */
};

/* Builds tasks, lags and holds of every piece that is not refused.
 *
 *   begin        nothing starts earlier; nights are counted from here for `days`
 *   longest_min  longest opening window; a longer task may pause
 *   shelf        whose labels say how long a mix can be used
 *   floor_dm2    drying floor in dm2, DAY_FLOOR of the problem's resources; what lies flat takes
 *                less of it from dry-hard on (data/stacking.tsv)
 *   booth        sprayed coats hold DAY_BOOTH until they are dry to touch
 *   DAY_AIR      wet films and sanding keep out of each other's way (day_air.c)
 *   gate         when a result from outside is taken to come; tasks that a hazard blocks wait */
enum { DAY_AIR_ALL = 4000 /* more than there are wet films */ };
struct day_ask {
    const struct shelf *shelf;
    int64_t begin_utc_min, longest_min, gate_utc_min;
    int32_t floor_dm2;
    bool booth;
    int days;
};
enum status day_tasks_make(const struct tables *t, const struct plan *plan,
                           const struct day_ask *ask, const struct plan_options *o,
                           struct ledger *l, struct day_tasks *out);

/* The first coat of what spoils once mixed is never laid on too late (lag.scuff_min < 0): this lets
 * it be mixed anew at a price, where it is mixed already, or, `all`, everywhere. False: none was.
 */
bool day_pots_loosen(struct day_tasks *d, bool all);

/* Is mold washed off what is too wet to be coated already? It is as wet again then, and dries for
 * as long as it was given to dry once more (day_gate). */
bool day_washed_wet(const struct notices *n);

/* Is the film below rubbed down before the coat that this lag leads to, so that a scuff takes the
 * place of that? */
bool day_rubs(const struct day_tasks *d, const struct timetable_lag *lag);

#endif
