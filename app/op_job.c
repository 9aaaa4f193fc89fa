/* A piece of the book planned with the shelf, the shop and the other open pieces; and as a job
 * document that can go elsewhere. */
#include "app/book.h"
#include "app/gather.h"
#include "codec/job_desc.h"

#include <string.h>

struct plan_args {
    const char *id;
    bool why;
    enum unit_system units;
    int64_t now_utc_min;
};
static const struct field plan_fields[] = {
    F_ID(struct plan_args, id, FLAG_REQUIRED, "which piece"),
    F_BOOL(struct plan_args, why, "say where every figure comes from"),
    F_WORD(struct plan_args, units, words_units, "units of the sheet; else the shop's"),
    F_TIME(struct plan_args, now, now_utc_min, FIELD_INSTANT, "plan as if it were this time"),
};
static DESC(desc_plan_args, struct plan_args, "piece_plan_args", "What to plan.", plan_fields);

struct preview_args {
    const char *piece;
    bool why;
    enum unit_system units;
    int64_t now_utc_min;
};
static const struct field preview_fields[] = {
    {F_AT(struct preview_args, piece), .type = FIELD_JSON, .flags = FLAG_REQUIRED | FLAG_FILE,
     .help = "the piece, as one of a job document's pieces"},
    F_BOOL(struct preview_args, why, "say where every figure comes from"),
    F_WORD(struct preview_args, units, words_units, "units of the sheet; else the shop's"),
    F_TIME(struct preview_args, now, now_utc_min, FIELD_INSTANT, "plan as if it were this time"),
};
static DESC(desc_preview_args, struct preview_args, "piece_preview_args", "What to plan.",
            preview_fields);

/* Of the shop, or of the first piece. */
static bool is_own(const char *pointer) {
    static const char first[] = "/pieces/0", any[] = "/pieces/";
    return strncmp(pointer, any, sizeof any - 1) ||
           (!strncmp(pointer, first, sizeof first - 1) && strchr("/", pointer[sizeof first - 1]));
}

static void others_out(struct plan *p) {
    size_t assumed_n = 0, bases_n = 0;
    for (size_t i = 0; i < p->assumed_n; i++)
        if (is_own(p->assumed[i].pointer)) p->assumed[assumed_n++] = p->assumed[i];
    for (size_t i = 0; i < p->bases_n; i++)
        if (is_own(p->bases[i].pointer)) p->bases[bases_n++] = p->bases[i];
    p->assumed_n = assumed_n;
    p->bases_n = bases_n;
    p->pieces_n = 1;
}

/* All open pieces share the days; the sheet is of the first. */
static enum status plan_first(struct op_call *call, struct gathered *g, const struct plan_ask *ask,
                              struct why *why) {
    struct plan_answer *answer = call->result;
    enum status s = gather_plan(call, g, g->job.pieces[0].id, ask, answer, why);
    if (!s) others_out(&answer->plan);
    return s;
}

static enum status plan(struct op_call *call, struct why *why) {
    const struct plan_args *args = call->args;
    struct gathered g;
    struct plan_ask ask = {.now_utc_min = args->now_utc_min == INT64_MIN ? book_call_now(call)
                                                                         : args->now_utc_min,
                           .sheets = SHEETS_FIRST,
                           .why = args->why,
                           .units = args->units};
    enum status s = gather_job(call, args->id, true, &g, why);
    return s ? s : plan_first(call, &g, &ask, why);
}

static enum status preview(struct op_call *call, struct why *why) {
    const struct preview_args *args = call->args;
    struct gathered g;
    struct plan_ask ask = {.now_utc_min = args->now_utc_min == INT64_MIN ? book_call_now(call)
                                                                         : args->now_utc_min,
                           .sheets = SHEETS_FIRST,
                           .why = args->why,
                           .units = args->units,
                           .supposed = true};
    enum status s = gather_guest(call, args->piece, &g, why);
    if (s) return s;
    static const char planned[] = "/pieces/0/"; /* where the piece stands; it came as /piece */
    struct why inner = {{0}, {0}};
    s = plan_first(call, &g, &ask, &inner);
    if (!s) return OK;
    bool own = !strncmp(inner.field, planned, sizeof planned - 1);
    return why_say(why, s,
                   arena_print(call->arena, "%s%s", own ? "/piece/" : "",
                               inner.field + (own ? sizeof planned - 1 : 0)),
                   "%s", inner.text);
}

/* What is gone from the shelf and still taught from goes along as an empty can, before the cans of
 * it. */
static enum status gone_along(struct shelf *shelf, struct arena *a, struct why *why) {
    if (!shelf->gone_n) return OK;
    struct paint *all = arena_array(a, shelf->paints_n + shelf->gone_n, sizeof *all);
    if (!all) return why_no_memory(why);
    for (size_t i = 0; i < shelf->gone_n; i++) all[i] = shelf->gone[shelf->gone_n - 1 - i];
    memcpy(all + shelf->gone_n, shelf->paints, shelf->paints_n * sizeof *all);
    shelf->paints = all;
    shelf->paints_n += shelf->gone_n;
    shelf->gone_n = 0;
    return OK;
}

static enum status document(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct gathered g;
    enum status s = gather_job(call, args->id, false, &g, why);
    if (!s) s = gone_along(&g.job.shelf, call->arena, why);
    if (!s) s = document_print(&desc_job, SPELL_INPUT, &g.job, 2, &call->out_body);
    call->out_type = "application/json";
    call->out_file_name = arena_print(call->arena, "%s.job.json", args->id);
    return s ? s : call->out_body.failed ? why_no_memory(why) : OK;
}

static const char *const preview_positional[] = {"piece", NULL};
static const struct op rows[] = {
    {"piece plan", OP_GET, "/api/pieces/{id}/plan", &desc_plan_args, &desc_plan_answer,
     positional_id, OP_READS | OP_SLOW, "the whole job sheet of a piece in the book", plan},
    {"piece preview", OP_POST, "/api/pieces/preview", &desc_preview_args, &desc_plan_answer,
     preview_positional, OP_READS | OP_SLOW,
     "the job sheet of a piece that is not in the book yet, with what the shop has and has open",
     preview},
    {"piece document", OP_GET, "/api/pieces/{id}/document", &desc_id_args, NULL, positional_id,
     OP_READS, "a piece with shop and shelf as a job document", document},
};
extern const struct ops ops_job;
const struct ops ops_job = {rows, sizeof rows / sizeof *rows};
