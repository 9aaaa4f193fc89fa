/* Days and tasks: the timetable of all open pieces, what was begun and done. */
#include "app/op_days.h"
#include "app/days_text.h"
#include "app/days_words.h"
#include "app/op_help.h"
#include "app/op_record.h"
#include "app/zone.h"
#include "codec/plan_desc.h"
#include "codec/time_text.h"
#include "core/work/day_hours.h"
#include "store/shop.h"
#include "store/store.h"

#include <math.h>
#include <stdlib.h>
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

static struct task_view view_of(const struct day_task *t, const struct task_row *row,
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

enum status days_look_if(struct op_call *call, int64_t now_utc_min, bool recipes,
                         const struct days_ask *if_so, struct days_view *out, struct why *why) {
    struct task_row *rows;
    size_t n;
    struct row_query q = {.where = "piece IN (SELECT p.id FROM piece p WHERE p.removed = 0 AND "
                                   "p.stage NOT IN ('closed', 'left'))",
                          .after = INT64_MIN};
    out->now_utc_min = now_utc_min == INT64_MIN ? book_call_now(call) : now_utc_min;
    struct plan_ask ask = {.now_utc_min = out->now_utc_min,
                           .recipes_of = recipes ? NULL : "",
                           .lay_anew = if_so->anew};
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
        out->tasks[i] = view_of(&days->rows[i], row_of(rows, n, days->rows[i].id),
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
    size_t out = v->gathered.left_out_n;
    answer->left_out = arena_array(call->arena, out + 1, sizeof *answer->left_out);
    if (!answer->left_out) return why_no_memory(why);
    for (size_t i = 0; i < out; i++)
        answer->left_out[i] = arena_print(call->arena, "%s: %s", v->gathered.left_out[i].title,
                                          v->gathered.left_out[i].text);
    answer->left_out_n = out;
    struct days_clock clock;
    s = days_clock_make(call, v, &clock, why);
    if (!s) answer->order = days_order(&clock, v), answer->clock = days_clock_change(&clock, v);
    if (!s) s = days_promises(call, v, &answer->promises, &answer->promises_n, why);
    if (!s) days_print(call, v, answer->promises, answer->promises_n, args->ids, &call->out_body);
    return s;
}

/* ---- tasks ---- */

struct task_args {
    const char *id, *person;
    double took_min;
    int64_t at_utc_min;
};
static const struct field act_fields[] = {
    F_TEXT(struct task_args, id, "which task"),
    F_QTY(struct task_args, took, took_min, DIM_DURATION, 0, 10000,
          "hands-on time that it took: 40 min"),
    F_TIME(struct task_args, at, at_utc_min, FIELD_INSTANT, "when; now when not said"),
    F_ID(struct task_args, person, 0, "who, of the shop's crew; as planned when not said"),
};
static DESC(desc_act, struct task_args, "task_args", "What happened to a task.", act_fields);

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

/* The book's row of a task; made from the timetable when the book has none yet. */
static enum status task_row_of(struct op_call *call, const char *id, struct task_row *row,
                               struct why *why) {
    row_unsay(&table_task, row);
    if (!id) return why_say(why, E_MISSING, "/id", "Say which task.");
    enum status s = row_get(call->book, &table_task, "id", id, call->arena, row, NULL);
    if (s != E_NOT_FOUND) return s;
    struct days_view *v;
    s = days_before(call, &days_as_they_are, &v, why);
    if (s || !book_writes(call->book)) return s;
    for (size_t i = 0; i < v->tasks_n; i++) {
        const struct task_view *t = &v->tasks[i];
        if (strcmp(t->id, id)) continue;
        row_unsay(&table_task, row);
        row->id = t->id;
        row->piece = t->piece;
        row->name = t->name ? t->name : t->id;
        row->operation = t->operation;
        row->part_group = t->group;
        row->hands_min = t->hands_min;
        return row_add(call->book, &table_task, row, why);
    }
    return why_say(why, E_NOT_FOUND, "/id", "There is no task \"%.64s\" in the days.", id);
}

static const char *member_name(const struct crew_member *m) {
    return m->name ? m->name : m->id;
}

/* Who it is, if that is said: in the row, and by name. */
static enum status task_by(struct op_call *call, const char *person, struct task_row *row,
                           const char **out_name, struct why *why) {
    struct shop shop;
    const char *there = NULL;
    *out_name = NULL;
    if (!person) return OK;
    enum status s = gather_shop(call, &shop, why);
    if (s) return s;
    for (size_t i = 0; i < shop.crew_n; i++) {
        const struct crew_member *m = &shop.crew[i];
        there = there ? arena_print(call->arena, "%s, %s", there, m->id) : m->id;
        if (strcmp(m->id, person)) continue;
        row->person = m->id;
        *out_name = member_name(m);
        return OK;
    }
    if (!there)
        return why_say(why, E_REFERENCE, "/person",
                       "The shop does not say who works in it. Name its people under \"crew\" in "
                       "the shop first.");
    return why_say(why, E_REFERENCE, "/person",
                   "There is no \"%.64s\" in the shop's crew. There are: %s.", person, there);
}

enum status days_piece_in_work(struct op_call *call, const char *id, struct why *why) {
    struct piece_row row;
    enum status s = book_get(call, &table_piece, id, &row, why);
    if (s || (strcmp(row.stage, "looked_over") && strcmp(row.stage, "agreed"))) return s;
    row.stage = "in_work";
    return row_change(call->book, &table_piece, &row, why);
}

static void answer_task(struct op_call *call, const struct task_row *row) {
    struct task_view *v = call->result;
    struct day_task t = {.id = row->id,
                         .piece = row->piece,
                         .group = row->part_group,
                         .name = row->name,
                         .operation = row->operation,
                         .who = row->person,
                         .hands_min = row->hands_min,
                         .start_utc_min = row->start_utc_min,
                         .end_utc_min = row->end_utc_min,
                         .dry_until_utc_min = row->dry_until_utc_min,
                         .window_end_utc_min = row->window_end_utc_min,
                         .stack_utc_min = INT64_MIN};
    *v = view_of(&t, row, NULL);
}

/* One line for a terminal. */
static void say(struct op_call *call, const char *line) {
    if (line) text_wrap(&call->out_body, 0, 0, line);
}

/* The task, not done yet, by whom, and nothing that forbids to begin it. */
static enum status task_at_hand(struct op_call *call, struct task_row *row, const char **out_by,
                                struct why *why) {
    const struct task_args *args = call->args;
    enum status s = task_row_of(call, args->id, row, why);
    if (s || !book_writes(call->book)) return s;
    if (row->done_utc_min != INT64_MIN)
        return why_say(why, E_CONFLICT, "/id", "%s is done already.", row->name);
    s = task_by(call, args->person, row, out_by, why);
    if (!s && row->begun_utc_min == INT64_MIN) s = help_may_begin(call, row->piece, row->id, why);
    return s;
}

static enum status start(struct op_call *call, struct why *why) {
    const struct task_args *args = call->args;
    struct task_row row;
    const char *by;
    enum status s = task_at_hand(call, &row, &by, why);
    if (s || !book_writes(call->book)) return s;
    if (row.begun_utc_min == INT64_MIN)
        row.begun_utc_min = args->at_utc_min == INT64_MIN ? book_call_now(call) : args->at_utc_min;
    s = row_change(call->book, &table_task, &row, why);
    if (!s) s = days_piece_in_work(call, row.piece, why);
    if (!s) s = book_says(call->book, why, by ? "begun: %s, by %s" : "begun: %s", row.name, by);
    answer_task(call, &row);
    if (by) row.name = arena_print(call->arena, "%s, by %s", row.name, by);
    say(call, arena_print(call->arena, "Begun: %s. When it is done: coatwright task done %s",
                          row.name, row.id));
    return s;
}

static enum status done(struct op_call *call, struct why *why) {
    const struct task_args *args = call->args;
    struct task_row row;
    const char *by;
    enum status s = task_at_hand(call, &row, &by, why);
    if (s || !book_writes(call->book)) return s;
    int64_t at = args->at_utc_min == INT64_MIN ? book_call_now(call) : args->at_utc_min;
    double took = args->took_min;
    if (isnan(took) && row.begun_utc_min != INT64_MIN && at > row.begun_utc_min &&
        at - row.begun_utc_min < 240)
        took = (double)(at - row.begun_utc_min); /* begun and done in one go: the clock knows */
    double length = isnan(took) ? (isnan(row.hands_min) ? 0 : row.hands_min) : took;
    if (row.begun_utc_min == INT64_MIN || row.begun_utc_min > at)
        row.begun_utc_min = at - (int64_t)length;
    row.done_utc_min = at;
    row.took_min = took;
    s = row_change(call->book, &table_task, &row, why);
    if (!s && !isnan(took))
        s = record_enter(call,
                         &(struct record_row){.piece = row.piece,
                                              .kind = "hours",
                                              .operation = row.operation,
                                              .planned = row.hands_min,
                                              .actual = took,
                                              .weight = 1,
                                              .note = row.id,
                                              .person = row.person,
                                              .at_utc_min = at,
                                              .corrects = INT64_MIN},
                         why);
    if (!s) s = days_piece_in_work(call, row.piece, why);
    if (!s) s = book_says(call->book, why, by ? "done: %s, by %s" : "done: %s", row.name, by);
    answer_task(call, &row);
    if (by) row.name = arena_print(call->arena, "%s, by %s", row.name, by);
    say(call, arena_print(call->arena, "Done: %s. What comes then: coatwright today", row.name));
    return s;
}

static enum status undone(struct op_call *call, struct why *why) {
    const struct task_args *args = call->args;
    struct task_row row;
    if (!args->id) return why_say(why, E_MISSING, "/id", "Say which task.");
    row_unsay(&table_task, &row);
    enum status s = row_get(call->book, &table_task, "id", args->id, call->arena, &row, why);
    if (s) return s;
    if (!isnan(row.took_min)) s = record_take_back(call, "hours", row.id, why);
    row.begun_utc_min = row.done_utc_min = INT64_MIN;
    row.took_min = (double)NAN;
    if (!s) s = row_change(call->book, &table_task, &row, why);
    if (!s) s = book_says(call->book, why, "open again: %s", row.name);
    answer_task(call, &row);
    say(call, arena_print(call->arena, "Open again: %s.", row.name));
    return s;
}

/* ---- a slip ---- */

enum { SLIP_DAYS_MAX = 300 };
struct slip_args {
    const char *id;
    int64_t until_local_min;
};
static const struct field slip_fields[] = {
    F_TEXT(struct slip_args, id, "which task"),
    F_TIME(struct slip_args, until, until_local_min, FIELD_LOCAL,
           "cannot go on before, on the shop's clock; it may again when not said"),
};
static DESC(desc_slip, struct slip_args, "slip_args", "A task that cannot go on.", slip_fields);

/* A coat still wet, a part that is late: what hangs on it moves, the rest stays. */
static enum status slip(struct op_call *call, struct why *why) {
    const struct slip_args *args = call->args;
    struct task_row row;
    struct shop shop;
    const struct zone_span *zone;
    size_t zone_n;
    enum status s = task_row_of(call, args->id, &row, why);
    if (!s && row.done_utc_min != INT64_MIN)
        s = why_say(why, E_CONFLICT, "/id", "%s is done already.", row.name);
    if (s || !book_writes(call->book)) return s;
    row.not_before_utc_min = INT64_MIN;
    if (args->until_local_min != INT64_MIN) {
        s = gather_shop(call, &shop, why);
        if (!s) s = zone_spans(shop.zone, book_call_now(call), call->arena, &zone, &zone_n, why);
        if (s) return s;
        const struct plan_options clock = {.zone = zone, .zone_n = zone_n};
        row.not_before_utc_min = day_utc_of_local(&clock, args->until_local_min);
        if (row.not_before_utc_min > book_call_now(call) + SLIP_DAYS_MAX * 1440)
            return why_say(why, E_DOMAIN, "/until",
                           "That is more than %d days ahead, farther than the days are planned. "
                           "Write an earlier day.",
                           SLIP_DAYS_MAX);
    }
    s = row_change(call->book, &table_task, &row, why);
    if (!s)
        s = book_says(call->book, why,
                      row.not_before_utc_min == INT64_MIN ? "may go on: %s"
                                                          : "cannot go on yet: %s",
                      row.name);
    answer_task(call, &row);
    say(call, arena_print(call->arena, "%s: %s. What moves: coatwright days replan",
                          row.not_before_utc_min == INT64_MIN ? "May go on" : "Cannot go on yet",
                          row.name));
    return s;
}

static const struct op rows[] = {
    {"days", OP_GET, "/api/days", &desc_now, &desc_days_answer, NULL, OP_READS | OP_SLOW,
     "the days of all open pieces", days},
    {"task start", OP_POST, "/api/tasks/{id}/start", &desc_act, &desc_task_view, positional_id,
     OP_WRITES | OP_PREPARES, "a task was begun", start},
    {"task done", OP_POST, "/api/tasks/{id}/done", &desc_act, &desc_task_view, positional_id,
     OP_WRITES | OP_PREPARES, "a task is done; how long it took teaches the next plans", done},
    {"task slip", OP_POST, "/api/tasks/{id}/slip", &desc_slip, &desc_task_view, positional_id,
     OP_WRITES | OP_PREPARES,
     "a task cannot go on before a time; accepted days move what hangs on it", slip},
    {"task undone", OP_POST, "/api/tasks/{id}/undone", &desc_act, &desc_task_view, positional_id,
     OP_WRITES, "a task is open again", undone},
};
extern const struct ops ops_days;
const struct ops ops_days = {rows, sizeof rows / sizeof *rows};
