/* Planning again: what would move, in words, before it is kept. */
#include "app/days_text.h"
#include "app/days_words.h"
#include "app/op_help.h"

#include <string.h>

enum { LINES_MAX = 200 };

struct replan_args {
    struct days_ask ask;
};
static const struct field ask_fields[] = {DAYS_ASK_FIELDS(struct replan_args)};
static DESC(desc_ask, struct replan_args, "replan_args", "How, and what if.", ask_fields);

struct replan_answer {
    const char *count;
    const char **ready, **promises, **changes;
    size_t ready_n, promises_n, changes_n;
};
static const struct field replan_fields[] = {
    F_TEXT(struct replan_answer, count,
           "how many tasks move; unsaid when nothing was accepted yet"),
    F_TEXTS(struct replan_answer, ready, GATHER_PIECES,
            "pieces that would be ready on another day than they are without this"),
    F_TEXTS(struct replan_answer, promises, 1000, "pieces that would come after their day"),
    F_TEXTS(struct replan_answer, changes, LINES_MAX,
            "what would move against what was accepted, in words"),
};
static DESC(desc_replan, struct replan_answer, "replan_answer", "What would move.", replan_fields);

struct line {
    const char *title, *text;
};
struct lines {
    struct line rows[LINES_MAX];
    size_t n;
};

static void line_add(struct lines *l, const char *title, const char *text) {
    if (text && l->n < LINES_MAX) l->rows[l->n++] = (struct line){title, text};
}

static void find_lines(const struct days_clock *c, const struct days_view *v, struct lines *out) {
    const struct plan *plan = &v->answer.plan;
    for (size_t p = 0; p < plan->pieces_n; p++) {
        const char *title = plan->pieces[p].title;
        for (size_t i = 0; i < v->tasks_n; i++)
            if (!strcmp(v->tasks[i].piece, plan->pieces[p].id))
                line_add(out, title, days_move(c, &v->tasks[i]));
        for (size_t i = 0; i < v->gone_n; i++)
            if (!strcmp(v->gone[i].piece, plan->pieces[p].id))
                line_add(out, title,
                         arena_print(c->arena, "%s: no longer needed.", v->gone[i].name));
    }
}

/* Which pieces are ready on another day than in the days as they are. */
static enum status find_ready(struct op_call *call, const struct days_clock *c,
                              const struct days_view *v, struct replan_answer *out,
                              struct why *why) {
    struct days_view *is = arena_take(call->arena, sizeof *is);
    enum status s = is ? days_look(call, INT64_MIN, false, is, why) : why_no_memory(why);
    if (s) return s;
    const struct plan *plan = &v->answer.plan, *was = &is->answer.plan;
    out->ready = arena_array(call->arena, plan->pieces_n + 1, sizeof *out->ready);
    if (!out->ready) return why_no_memory(why);
    for (size_t i = 0; i < plan->pieces_n; i++)
        for (size_t k = 0; k < was->pieces_n; k++) {
            const struct piece_plan *p = &plan->pieces[i], *w = &was->pieces[k];
            if (strcmp(p->id, w->id) || p->deliver_utc_min == INT64_MIN ||
                w->deliver_utc_min == INT64_MIN)
                continue;
            int64_t day = days_local_day(c, p->deliver_utc_min),
                    before = days_local_day(c, w->deliver_utc_min);
            if (day != before)
                out->ready[out->ready_n++] =
                    arena_print(c->arena, "%s: ready %s instead of %s.", p->title, days_day(c, day),
                                days_day(c, before));
        }
    return OK;
}

static void print(const struct replan_answer *a, const struct lines *l, bool anew,
                  struct text *out) {
    if (!a->count && anew)
        text_wrap(out, 0, 0,
                  a->ready_n ? "A better order was found. coatwright days accept --anew keeps it."
                             : "No better order was found.");
    else if (!a->count)
        text_wrap(out, 0, 0,
                  "Nothing was accepted yet. coatwright days accept keeps the days as they are "
                  "planned.");
    else
        text_wrap(out, 0, 0, a->count);
    for (size_t i = 0; i < a->ready_n; i++) text_wrap(out, 0, 2, a->ready[i]);
    for (size_t i = 0; i < a->promises_n; i++) {
        text_print(out, "! ");
        text_wrap(out, 2, 2, a->promises[i]);
    }
    for (size_t i = 0; i < l->n; i++) {
        if (!i || strcmp(l->rows[i].title, l->rows[i - 1].title)) {
            text_print(out, "\n");
            text_wrap(out, 0, 0, l->rows[i].title);
        }
        text_print(out, "  ");
        text_wrap(out, 2, 4, l->rows[i].text);
    }
}

