/* What happened to a task: begun, done, open again, kept from going on. */
#include "app/op_days.h"
#include "app/op_help.h"
#include "app/op_record.h"
#include "codec/text_wrap.h"
#include "codec/time_text.h"

#include <math.h>
#include <string.h>

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
    *v = days_task_view(&t, row, NULL);
}

/* One line for a terminal. */
static void say(struct op_call *call, const char *line) {
    if (line) text_wrap(&call->out_body, 0, 0, line);
}

/* When it was; a slip of the year would put all that follows behind it, for good. A day's grace is
 * for clocks that are set wrong. */
static enum status when_was(struct op_call *call, int64_t *out_utc_min, struct why *why) {
    enum { GRACE_MIN = 24 * 60 };
    const struct task_args *args = call->args;
    int64_t now = book_call_now(call), at = args->at_utc_min == INT64_MIN ? now : args->at_utc_min;
    char said[40], is[40];
    instant_print(at, said, sizeof said);
    instant_print(now, is, sizeof is);
    if (at > now + GRACE_MIN)
        return why_say(why, E_DOMAIN, "/at",
                       "%s has not come yet: it is %s. Write when it was begun or done, or leave "
                       "it out for now.",
                       said, is);
    *out_utc_min = at;
    return OK;
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
    struct task_row row;
    const char *by;
    int64_t at;
    enum status s = task_at_hand(call, &row, &by, why);
    if (!s) s = when_was(call, &at, why);
    if (s || !book_writes(call->book)) return s;
    if (row.begun_utc_min == INT64_MIN) row.begun_utc_min = at;
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
    int64_t at;
    enum status s = task_at_hand(call, &row, &by, why);
    if (!s) s = when_was(call, &at, why);
    if (s || !book_writes(call->book)) return s;
    enum { ONE_GO_MIN = 4 * 60 }; /* begun and done in one go: the clock knows how long it took */
    double took = args->took_min;
    if (isnan(took) && row.begun_utc_min != INT64_MIN && at > row.begun_utc_min &&
        at - row.begun_utc_min < ONE_GO_MIN)
        took = (double)(at - row.begun_utc_min);
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
    int64_t until_utc_min;
};
static const struct field slip_fields[] = {
    F_TEXT(struct slip_args, id, "which task"),
    F_TIME(struct slip_args, until, until_utc_min, FIELD_INSTANT,
           "cannot go on before; it may again when not said"),
};
static DESC(desc_slip, struct slip_args, "slip_args", "A task that cannot go on.", slip_fields);

/* A coat still wet, a part that is late: what hangs on it moves, the rest stays. */
static enum status slip(struct op_call *call, struct why *why) {
    const struct slip_args *args = call->args;
    struct task_row row;
    enum status s = task_row_of(call, args->id, &row, why);
    if (!s && row.done_utc_min != INT64_MIN)
        s = why_say(why, E_CONFLICT, "/id", "%s is done already.", row.name);
    if (s || !book_writes(call->book)) return s;
    row.not_before_utc_min = INT64_MIN;
    if (args->until_utc_min != INT64_MIN) {
        row.not_before_utc_min = args->until_utc_min;
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
extern const struct ops ops_task;
const struct ops ops_task = {rows, sizeof rows / sizeof *rows};
