/* Today: what now, what dries, what waits, what must not be missed, what runs short. */
#include "app/op_today.h"
#include "app/days_text.h"
#include "app/explain.h"
#include "app/short_list.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { TODAY_ROWS = 40, AROUND_ROWS = 120, NEXT_ROWS = 8 };
enum { WINDOW_SOON_MIN = 24 * 60, AROUND_MIN = 16 * 60, OUTSIDE_DAYS = 14 };

/* ---- today ---- */

static const struct field waiting_fields[] = {
    F_TEXT(struct waiting, piece, "id of the piece"),
    F_TEXT(struct waiting, title, "what the piece is called"),
    F_TEXT(struct waiting, client, "id of the client"),
    F_TEXT(struct waiting, text, "what it waits for"),
    F_BOOL(struct waiting, stops, "work must not go on before it"),
    F_BOOL(struct waiting, unplanned, "the piece is in no days: the text says why"),
};
static DESC(desc_waiting, struct waiting, "waiting", "Something that waits for somebody.",
            waiting_fields);

static const struct field today_fields[] = {
    {.name = "now",
     .offset = offsetof(struct today_answer, now_utc_min),
     .type = FIELD_INSTANT,
     .help = "the time it speaks of"},
    F_INT(struct today_answer, pieces_open, 0, 1e9, "open pieces"),
    {.name = "now",
     .offset = offsetof(struct today_answer, now),
     .count_offset = offsetof(struct today_answer, now_n),
     .type = FIELD_LIST,
     .of = &desc_task_view,
     .items_max = TODAY_ROWS,
     .help = "what to do at this hour: begun, else the first open one"},
    F_LIST(struct today_answer, next, &desc_task_view, TODAY_ROWS, "what comes then"),
    F_LIST(struct today_answer, drying, &desc_task_view, TODAY_ROWS,
           "what is drying and until when"),
    F_LIST(struct today_answer, windows, &desc_task_view, TODAY_ROWS,
           "recoat windows that close within a day"),
    F_LIST(struct today_answer, outside, &desc_outside_row, OUTSIDE_ROWS,
           "what work of the next two weeks waits for from outside"),
    F_LIST(struct today_answer, around, &desc_task_view, AROUND_ROWS,
           "what is worked on or drying within 16 h of the first open task, done ones too"),
    F_TEXTS(struct today_answer, late, GATHER_PIECES,
            "pieces that come after the day they are promised for"),
    F_LIST(struct today_answer, waiting, &desc_waiting, TODAY_ROWS, "what waits for somebody"),
    {.name = "short",
     .offset = offsetof(struct today_answer, shorts),
     .count_offset = offsetof(struct today_answer, shorts_n),
     .type = FIELD_LIST,
     .of = &desc_short,
     .help = "what runs short over all jobs"},
};
static DESC(desc_today, struct today_answer, "today_answer", "What now.", today_fields);
struct now_args {
    int64_t now_utc_min;
    bool days_only;
};
static const struct field now_fields[] = {
    F_TIME(struct now_args, now, now_utc_min, FIELD_INSTANT, "as if it were this time"),
    F_BOOL(struct now_args, days_only, "leave out what runs short: it hangs on every recipe"),
};
static DESC(desc_now, struct now_args, "today_args", "When.", now_fields);

static void put(struct task_view *to, size_t *n, const struct task_view *t) {
    if (*n < TODAY_ROWS) to[(*n)++] = *t;
}

static int by_dry(const void *a, const void *b) {
    const struct task_view *x = a, *y = b;
    return x->dry_until_utc_min < y->dry_until_utc_min   ? -1
           : x->dry_until_utc_min > y->dry_until_utc_min ? 1
                                                         : strcmp(x->id, y->id);
}

