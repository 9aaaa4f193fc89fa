#include "app/days_text.h"

#include "app/days_words.h"
#include "codec/time_text.h"
#include "codec/units_text.h"

#include <math.h>
#include <string.h>

enum { CLOCK_TO = 10, WORDS_FROM = 12, DAY_TO = 21 }; /* Fri, Nov 27, 10:07 am */

static void blanks(struct text *out, size_t n) {
    for (; n > 0; n--) text_add(out, " ", 1);
}

/* As many bytes of whole words as take at most so many columns; the first word always. */
static size_t words_within(const char *text, size_t columns) {
    size_t n = strcspn(text, " ");
    for (size_t more = n; text[more]; n = more) {
        more += strspn(text + more, " ");
        more += strcspn(text + more, " ");
        if (text_columns(text, more) > columns) break;
    }
    return n;
}

/* `left`, with `right` at the edge of its first line. */
static void both_edges(struct text *out, size_t at, const char *left, const char *right) {
    if (!right || !left) {
        text_wrap(out, at, at, left);
        return;
    }
    size_t r = text_columns(right, strlen(right)), taken = at + 2 + r, width = text_width(out),
           room = taken < width ? width - taken : 0, n = words_within(left, room),
           l = text_columns(left, n);
    text_add(out, left, n);
    blanks(out, l < room ? room - l + 2 : 2);
    text_print(out, "%s\n", right);
    left += n + strspn(left + n, " ");
    if (!*left) return;
    blanks(out, at);
    text_wrap(out, at, at, left);
}

static const char *dry_words(const struct days_clock *c, const struct task_view *t) {
    if (t->dry_until_utc_min == INT64_MIN || t->dry_until_utc_min <= t->end_utc_min) return NULL;
    bool same = days_local_day(c, t->dry_until_utc_min) == days_local_day(c, t->start_utc_min);
    const char *until =
        same ? days_hour(c, t->dry_until_utc_min) : days_when(c, t->dry_until_utc_min);
    return t->window_end_utc_min == INT64_MIN
               ? arena_print(c->arena, "%s %s.", day_dries(t->operation) ? "Dry" : "Over", until)
               : arena_print(c->arena, "Dry %s; next coat without scuffing until %s.", until,
                             days_when(c, t->window_end_utc_min));
}

static const char *stack_words(const struct days_clock *c, const struct task_view *t) {
    if (t->stack_utc_min == INT64_MIN || !t->stack_how) return NULL;
    bool same = days_local_day(c, t->stack_utc_min) == days_local_day(c, t->start_utc_min);
    return arena_print(c->arena, "May be stacked from %s, %s.",
                       same ? days_hour(c, t->stack_utc_min) : days_when(c, t->stack_utc_min),
                       t->stack_how);
}

/* All that is to be known of a task, as one paragraph. */
static const char *sentences(const struct days_clock *c, const struct task_view *t) {
    const char *const all[] = {
        t->setup_min > 0 ? arena_print(c->arena, "Get ready from %s.",
                                       days_hour(c, t->start_utc_min - (int64_t)t->setup_min))
                         : NULL,
        dry_words(c, t), stack_words(c, t), t->held_by, t->note};
    const char *text = NULL;
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        if (all[i]) text = text ? arena_print(c->arena, "%s %s", text, all[i]) : all[i];
    return text;
}

/* more: stands under the name; NULL: nothing. */
static void task(const struct days_clock *c, const struct task_view *t, const char *more,
                 struct text *out) {
    const char *clock = days_hour(c, t->start_utc_min);
    const char *span = t->hands_min > 0 ? days_span(c, t->hands_min) : NULL;
    const char *name = t->person ? arena_print(c->arena, "%s (%s)", t->name, t->person) : t->name;
    size_t n = text_columns(clock, strlen(clock));
    blanks(out, n < CLOCK_TO ? CLOCK_TO - n : 0);
    text_print(out, "%s  ", clock);
    both_edges(out, WORDS_FROM, name ? name : t->id,
               t->state == TASK_BEGUN  ? "begun"
               : t->state == TASK_DONE ? "done"
                                       : span);
    if (more) {
        blanks(out, WORDS_FROM);
        text_wrap(out, WORDS_FROM, WORDS_FROM, more);
    }
    const char *words = t->state == TASK_DONE ? NULL : sentences(c, t);
    if (!words) return;
    blanks(out, WORDS_FROM);
    text_wrap(out, WORDS_FROM, WORDS_FROM, words);
}

