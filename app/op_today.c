/* Today: what now, what dries, what waits, what must not be missed, what runs short. */
#include "app/op_today.h"
#include "app/days_text.h"
#include "core/work/can_set.h"

#include <math.h>
#include <string.h>

enum { TODAY_ROWS = 40, NEXT_ROWS = 8, WINDOW_SOON_MIN = 24 * 60, SHORT_ROWS = 400 };

/* ---- what is short over all jobs ---- */

static const struct field short_fields[] = {
    F_TEXT(struct short_row, product, "id on the shelf, or the kind of product"),
    F_TEXT(struct short_row, name, "what it is"),
    F_TEXT(struct short_row, class, "kind of product"),
    F_QTY(struct short_row, need, need_ml, DIM_VOLUME, 0, 0, "to be mixed or poured, all pieces"),
    F_QTY(struct short_row, stock, stock_ml, DIM_VOLUME, 0, 0, "how much is left"),
    F_QTY(struct short_row, buy, buy_ml, DIM_VOLUME, 0, 0, "what is short"),
    F_INT(struct short_row, cans, 0, 1e6, "cans to buy; missing: it is not sold"),
    F_TEXT(struct short_row, cans_text, "the cheapest set that holds it: 1 gallon, 2 quarts"),
    F_QTY(struct short_row, cost, cost_cent, DIM_MONEY, 0, 0,
          "what the cans cost, where it is known"),
    F_BOOL(struct short_row, estimated,
           "the cost: one size is known, others go by what is usual between sizes"),
    F_TEXTS(struct short_row, pieces, GATHER_PIECES, "for which pieces"),
};
static DESC(desc_short, struct short_row, "short_row", "Something that runs short.", short_fields);

static const struct paint *on_shelf(const struct shelf *shelf, const char *id) {
    for (size_t i = 0; i < shelf->paints_n; i++)
        if (!strcmp(shelf->paints[i].id, id)) return &shelf->paints[i];
    return NULL;
}

struct short_list {
    struct arena *arena;
    struct short_row *rows;
    size_t n, pieces_most;
};

/* False without memory. */
static bool need_add(struct short_list *l, const char *product, const char *name, const char *class,
                     double need_ml, const char *piece) {
    size_t i = 0;
    if (!product || isnan(need_ml)) return true;
    while (i < l->n && strcmp(l->rows[i].product, product)) i++;
    if (i == SHORT_ROWS) return true;
    struct short_row *r = &l->rows[i];
    if (i == l->n) {
        *r = (struct short_row){.product = product, .name = name, .class = class};
        r->pieces = arena_array(l->arena, l->pieces_most, sizeof *r->pieces);
        if (!r->pieces) return false;
        l->n++;
    }
    r->need_ml += need_ml;
    if (!r->pieces_n || r->pieces[r->pieces_n - 1] != piece) r->pieces[r->pieces_n++] = piece;
    return true;
}

/* A color that is mixed here is needed as the paints that it is mixed from. */
static bool amount_add(struct short_list *l, const struct shelf *shelf, const struct piece_plan *p,
                       const struct amount *a) {
    double need_ml = isnan(a->mix_ml) ? a->need_ml : a->mix_ml;
    const struct color_plan *c = a->color_row > 0 ? &p->colors[a->color_row - 1] : &p->color;
    bool mixed = a->role == ROLE_COLOR && !(a->product && on_shelf(shelf, a->product)) &&
                 c->lines_n && c->parts > 0;
    if (!mixed)
        return need_add(l,
                        a->product ? a->product
                        : a->class ? a->class
                                   : a->name,
                        a->name, a->class, need_ml, p->title);
    for (size_t i = 0; i < c->lines_n; i++) {
        const struct recipe_line *line = &c->lines[i];
        if (!need_add(l, line->paint, line->name, a->class,
                      (need_ml - a->mixed_ml) * line->parts / (double)c->parts, p->title))
            return false;
    }
    return true;
}

/* Each piece alone may have enough; together they may not. */
static enum status find_short(struct op_call *call, const struct shelf *shelf,
                              const struct plan *plan, struct short_row **out_rows, size_t *out_n,
                              struct why *why) {
    struct short_list l = {call->arena, arena_array(call->arena, SHORT_ROWS, sizeof *l.rows), 0,
                           plan->pieces_n + 1};
    size_t kept = 0;
    if (!l.rows) return why_no_memory(why);
    for (size_t i = 0; i < plan->pieces_n; i++)
        for (size_t k = 0; k < plan->pieces[i].amounts.n; k++)
            if (!amount_add(&l, shelf, &plan->pieces[i], &plan->pieces[i].amounts.rows[k]))
                return why_no_memory(why);
    for (size_t i = 0; i < l.n; i++) {
        struct short_row r = l.rows[i];
        const struct paint *p = on_shelf(shelf, r.product);
        r.stock_ml = p && !isnan(p->stock_ml) ? p->stock_ml : 0;
        r.buy_ml = r.need_ml - r.stock_ml;
        if (r.buy_ml <= 0.5) continue; /* less than anybody can measure */
        struct can_set set =
            can_set_of(call->app->tables, call->arena, plan->shop.units, p, r.class, r.buy_ml);
        r.cans = set.cans ? set.cans : INT64_MIN;
        r.cans_text = set.text;
        r.cost_cent = set.cost_cent;
        r.estimated = set.estimated && !isnan(set.cost_cent);
        l.rows[kept++] = r;
    }
    *out_rows = l.rows, *out_n = kept;
    return OK;
}

