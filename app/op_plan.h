/* Planning a job: the plan as numbers and the sheet as rows. */
#ifndef APP_OP_PLAN_H
#define APP_OP_PLAN_H

#include "app/op.h"
#include "app/sheet/sheet.h"
#include "core/work/plan.h"

struct plan_answer {
    struct plan plan; /* its members stand at the top of the printed answer */
    struct sheet sheet;
};
extern const struct desc desc_plan_answer;

enum plan_sheets { SHEETS_NONE, SHEETS_FIRST, SHEETS_ALL };

struct plan_ask {
    int64_t now_utc_min;
    enum plan_sheets sheets;      /* of which pieces; NONE: no basis is worked out either */
    bool why;                     /* keep the bases */
    enum unit_system units;       /* of the sheet; UNSAID: the shop's */
    const char *recipes_of;       /* as in struct plan_options */
    struct limit limit;           /* steps 0: the usual, deterministic */
    const struct task_kept *kept; /* tasks that have begun, are done, or were accepted */
    size_t kept_n;
    bool lay_anew, no_days;            /* as in struct plan_options */
    size_t first_turn;                 /* too */
    bool supposed;                     /* not as the book has it: no list shows it */
    const struct sheet_closed *closed; /* the first piece is; NULL: it is open */
};

/* Plans a job and writes the sheets that are asked for. Everything in *out is the arena's; job must
 * live as long. Errors: those of plan_make; E_DOMAIN at /shop/zone. */
enum status plan_of_job(const struct tables *t, const struct job *job, const struct plan_ask *ask,
                        struct arena *arena, struct plan_answer *out, struct why *why);

extern const struct ops ops_plan;

#endif