static void day_head(const struct days_clock *c, const struct days_view *v, size_t at,
                     struct text *out) {
    int64_t day = days_local_day(c, v->tasks[at].start_utc_min);
    double hands = 0;
    for (size_t i = at; i < v->tasks_n; i++) {
        if (days_local_day(c, v->tasks[i].start_utc_min) != day) break;
        if (v->tasks[i].state != TASK_DONE) hands += fmax(v->tasks[i].hands_min, 0);
    }
    text_print(out, "\n");
    both_edges(out, 0, days_day(c, day), arena_print(c->arena, "%s of work", days_span(c, hands)));
    for (size_t i = 0; i < text_width(out); i++) text_add(out, "-", 1);
    text_add(out, "\n", 1);
}

static void summary(const struct days_clock *c, const struct days_view *v, struct text *out) {
    const struct days *d = &v->answer.plan.days;
    size_t left = 0;
    for (size_t i = 0; i < v->tasks_n; i++) left += v->tasks[i].state != TASK_DONE;
    const char *line = arena_print(c->arena, "%zu %s, %zu %s. %s", v->answer.plan.pieces_n,
                                   v->answer.plan.pieces_n == 1 ? "piece" : "pieces", left,
                                   left == 1 ? "task" : "tasks", days_order(c, v));
    text_wrap(out, 0, 0, line);
    if (days_clock_change(c, v)) text_wrap(out, 0, 0, days_clock_change(c, v));
    if (d->shared_n)
        text_wrap(out, 0, 0,
                  arena_print(c->arena,
                              "%lld %s with a tool that is still wet: %s of set-up and clean-up "
                              "saved.",
                              (long long)d->shared_n,
                              d->shared_n == 1 ? "coat goes on" : "coats go on",
                              days_span(c, d->saved_min)));
}

void days_print(struct op_call *call, const struct days_view *v, const struct days_said *said,
                struct text *out) {
    struct days_clock c;
    if (days_clock_make(call, v, &c, NULL)) return;
    if (v->tasks_n)
        summary(&c, v, out);
    else
        text_print(out, said->left_out_n
                            ? "No day is planned.\n"
                            : "No day is planned. Enter a piece: coatwright piece add.\n");
    if (v->gathered.cut) {
        text_print(out, "! ");
        text_wrap(out, 2, 2,
                  "Not every open piece is in these days. Those promised first are, then those "
                  "longest in the book.");
    }
    for (size_t i = 0; i < said->promises_n; i++) {
        text_print(out, "! ");
        text_wrap(out, 2, 2, said->promises[i]);
    }
    for (size_t i = 0; i < said->outside_n; i++) {
        text_print(out, "! ");
        outside_print(&c, &said->outside[i], out);
    }
    for (size_t i = 0; i < said->left_out_n; i++) {
        text_print(out, "! ");
        text_wrap(out, 2, 2, said->left_out[i]);
    }
    if (v->answer.plan.days.blocked_by) {
        text_print(out, "! ");
        text_wrap(out, 2, 2, v->answer.plan.days.blocked_by);
    }
    for (size_t i = 0; i < v->answer.plan.days.gates.n; i++) {
        text_print(out, "! ");
        text_wrap(out, 2, 2, v->answer.plan.days.gates.rows[i].text);
    }
    for (size_t i = 0; i < v->tasks_n; i++) {
        const struct task_view *t = &v->tasks[i], *was = i ? &v->tasks[i - 1] : NULL;
        bool new_day =
            !was || days_local_day(&c, was->start_utc_min) != days_local_day(&c, t->start_utc_min);
        if (new_day) day_head(&c, v, i, out);
        if (new_day || strcmp(was->piece, t->piece)) {
            text_print(out, "  ");
            text_wrap(out, 2, 2, t->piece_title ? t->piece_title : t->piece);
        }
        task(&c, t, said->ids ? t->id : NULL, out);
    }
    if (v->answer.plan.days.deliver_utc_min != INT64_MIN)
        text_print(out, "\nAll may be handed over %s.\n",
                   days_when(&c, v->answer.plan.days.deliver_utc_min));
}

/* ---- today ---- */

static void heading(struct text *out, const char *words) {
    text_print(out, "\n%s\n", words);
}

static void now_print(const struct days_clock *c, const struct today_answer *a, struct text *out) {
    const struct task_view *t = &a->now[0];
    if (!a->now_n) {
        text_print(out, "Nothing for your hands now.\n");
        return;
    }
    bool later = t->start_utc_min > a->now_utc_min + 5;
    text_wrap(out, 0, 0,
              later
                  ? arena_print(c->arena, "Next, %s: %s", days_when(c, t->start_utc_min), t->name)
                  : arena_print(c->arena, "Now, to %s: %s", days_hour(c, t->end_utc_min), t->name));
    text_print(out, "  ");
    text_wrap(out, 2, 2,
              arena_print(c->arena, "%s, %s.", t->piece_title ? t->piece_title : t->piece,
                          days_span(c, t->hands_min)));
    const char *words = sentences(c, t);
    if (words) {
        text_print(out, "  ");
        text_wrap(out, 2, 2, words);
    }
    text_print(out, "  When it is done: coatwright task done %s\n", t->id);
}

