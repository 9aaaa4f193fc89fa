#include "app/op_plan.h"

#include "app/cited.h"
#include "app/when.h"
#include "app/zone.h"
#include "codec/job_desc.h"
#include "core/work/cans.h"
#include "core/work/names.h"
#include "core/work/unsaid_class.h"

#include <string.h>

enum status plan_of_job(const struct tables *t, const struct job *job, const struct plan_ask *ask,
                        struct arena *arena, struct plan_answer *out, struct why *why) {
    struct plan_options o = {.now_utc_min = ask->now_utc_min,
                             .want_basis = ask->sheets, /* a sheet says how each figure is known */
                             .units = ask->units,
                             .limit = ask->limit,
                             .seed = 1,
                             .recipes_of = ask->recipes_of,
                             .kept = ask->kept,
                             .kept_n = ask->kept_n,
                             .lay_anew = ask->lay_anew,
                             .no_days = ask->no_days,
                             .first_turn = ask->first_turn};
    enum status s = zone_spans(job->shop.zone, ask->now_utc_min, arena, &o.zone, &o.zone_n, why);
    if (s) return s;
    struct plan_answer a = {0};
    if ((s = plan_make(t, job, &o, arena, &a.plan, why))) return s;
    const size_t sheets_n = ask->sheets == SHEETS_FIRST ? 1 : a.plan.pieces_n;
    const struct sheet_standing standing = {ask->kept, ask->kept_n, ask->closed};
    if (ask->sheets && (s = sheet_make(t, &a.plan, sheets_n, &standing, o.zone, o.zone_n,
                                       ask->units, arena, &a.sheet)))
        return why_no_memory(why);
    if (!ask->why) a.plan.bases_n = 0;
    if (!cited_bases(t, a.plan.bases, a.plan.bases_n, arena)) return why_no_memory(why);
    *out = a;
    return OK;
}

/* ---- plan JOB.json ---- */

struct plan_args {
    const char *job;
    bool why;
    int64_t now_utc_min;
    enum unit_system units;
};

static const struct field plan_args_fields[] = {
    {F_AT(struct plan_args, job), .type = FIELD_JSON, .flags = FLAG_REQUIRED | FLAG_FILE,
     .help = "the job document"},
    {F_AT(struct plan_args, why), .type = FIELD_BOOL, .help = "say where every figure comes from"},
    {.name = "now",
     .offset = offsetof(struct plan_args, now_utc_min),
     .type = FIELD_INSTANT,
     .help = "plan as if it were this time"},
    {F_AT(struct plan_args, units), .type = FIELD_WORD, .words = words_units,
     .help = "units of the sheet; else the shop's"},
};
static DESC(desc_plan_args, struct plan_args, "plan_args", "What to plan.", plan_args_fields);

/* A list's own bound is the same; here all pieces count. */
static enum status parts_bound(const struct job *job, struct why *why) {
    enum { PARTS_MAX = 2000 };
    size_t n = 0;
    for (size_t i = 0; i < job->pieces_n; i++) n += job->pieces[i].parts_n;
    if (n <= PARTS_MAX) return OK;
    return why_say(why, E_TOO_LARGE, "/pieces",
                   "Together they list %zu parts. At most %d are allowed in a document.", n,
                   PARTS_MAX);
}

static enum status run_plan(struct op_call *call, struct why *why) {
    const struct plan_args *a = call->args;
    struct job *job = arena_take(call->arena, sizeof *job);
    if (!job) return why_no_memory(why);
    enum status s =
        document_read(&desc_job, SPELL_INPUT, a->job, strlen(a->job), call->arena, job, why);
    if (!s) s = parts_bound(job, why);
    if (!s) s = names_shelf_check(call->app->tables, &job->shelf, "/shelf", call->arena, why);
    if (s) return s;
    cans_fill(&job->shelf);
    unsaid_classes(call->app->tables, &job->shelf);
    int64_t now = a->now_utc_min;
    if ((s = when_in_zone(call, job->shop.zone, &now, why))) return s;
    struct plan_ask ask = {.now_utc_min =
                               now != INT64_MIN ? now : call->app->now_utc_min(call->app->now_ctx),
                           .sheets = SHEETS_ALL,
                           .why = a->why,
                           .units = a->units,
                           .limit = call->limit};
    return plan_of_job(call->app->tables, job, &ask, call->arena, call->result, why);
}

static const char *const plan_positional[] = {"job", NULL};
static const struct op rows[] = {
    {"plan", OP_POST, "/api/plan", &desc_plan_args, &desc_plan_answer, plan_positional, OP_SLOW,
     "the whole job sheet of a job document", run_plan},
};
const struct ops ops_plan = {rows, sizeof rows / sizeof *rows};
