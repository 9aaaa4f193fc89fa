#include "app/batch_task.h"

#include "app/gather.h"
#include "app/op_days.h"
#include "app/op_help.h"
#include "codec/job_desc.h"

#include <string.h>

/* The plan knows which batches are of the piece's color, and how much is wanted. */
static bool holds_enough(const struct piece_plan *p) {
    if (!p->color.mixes || !p->color.batch) return false;
    for (size_t i = 0; i < p->amounts.n; i++) {
        const struct amount *a = &p->amounts.rows[i];
        if (a->role == ROLE_COLOR && !a->product && !a->color_row) return a->mixed_ml >= a->need_ml;
    }
    return false;
}

/* Beside the others, for one of them may make the batch that serves both. NULL: it cannot be
 * planned, or has no batch of its color. */
static const struct piece_plan *plan_of(struct op_call *call, const char *piece) {
    struct gathered g;
    struct plan_answer *answer = arena_take(call->arena, sizeof *answer);
    struct plan_ask ask = {.now_utc_min = book_call_now(call), .no_days = true};
    if (!answer || gather_job(call, piece, true, &g, NULL)) return NULL;
    if (!g.job.pieces[0].batch) return NULL; /* of another color: no recipe need be searched */
    desc_unsay(&desc_plan_answer, answer);
    if (gather_plan(call, &g, piece, &ask, answer, NULL) || !answer->plan.pieces_n) return NULL;
    const struct piece_plan *p = &answer->plan.pieces[0];
    for (size_t i = 1; p->batch_of && i < answer->plan.pieces_n; i++)
        if (!strcmp(answer->plan.pieces[i].id, p->batch_of)) return &answer->plan.pieces[i];
    return p;
}

/* The task's row, made where the days were not kept; named as the days name it. */
static enum status row_of(struct op_call *call, const struct piece_plan *p, const char *id,
                          struct task_row *row, struct why *why) {
    row_unsay(&table_task, row);
    enum status s = row_get(call->book, &table_task, "id", id, call->arena, row, NULL);
    if (s != E_NOT_FOUND) return s;
    row_unsay(&table_task, row);
    row->id = id;
    row->piece = p->id;
    row->operation = "mix_batch";
    row->name = p->colors_n && p->color.target.text
                    ? arena_print(call->arena, "Mix the batch of %s", p->color.target.text)
                    : "Mix the batch";
    return row->name ? row_add(call->book, &table_task, row, why) : why_no_memory(why);
}

enum status batch_task_tick(struct op_call *call, const char *piece, const char **out_name,
                            struct why *why) {
    struct task_row row;
    struct why forbids = {{0}, {0}};
    *out_name = NULL;
    const struct piece_plan *p = piece ? plan_of(call, piece) : NULL;
    if (!p || !holds_enough(p)) return OK;
    const char *id = arena_print(call->arena, "%s-mix", p->id);
    if (!id) return why_no_memory(why);
    enum status s = help_may_begin(call, p->id, id, &forbids);
    if (s == E_REFUSED) return OK; /* what was mixed is logged all the same */
    if (s) return why_say(why, s, forbids.field, "%s", forbids.text);
    if ((s = row_of(call, p, id, &row, why)) || row.done_utc_min != INT64_MIN) return s;
    row.done_utc_min = book_call_now(call);
    if (row.begun_utc_min == INT64_MIN) row.begun_utc_min = row.done_utc_min;
    *out_name = row.name;
    s = row_change(call->book, &table_task, &row, why);
    return s ? s : days_piece_in_work(call, p->id, why);
}