static void row(const struct days_clock *c, int64_t at, int64_t now, const char *what,
                const char *right, struct text *out) {
    bool today = days_local_day(c, at) == days_local_day(c, now);
    const char *clock = today ? days_hour(c, at) : days_when(c, at);
    size_t n = text_columns(clock, strlen(clock)), to = today ? CLOCK_TO : DAY_TO;
    blanks(out, n < to ? to - n : 0);
    text_print(out, "%s  ", clock);
    both_edges(out, (n < to ? to : n) + 2, what, right);
}

static const char *with_piece(const struct days_clock *c, const struct task_view *t) {
    return arena_print(c->arena, "%s: %s", t->piece_title ? t->piece_title : t->piece, t->name);
}

static void short_print(const struct days_clock *c, const struct short_row *r, struct text *out) {
    char buy[64], cost[64];
    units_print(DIM_VOLUME, c->units, r->buy_ml, buy, sizeof buy);
    const char *line = arena_print(c->arena, "%s of %s", buy, r->name ? r->name : r->product);
    if (r->cans_text) line = arena_print(c->arena, "%s: %s", line, r->cans_text);
    if (r->cans_text && !isnan(r->cost_cent)) {
        units_print(DIM_MONEY, c->units, r->cost_cent, cost, sizeof cost);
        line = arena_print(c->arena, "%s, %s%s", line, r->estimated ? "about " : "", cost);
    }
    text_print(out, "  ");
    text_wrap(out, 2, 4, line);
}

void shopping_print(struct op_call *call, const struct short_row *rows, size_t n, double cost_cent,
                    struct text *out) {
    struct days_clock c;
    if (days_clock_of_shop(call, &c, NULL)) return;
    for (size_t i = 0; i < n; i++) {
        const char *pieces = "For";
        short_print(&c, &rows[i], out);
        for (size_t k = 0; k < rows[i].pieces_n; k++)
            pieces = arena_print(c.arena, "%s %s%s", pieces, rows[i].pieces[k],
                                 k + 1 < rows[i].pieces_n ? ";" : ".");
        text_print(out, "    ");
        text_wrap(out, 4, 4, pieces);
    }
    if (n && !isnan(cost_cent))
        text_print(out, "In all %s.\n", units_text(c.arena, DIM_MONEY, c.units, cost_cent));
}

void today_print(struct op_call *call, const struct days_view *v, const struct today_answer *a,
                 struct text *out) {
    struct days_clock c;
    if (days_clock_make(call, v, &c, NULL)) return;
    text_print(out, "%s\n\n", days_when(&c, a->now_utc_min));
    now_print(&c, a, out);
    if (a->late_n) heading(out, "Late");
    for (size_t i = 0; i < a->late_n; i++) {
        text_print(out, "  ");
        text_wrap(out, 2, 4, a->late[i]);
    }
    if (a->windows_n) heading(out, "Must not be missed");
    for (size_t i = 0; i < a->windows_n; i++)
        row(&c, a->windows[i].window_end_utc_min, a->now_utc_min, with_piece(&c, &a->windows[i]),
            NULL, out);
    if (a->drying_n) heading(out, "Drying");
    for (size_t i = 0; i < a->drying_n; i++)
        row(&c, a->drying[i].dry_until_utc_min, a->now_utc_min, with_piece(&c, &a->drying[i]), NULL,
            out);
    if (a->next_n) heading(out, "After this");
    for (size_t i = 0; i < a->next_n; i++)
        row(&c, a->next[i].start_utc_min, a->now_utc_min, with_piece(&c, &a->next[i]),
            days_span(&c, a->next[i].hands_min), out);
    if (a->waiting_n || a->outside_n) heading(out, "Waits");
    for (size_t i = 0; i < a->outside_n; i++) {
        text_print(out, "  ");
        outside_print(&c, &a->outside[i], out);
    }
    for (size_t i = 0; i < a->waiting_n; i++) {
        const struct waiting *w = &a->waiting[i];
        text_print(out, "  ");
        text_wrap(out, 2, 4,
                  w->title ? arena_print(c.arena, "%s: %s", w->title, w->text) : w->text);
    }
    if (a->shorts_n) heading(out, "Buy, over all pieces");
    for (size_t i = 0; i < a->shorts_n; i++) short_print(&c, &a->shorts[i], out);
}