static void sort_tasks(const struct days_view *v, struct today_answer *answer) {
    for (size_t i = 0; i < v->tasks_n; i++)
        if (v->tasks[i].state == TASK_BEGUN) put(answer->now, &answer->now_n, &v->tasks[i]);
    for (size_t i = 0; i < v->tasks_n; i++) {
        const struct task_view *t = &v->tasks[i];
        if (t->state == TASK_OPEN && !answer->now_n)
            put(answer->now, &answer->now_n, t);
        else if (t->state == TASK_OPEN && answer->next_n < NEXT_ROWS)
            put(answer->next, &answer->next_n, t);
        if (t->state != TASK_DONE) continue;
        if (t->dry_until_utc_min != INT64_MIN && t->dry_until_utc_min > v->now_utc_min)
            put(answer->drying, &answer->drying_n, t);
        bool soon = t->window_end_utc_min != INT64_MIN && t->window_end_utc_min > v->now_utc_min &&
                    t->window_end_utc_min - v->now_utc_min < WINDOW_SOON_MIN;
        if (soon && !days_followed(v, i)) put(answer->windows, &answer->windows_n, t);
    }
    qsort(answer->drying, answer->drying_n, sizeof *answer->drying, by_dry);
}

/* The day of the first open task on the shop's clock lies within; whoever draws it cuts it out. */
static void tasks_around(const struct days_view *v, struct today_answer *answer) {
    int64_t at = answer->now_n ? answer->now[0].start_utc_min : v->now_utc_min;
    for (size_t i = 0; i < v->tasks_n && answer->around_n < AROUND_ROWS; i++) {
        const struct task_view *t = &v->tasks[i];
        bool wet = t->dry_until_utc_min != INT64_MIN;
        if (t->start_utc_min < at + AROUND_MIN && t->end_utc_min != INT64_MIN &&
            (wet ? t->dry_until_utc_min : t->end_utc_min) > at - AROUND_MIN)
            answer->around[answer->around_n++] = *t;
    }
}

static void wait_add(struct today_answer *a, const char *piece, const char *title,
                     const char *client, bool stops, const char *text) {
    if (a->waiting_n < TODAY_ROWS && text)
        a->waiting[a->waiting_n++] = (struct waiting){piece, title, client, text, stops, false};
}

/* All its tasks are done: it leaves the days, and waits for whoever gets it. */
static bool is_done(const struct days_view *v, const char *piece) {
    bool any = false;
    for (size_t i = 0; i < v->tasks_n; i++) {
        if (strcmp(v->tasks[i].piece, piece)) continue;
        if (v->tasks[i].state != TASK_DONE) return false;
        any = true;
    }
    return any;
}

static const char *done_text(const struct piece_plan *p) {
    return p->piece.agreement.purpose == PURPOSE_SALE
               ? "Everything is done: offer it, and close it when it is sold."
           : p->piece.agreement.purpose == PURPOSE_OWN
               ? "Everything is done: close it with what it really took."
               : "Everything is done: hand it over, write down what is paid, and close it.";
}

static enum status find_waiting(struct op_call *call, const struct days_view *v,
                                struct today_answer *answer, struct why *why) {
    const struct plan *plan = &v->answer.plan;
    struct client_row *clients;
    size_t n;
    for (size_t i = 0; i < plan->pieces_n; i++) {
        const struct piece_plan *p = &plan->pieces[i];
        if (p->hazards.refused)
            wait_add(answer, p->id, p->title, NULL, true, p->hazards.refusal);
        else if (is_done(v, p->id))
            wait_add(answer, p->id, p->title, NULL, false, done_text(p));
        for (size_t k = 0; k < p->hazards.notices.n; k++)
            if (!p->hazards.refused && p->hazards.notices.rows[k].rank == RANK_STOP &&
                p->hazards.notices.rows[k].blocks)
                wait_add(answer, p->id, p->title, NULL, true, p->hazards.notices.rows[k].text);
    }
    for (size_t i = 0; i < v->gathered.left_out_n && answer->waiting_n < TODAY_ROWS; i++) {
        const struct left_out *l = &v->gathered.left_out[i];
        answer->waiting[answer->waiting_n++] =
            (struct waiting){.piece = l->id, .title = l->title, .text = l->text, .unplanned = true};
    }
    struct row_query q = {
        .where = "removed = 0 AND waits_for IS NOT NULL", .after = INT64_MIN, .limit = TODAY_ROWS};
    enum status s =
        row_list(call->book, &table_client, &q, call->arena, (void **)&clients, &n, NULL, why);
    for (size_t i = 0; !s && i < n; i++)
        wait_add(answer, NULL, NULL, clients[i].id, false,
                 arena_print(call->arena, "%s: %s", clients[i].name, clients[i].waits_for));
    return s;
}

