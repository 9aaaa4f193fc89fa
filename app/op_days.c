/* The days of all open pieces: the timetable, joined with what was begun and done. */
#include "app/op_days.h"
#include "app/days_outside.h"
#include "app/days_text.h"
#include "app/days_words.h"
#include "codec/plan_desc.h"
#include "store/shop.h"

#include <math.h>
#include <string.h>

/* ---- shapes ---- */

static const char *const words_state[] = {"", "open", "begun", "done", NULL};
static const struct field task_fields[] = {
    F_TEXT(struct task_view, id, "public name"),
    F_TEXT(struct task_view, piece, "id of the piece"),
    F_TEXT(struct task_view, piece_title, "what the piece is called"),
    F_TEXT(struct task_view, group, "group of parts"),
    F_TEXT(struct task_view, name, "in words"),
    F_TEXT(struct task_view, operation, "kind of work"),
    F_TEXT(struct task_view, person, "who does it, where the shop tells people apart"),
    F_TEXT(struct task_view, who, "the same, by public name"),
    F_WORD(struct task_view, state, words_state, "open, begun or done"),
    F_QTY(struct task_view, hands, hands_min, DIM_DURATION, 0, 0, "hands-on time"),
    F_QTY(struct task_view, took, took_min, DIM_DURATION, 0, 0, "hands-on time that it took"),
    F_TIME(struct task_view, start, start_utc_min, FIELD_INSTANT, "from"),
    F_TIME(struct task_view, end, end_utc_min, FIELD_INSTANT, "to"),
    F_TIME(struct task_view, dry_until, dry_until_utc_min, FIELD_INSTANT, "dry enough to follow"),
    F_TIME(struct task_view, window_end, window_end_utc_min, FIELD_INSTANT,
           "next coat without scuffing until"),
    F_TIME(struct task_view, stack, stack_utc_min, FIELD_INSTANT,
           "hard enough to be stacked: takes less floor"),
    F_TEXT(struct task_view, stack_how, "how it may be stacked"),
    F_TIME(struct task_view, begun, begun_utc_min, FIELD_INSTANT, "really begun"),
    F_TIME(struct task_view, done, done_utc_min, FIELD_INSTANT, "really done"),
    F_TIME(struct task_view, not_before, not_before_utc_min, FIELD_INSTANT,
           "cannot go on before, as was said"),
    F_TIME(struct task_view, promised, promised_utc_min, FIELD_INSTANT, "start that was accepted"),
    F_BOOL(struct task_view, pauses, "stops at a break or over night and goes on until its end"),
    F_QTY(struct task_view, setup, setup_min, DIM_DURATION, 0, 0,
          "getting ready, before the start"),
    F_QTY(struct task_view, cleanup, cleanup_min, DIM_DURATION, 0, 0, "cleaning up, after the end"),
    F_QTY(struct task_view, extra, extra_min, DIM_DURATION, 0, 0,
          "hands-on time for a missed window or a batch too old, in front of it"),
    F_TEXT(struct task_view, held_by, "what keeps it from being earlier"),
    F_TEXT(struct task_view, note, "a set-up saved, a window missed, a batch mixed anew"),
};
DESC(desc_task_view, struct task_view, "task_view", "A task and what became of it.", task_fields);

struct open_piece {
    const char *id, *title;
    int64_t deliver_utc_min;
};
static const struct field open_fields[] = {
    F_TEXT(struct open_piece, id, "public name"),
    F_TEXT(struct open_piece, title, "what it is called"),
    F_TIME(struct open_piece, deliver, deliver_utc_min, FIELD_INSTANT, "can be handed over"),
};
static DESC(desc_open_piece, struct open_piece, "open_piece", "A piece in the days.", open_fields);

struct days_answer {
    int64_t now_utc_min;
    struct days days;
    struct task_view *tasks;
    size_t tasks_n;
    struct open_piece *pieces;
    size_t pieces_n;
    const char **promises, **left_out, *order, *clock;
    size_t promises_n, left_out_n;
    struct outside_row *outside;
    size_t outside_n;
    bool cut;
};
static const struct field days_fields[] = {
    F_TIME(struct days_answer, now, now_utc_min, FIELD_INSTANT,
           "the time for which it was planned"),
    F_RECORD(struct days_answer, days, &desc_days, "the timetable"),
    F_LIST(struct days_answer, tasks, &desc_task_view, 100000,
           "its tasks with what became of them, by start"),
    F_LIST(struct days_answer, pieces, &desc_open_piece, GATHER_PIECES, "the pieces in it"),
    F_TEXT(struct days_answer, order, "how good the order is, in words"),
    F_TEXT(struct days_answer, clock, "that the clocks are changed in these days, in words"),
    F_TEXTS(struct days_answer, promises, GATHER_PIECES, "pieces that come after their day"),
    F_LIST(struct days_answer, outside, &desc_outside_row, OUTSIDE_ROWS,
           "what work waits for from outside"),
    F_TEXTS(struct days_answer, left_out, GATHER_PIECES + 1,
            "pieces that cannot be planned, and why"),
    F_BOOL(struct days_answer, cut, "there are more open pieces than are planned together"),
};
static DESC(desc_days_answer, struct days_answer, "days_answer", "The days of all open pieces.",
            days_fields);

