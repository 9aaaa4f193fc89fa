/* The drilling template of a piece's pulls, from the book or from a job document. */
#include "app/book.h"
#include "app/drill_svg.h"
#include "app/gather.h"
#include "codec/job_desc.h"

#include <string.h>

struct drill_args {
    const char *id, *job, *piece;
    enum unit_system units;
};
static const struct field of_piece_fields[] = {
    F_ID(struct drill_args, id, FLAG_REQUIRED, "which piece"),
    F_WORD(struct drill_args, units, words_units, "units of the sheet; else the shop's"),
};
static DESC(desc_of_piece, struct drill_args, "piece_drill_args", "Whose pulls.", of_piece_fields);
static const struct field of_job_fields[] = {
    {F_AT(struct drill_args, job), .type = FIELD_JSON, .flags = FLAG_REQUIRED | FLAG_FILE,
     .help = "the job document"},
    F_ID(struct drill_args, piece, 0, "id of the piece; the first one when not said"),
    F_WORD(struct drill_args, units, words_units, "units of the sheet; else the shop's"),
};
static DESC(desc_of_job, struct drill_args, "drill_args", "Whose pulls.", of_job_fields);

static enum status draw(struct op_call *call, const struct plan *plan, size_t piece,
                        enum unit_system units, struct why *why) {
    const struct piece_plan *p = &plan->pieces[piece];
    const char *at = arena_print(call->arena, "/pieces/%zu", piece);
    struct drill d;
    enum status s = drill_make(call->app->tables, p, at ? at : "", call->arena, &d, why);
    if (!s)
        s = drill_svg(&d, p->title, units ? units : plan->shop.units, call->arena, &call->out_body,
                      why);
    call->out_type = "image/svg+xml";
    return s;
}

static enum status of_piece(struct op_call *call, struct why *why) {
    const struct drill_args *args = call->args;
    struct gathered g;
    struct plan_answer answer;
    struct plan_ask ask = {
        .now_utc_min = book_call_now(call), .units = args->units, .no_days = true};
    enum status s = gather_job(call, args->id, false, &g, why);
    if (!s) s = gather_plan(call, &g, args->id, &ask, &answer, why);
    return s ? s : draw(call, &answer.plan, 0, args->units, why);
}

static enum status of_job(struct op_call *call, struct why *why) {
    const struct drill_args *args = call->args;
    struct job *job = arena_take(call->arena, sizeof *job);
    struct plan_answer answer;
    struct plan_ask ask = {.now_utc_min = call->app->now_utc_min(call->app->now_ctx),
                           .limit = call->limit,
                           .no_days = true};
    if (!job) return why_no_memory(why);
    enum status s =
        document_read(&desc_job, SPELL_INPUT, args->job, strlen(args->job), call->arena, job, why);
    if (!s) s = plan_of_job(call->app->tables, job, &ask, call->arena, &answer, why);
    if (s) return s;
    for (size_t i = 0; i < answer.plan.pieces_n; i++)
        if (!args->piece || !strcmp(answer.plan.pieces[i].id, args->piece))
            return draw(call, &answer.plan, i, args->units, why);
    return why_say(why, E_NOT_FOUND, "/piece", "There is no piece \"%.64s\" in this job.",
                   args->piece);
}

static const char *const drill_positional[] = {"job", NULL};
static const struct op rows[] = {
    {"piece drill", OP_GET, "/api/pieces/{id}/drill", &desc_of_piece, NULL, positional_id,
     OP_READS | OP_SLOW, "the drilling template of its pulls in true size, as SVG", of_piece},
    {"drill", OP_POST, "/api/drill", &desc_of_job, NULL, drill_positional, OP_SLOW,
     "the drilling template of a job document's pulls in true size, as SVG", of_job},
};
extern const struct ops ops_drill;
const struct ops ops_drill = {rows, sizeof rows / sizeof *rows};