static enum status today(struct op_call *call, struct why *why) {
    const struct now_args *args = call->args;
    struct today_answer *answer = call->result;
    struct days_view *v = arena_take(call->arena, sizeof *v);
    struct task_view *views = arena_array(call->arena, (size_t)TODAY_ROWS * 4, sizeof *views);
    answer->waiting = arena_array(call->arena, TODAY_ROWS, sizeof *answer->waiting);
    answer->around = arena_array(call->arena, AROUND_ROWS, sizeof *answer->around);
    if (!v || !views || !answer->waiting || !answer->around) return why_no_memory(why);
    answer->now = views, answer->next = views + TODAY_ROWS;
    answer->drying = views + TODAY_ROWS * 2, answer->windows = views + TODAY_ROWS * 3;
    enum status s = days_look(call, args->now_utc_min, !args->days_only, v, why);
    if (s) return s;
    answer->now_utc_min = v->now_utc_min;
    answer->pieces_open = (int64_t)v->gathered.job.pieces_n;
    sort_tasks(v, answer);
    tasks_around(v, answer);
    s = find_waiting(call, v, answer, why);
    if (!s) s = days_promises(call, v, &answer->late, &answer->late_n, why);
    if (!s) s = days_outside(call, v, OUTSIDE_DAYS, &answer->outside, &answer->outside_n, why);
    if (!s && !args->days_only)
        s = short_find(call, &v->gathered, &v->answer.plan, &answer->shorts, &answer->shorts_n,
                       why);
    if (!s) today_print(call, v, answer, &call->out_body);
    return s;
}

struct shopping_answer {
    struct list_answer list;
    double cost_cent;
    struct basis *bases;
    size_t bases_n;
};
static const struct field rows_fields[] = {
    F_ROWS(&desc_short),
    F_QTY(struct shopping_answer, cost, cost_cent, DIM_MONEY, 0, 0,
          "all of it, whole cans; left out where no price is known"),
    F_BASES(struct shopping_answer)};
static DESC(desc_rows, struct shopping_answer, "short_rows", "What is short over all jobs.",
            rows_fields);

static enum status shopping(struct op_call *call, struct why *why) {
    const struct why_args *args = call->args;
    struct shopping_answer *answer = call->result;
    struct gathered *g = arena_take(call->arena, sizeof *g);
    struct plan_answer *a = arena_take(call->arena, sizeof *a);
    struct plan_ask ask = {.now_utc_min = book_call_now(call), .no_days = true};
    struct short_row *rows = NULL;
    struct ledger l;
    ledger_init(&l, call->arena, args->why);
    if (!g || !a) return why_no_memory(why);
    enum status s = gather_job(call, NULL, true, g, why);
    desc_unsay(&desc_plan_answer, a);
    if (!s && g->job.pieces_n) s = gather_plan(call, g, NULL, &ask, a, why);
    if (!s) s = short_find(call, g, &a->plan, &rows, &answer->list.rows_n, why);
    answer->list.rows = rows;
    if (!s) answer->cost_cent = short_cost(&l, rows, answer->list.rows_n);
    if (!s) short_explain(&l, rows, answer->list.rows_n);
    if (!s && !args->why)
        shopping_print(call, rows, answer->list.rows_n, answer->cost_cent, &call->out_body);
    return s ? s : explain_done(call, &l, &answer->bases, &answer->bases_n, why);
}

static const struct op rows[] = {
    {"today", OP_GET, "/api/today", &desc_now, &desc_today, NULL, OP_READS | OP_SLOW,
     "what now, what dries, what waits, what runs short", today},
    {"shopping", OP_GET, "/api/shopping", &desc_why_args, &desc_rows, NULL, OP_READS | OP_SLOW,
     "what is short over all open jobs", shopping},
};
extern const struct ops ops_today;
const struct ops ops_today = {rows, sizeof rows / sizeof *rows};