static enum status replan(struct op_call *call, struct why *why) {
    const struct replan_args *args = call->args;
    struct replan_answer *answer = call->result;
    struct days_view *v = arena_take(call->arena, sizeof *v);
    struct lines *lines = arena_take(call->arena, sizeof *lines);
    enum status s =
        v && lines ? days_look_if(call, INT64_MIN, false, &args->ask, v, why) : why_no_memory(why);
    struct days_clock clock;
    if (!s) s = days_clock_make(call, v, &clock, why);
    if (!s) s = find_ready(call, &clock, v, answer, why);
    if (!s) s = days_promises(call, v, &answer->promises, &answer->promises_n, why);
    if (s) return s;
    answer->count = days_move_count(&clock, v);
    if (answer->count) find_lines(&clock, v, lines);
    answer->changes = arena_array(call->arena, LINES_MAX, sizeof *answer->changes);
    if (!answer->changes) return why_no_memory(why);
    for (size_t i = 0; i < lines->n; i++)
        answer->changes[answer->changes_n++] =
            arena_print(call->arena, "%s, %s", lines->rows[i].title, lines->rows[i].text);
    print(answer, lines, args->ask.anew, &call->out_body);
    return OK;
}

static enum status accept_task(struct op_call *call, const struct task_view *t, struct why *why) {
    struct task_row row;
    row_unsay(&table_task, &row);
    enum status s = row_get(call->book, &table_task, "id", t->id, call->arena, &row, NULL);
    bool fresh = s == E_NOT_FOUND;
    if (s && !fresh) return s;
    row.id = t->id;
    row.piece = t->piece;
    row.name = t->name ? t->name : t->id;
    row.operation = t->operation;
    row.part_group = t->group;
    row.hands_min = t->hands_min;
    row.person = t->who;
    row.start_utc_min = t->start_utc_min;
    row.end_utc_min = t->end_utc_min;
    row.dry_until_utc_min = t->dry_until_utc_min;
    row.window_end_utc_min = t->window_end_utc_min;
    return fresh ? row_add(call->book, &table_task, &row, why)
                 : row_change(call->book, &table_task, &row, why);
}

static enum status accept(struct op_call *call, struct why *why) {
    const struct replan_args *args = call->args;
    struct done_answer *answer = call->result;
    struct days_view *v;
    enum status s = days_before(call, &args->ask, &v, why);
    if (!s && !v->tasks_n && !v->gone_n)
        return why_say(why, E_MISSING, "",
                       "There are no days to keep: no piece in the book has work to be done.");
    if (s || !book_writes(call->book)) return s;
    s = days_if_enter(call, &args->ask, why);
    for (size_t i = 0; !s && i < v->tasks_n; i++)
        if (v->tasks[i].state == TASK_OPEN) s = accept_task(call, &v->tasks[i], why);
    for (size_t i = 0; !s && i < v->gone_n; i++) {
        v->gone[i].start_utc_min = v->gone[i].end_utc_min = INT64_MIN;
        s = row_change(call->book, &table_task, &v->gone[i], why);
    }
    if (s) return s;
    answer->id = "days";
    answer->revision = book_revision(call->book);
    const size_t pieces = v->answer.plan.pieces_n;
    const char *all = arena_print(call->arena, "%zu task%s of %zu piece%s", v->tasks_n,
                                  v->tasks_n == 1 ? "" : "s", pieces, pieces == 1 ? "" : "s");
    if (!all) return why_no_memory(why);
    text_print(&call->out_body, "The days stand: %s.\n", all);
    return book_says(call->book, why, "%s", all);
}

static const struct op rows[] = {
    {"days replan", OP_POST, "/api/days/replan", &desc_ask, &desc_replan, NULL, OP_READS | OP_SLOW,
     "what would move if the days were planned again now, or if a day were off or a night cold",
     replan},
    {"days accept", OP_POST, "/api/days/accept", &desc_ask, &desc_done, NULL,
     OP_WRITES | OP_PREPARES | OP_SLOW,
     "keep the days as they are planned now, with the day off or cold night they are planned for",
     accept},
};
extern const struct ops ops_replan;
const struct ops ops_replan = {rows, sizeof rows / sizeof *rows};