/* ---- today ---- */

static const struct field waiting_fields[] = {
    F_TEXT(struct waiting, piece, "id of the piece"),
    F_TEXT(struct waiting, title, "what the piece is called"),
    F_TEXT(struct waiting, client, "id of the client"),
    F_TEXT(struct waiting, text, "what it waits for"),
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
    F_LIST(struct today_answer, waiting, &desc_waiting, TODAY_ROWS, "what waits for somebody"),
    {.name = "short",
     .offset = offsetof(struct today_answer, shorts),
     .count_offset = offsetof(struct today_answer, shorts_n),
     .type = FIELD_LIST,
     .of = &desc_short,
     .items_max = SHORT_ROWS,
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
}

static void wait_add(struct today_answer *a, const char *piece, const char *title,
                     const char *client, const char *text) {
    if (a->waiting_n < TODAY_ROWS && text)
        a->waiting[a->waiting_n++] = (struct waiting){piece, title, client, text};
}

static enum status find_waiting(struct op_call *call, const struct days_view *v,
                                struct today_answer *answer, struct why *why) {
    const struct plan *plan = &v->answer.plan;
    struct client_row *clients;
    size_t n;
    for (size_t i = 0; i < plan->pieces_n; i++) {
        const struct piece_plan *p = &plan->pieces[i];
        if (p->hazards.refused) wait_add(answer, p->id, p->title, NULL, p->hazards.refusal);
        for (size_t k = 0; k < p->hazards.notices.n; k++)
            if (!p->hazards.refused && p->hazards.notices.rows[k].rank == RANK_STOP &&
                p->hazards.notices.rows[k].blocks)
                wait_add(answer, p->id, p->title, NULL, p->hazards.notices.rows[k].text);
    }
    for (size_t i = 0; i < v->gathered.left_out_n; i++)
        wait_add(answer, v->gathered.left_out[i].id, v->gathered.left_out[i].title, NULL,
                 v->gathered.left_out[i].text);
    struct row_query q = {
        .where = "removed = 0 AND waits_for IS NOT NULL", .after = INT64_MIN, .limit = TODAY_ROWS};
    enum status s =
        row_list(call->book, &table_client, &q, call->arena, (void **)&clients, &n, NULL, why);
    for (size_t i = 0; !s && i < n; i++)
        wait_add(answer, NULL, NULL, clients[i].id,
                 arena_print(call->arena, "%s: %s", clients[i].name, clients[i].waits_for));
    return s;
}

static enum status today(struct op_call *call, struct why *why) {
    const struct now_args *args = call->args;
    struct today_answer *answer = call->result;
    struct days_view *v = arena_take(call->arena, sizeof *v);
    struct task_view *views = arena_array(call->arena, (size_t)TODAY_ROWS * 4, sizeof *views);
    answer->waiting = arena_array(call->arena, TODAY_ROWS, sizeof *answer->waiting);
    if (!v || !views || !answer->waiting) return why_no_memory(why);
    answer->now = views, answer->next = views + TODAY_ROWS;
    answer->drying = views + TODAY_ROWS * 2, answer->windows = views + TODAY_ROWS * 3;
    enum status s = days_look(call, args->now_utc_min, !args->days_only, v, why);
    if (s) return s;
    answer->now_utc_min = v->now_utc_min;
    answer->pieces_open = (int64_t)v->gathered.job.pieces_n;
    sort_tasks(v, answer);
    s = find_waiting(call, v, answer, why);
    if (!s && !args->days_only)
        s = find_short(call, &v->gathered.job.shelf, &v->answer.plan, &answer->shorts,
                       &answer->shorts_n, why);
    if (!s) today_print(call, v, answer, &call->out_body);
    return s;
}

static const struct field rows_fields[] = {F_ROWS(&desc_short)};
static DESC(desc_rows, struct list_answer, "short_rows", "What is short over all jobs.",
            rows_fields);

static enum status shopping(struct op_call *call, struct why *why) {
    struct list_answer *answer = call->result;
    struct gathered *g = arena_take(call->arena, sizeof *g);
    struct plan_answer *a = arena_take(call->arena, sizeof *a);
    struct plan_ask ask = {.now_utc_min = book_call_now(call), .no_days = true};
    struct short_row *rows = NULL;
    if (!g || !a) return why_no_memory(why);
    enum status s = gather_job(call, NULL, true, g, why);
    desc_unsay(&desc_plan_answer, a);
    if (!s && g->job.pieces_n) s = gather_plan(call, g, NULL, &ask, a, why);
    if (!s) s = find_short(call, &g->job.shelf, &a->plan, &rows, &answer->rows_n, why);
    answer->rows = rows;
    return s;
}

static const struct op rows[] = {
    {"today", OP_GET, "/api/today", &desc_now, &desc_today, NULL, OP_READS | OP_SLOW,
     "what now, what dries, what waits, what runs short", today},
    {"shopping", OP_GET, "/api/shopping", NULL, &desc_rows, NULL, OP_READS | OP_SLOW,
     "what is short over all open jobs", shopping},
};
extern const struct ops ops_today;
const struct ops ops_today = {rows, sizeof rows / sizeof *rows};