struct now_args {
    struct days_ask ask;
    int64_t now_utc_min;
    bool ids;
};
static const struct field now_fields[] = {
    DAYS_ASK_FIELDS(struct now_args),
    F_TIME(struct now_args, now, now_utc_min, FIELD_INSTANT, "as if it were this time"),
    F_BOOL(struct now_args, ids, "text with the tasks' public names, for task start and task done"),
};
static DESC(desc_now, struct now_args, "days_args", "When, and how.", now_fields);

/* ---- looking ---- */

static const struct task_row *row_of(const struct task_row *rows, size_t n, const char *id) {
    for (size_t i = 0; i < n; i++)
        if (!strcmp(rows[i].id, id)) return &rows[i];
    return NULL;
}

static const char *title_of(const struct plan *plan, const char *piece) {
    for (size_t i = 0; i < plan->pieces_n; i++)
        if (!strcmp(plan->pieces[i].id, piece)) return plan->pieces[i].title;
    return NULL;
}

struct task_view days_task_view(const struct day_task *t, const struct task_row *row,
                                const char *title) {
    struct task_view v = {.id = t->id,
                          .piece = t->piece,
                          .piece_title = title,
                          .group = t->group,
                          .name = t->name,
                          .operation = t->operation,
                          .person = t->person,
                          .who = t->who,
                          .held_by = t->held_by,
                          .note = t->note,
                          .pauses = t->pauses,
                          .setup_min = t->setup_min,
                          .cleanup_min = t->cleanup_min,
                          .extra_min = t->extra_min,
                          .state = TASK_OPEN,
                          .hands_min = t->hands_min,
                          .took_min = (double)NAN,
                          .start_utc_min = t->start_utc_min,
                          .end_utc_min = t->end_utc_min,
                          .dry_until_utc_min = t->dry_until_utc_min,
                          .window_end_utc_min = t->window_end_utc_min,
                          .stack_utc_min = t->stack_utc_min,
                          .stack_how = t->stack_how,
                          .begun_utc_min = INT64_MIN,
                          .done_utc_min = INT64_MIN,
                          .promised_utc_min = INT64_MIN,
                          .not_before_utc_min = INT64_MIN};
    if (!row) return v;
    v.state = row->done_utc_min != INT64_MIN    ? TASK_DONE
              : row->begun_utc_min != INT64_MIN ? TASK_BEGUN
                                                : TASK_OPEN;
    v.took_min = row->took_min;
    v.begun_utc_min = row->begun_utc_min;
    v.done_utc_min = row->done_utc_min;
    v.promised_utc_min = row->start_utc_min;
    v.not_before_utc_min = row->not_before_utc_min;
    return v;
}

static bool is_gone(const struct task_row *row, const struct days_view *v) {
    if (row->start_utc_min == INT64_MIN || row->begun_utc_min != INT64_MIN) return false;
    if (!title_of(&v->answer.plan, row->piece)) return false; /* its piece is left out */
    for (size_t i = 0; i < v->tasks_n; i++)
        if (!strcmp(v->tasks[i].id, row->id)) return false;
    return true;
}

/* Days of a time, a shop or an order that are not the book's. */
static bool is_supposed(int64_t now_utc_min, const struct days_ask *if_so) {
    return now_utc_min != INT64_MIN || if_so->anew || if_so->off_day != INT64_MIN ||
           if_so->night_day != INT64_MIN || if_so->shop;
}

enum status days_look_if(struct op_call *call, int64_t now_utc_min, bool recipes,
                         const struct days_ask *if_so, struct days_view *out, struct why *why) {
    struct task_row *rows;
    size_t n;
    struct row_query q = {.where = "piece IN (SELECT p.id FROM piece p WHERE p.removed = 0 AND "
                                   "p.stage NOT IN ('closed', 'left'))",
                          .after = INT64_MIN};
    out->anew = if_so->anew;
    out->now_utc_min = now_utc_min == INT64_MIN ? book_call_now(call) : now_utc_min;
    struct plan_ask ask = {.now_utc_min = out->now_utc_min,
                           .recipes_of = recipes ? NULL : "",
                           .lay_anew = if_so->anew,
                           .supposed = is_supposed(now_utc_min, if_so)};
    out->tasks_n = 0;
    enum status s = gather_job(call, NULL, true, &out->gathered, why);
    if (!s) s = days_if_apply(if_so, &out->gathered.job.shop, call->arena, why);
    if (s) return s;
    desc_unsay(&desc_plan_answer, &out->answer);
    if (out->gathered.job.pieces_n)
        s = gather_plan(call, &out->gathered, NULL, &ask, &out->answer, why);
    if (!s) s = row_list(call->book, &table_task, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (s) return s;
    const struct days *days = &out->answer.plan.days;
    out->tasks = arena_array(call->arena, days->n + 1, sizeof *out->tasks);
    if (!out->tasks) return why_no_memory(why);
    for (size_t i = 0; i < days->n; i++)
        out->tasks[i] = days_task_view(&days->rows[i], row_of(rows, n, days->rows[i].id),
                                       title_of(&out->answer.plan, days->rows[i].piece));
    out->tasks_n = days->n;
    out->gone = arena_array(call->arena, n + 1, sizeof *out->gone);
    if (!out->gone) return why_no_memory(why);
    out->gone_n = 0;
    for (size_t i = 0; i < n; i++)
        if (is_gone(&rows[i], out)) out->gone[out->gone_n++] = rows[i];
    return OK;
}

enum status days_look(struct op_call *call, int64_t now_utc_min, bool recipes,
                      struct days_view *out, struct why *why) {
    return days_look_if(call, now_utc_min, recipes, &days_as_they_are, out, why);
}

bool days_followed(const struct days_view *v, size_t i) {
    for (size_t k = i + 1; k < v->tasks_n; k++) {
        const struct task_view *a = &v->tasks[i], *b = &v->tasks[k];
        bool same =
            !strcmp(a->piece, b->piece) && a->group && b->group && !strcmp(a->group, b->group);
        if (same) return b->state != TASK_OPEN;
    }
    return true;
}

enum status days_before(struct op_call *call, const struct days_ask *if_so, struct days_view **out,
                        struct why *why) {
    if (!call->prepared) {
        struct days_view *v = arena_take(call->arena, sizeof *v);
        enum status s =
            v ? days_look_if(call, INT64_MIN, false, if_so, v, why) : why_no_memory(why);
        if (s) return s;
        call->prepared = v;
    }
    *out = call->prepared;
    return OK;
}

static enum status days(struct op_call *call, struct why *why) {
    const struct now_args *args = call->args;
    struct days_answer *answer = call->result;
    struct days_view *v = arena_take(call->arena, sizeof *v);
    enum status s =
        v ? days_look_if(call, args->now_utc_min, false, &args->ask, v, why) : why_no_memory(why);
    if (s) return s;
    const struct plan *plan = &v->answer.plan;
    answer->now_utc_min = v->now_utc_min;
    answer->days = plan->days;
    answer->tasks = v->tasks, answer->tasks_n = v->tasks_n;
    answer->cut = v->gathered.cut;
    answer->pieces = arena_array(call->arena, plan->pieces_n + 1, sizeof *answer->pieces);
    if (!answer->pieces) return why_no_memory(why);
    for (size_t i = 0; i < plan->pieces_n; i++)
        answer->pieces[i] = (struct open_piece){plan->pieces[i].id, plan->pieces[i].title,
                                                plan->pieces[i].deliver_utc_min};
    answer->pieces_n = plan->pieces_n;
    answer->left_out = gather_left_out(call->arena, &v->gathered, &answer->left_out_n);
    if (!answer->left_out) return why_no_memory(why);
    struct days_clock clock;
    s = days_clock_make(call, v, &clock, why);
    if (!s) answer->order = days_order(&clock, v), answer->clock = days_clock_change(&clock, v);
    if (!s) s = days_promises(call, v, &answer->promises, &answer->promises_n, why);
    if (!s) s = days_outside(call, v, 0, &answer->outside, &answer->outside_n, why);
    if (!s) {
        struct days_said said = {answer->promises,  answer->promises_n, answer->outside,
                                 answer->outside_n, answer->left_out,   answer->left_out_n,
                                 args->ids};
        days_print(call, v, &said, &call->out_body);
    }
    return s;
}

static const struct op rows[] = {
    {"days", OP_GET, "/api/days", &desc_now, &desc_days_answer, NULL, OP_READS | OP_SLOW,
     "the days of all open pieces", days},
};
extern const struct ops ops_days;
const struct ops ops_days = {rows, sizeof rows / sizeof *rows};
